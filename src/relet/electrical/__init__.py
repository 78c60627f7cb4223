"""Floor: electrical."""

"""Floor: web."""

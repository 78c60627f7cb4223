"""Floor: planning."""

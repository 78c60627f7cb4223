"""Floor: readings."""

"""Floor: checks."""

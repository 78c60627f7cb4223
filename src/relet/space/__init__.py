"""Floor: space."""

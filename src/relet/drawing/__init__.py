"""Floor: drawing."""

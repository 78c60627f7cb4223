"""Floor: files."""

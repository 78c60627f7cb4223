"""Floor: tables."""

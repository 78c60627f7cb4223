"""Floor: codes."""

"""Floor: pricing."""

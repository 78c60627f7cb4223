"""Floor: model."""

"""Floor: documents."""

"""Floor: changeover."""

"""Floor: schedules."""

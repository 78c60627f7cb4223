"""Commands."""


def main() -> None:
    """Entry point."""

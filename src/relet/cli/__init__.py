"""Commands. Thin: each reads, calls one floor and tells what came back."""

from __future__ import annotations

import sys


def main() -> None:
    """Entry point of the `relet` command: no traceback for bad input, exit 2 instead."""
    from relet.cli.app import app
    from relet.errors import ReletError

    try:
        app()
    except ReletError as e:
        print(e, file=sys.stderr)
        raise SystemExit(2) from None
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        raise SystemExit(130) from None
    except BrokenPipeError:
        sys.stderr.close()
        raise SystemExit(0) from None

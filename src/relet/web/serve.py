"""Serve the pages on this machine alone."""

from __future__ import annotations

import socket
from typing import Final

from relet.errors import InputError
from relet.web.app import create_app
from relet.web.showcase import Showcase

ADDRESS: Final = "127.0.0.1"
PORT: Final = 8017


def serve(shown: Showcase, port: int = PORT) -> None:
    """Serve until interrupted.

    port    0 lets the system choose
    raises  InputError: the port is taken or may not be used
    """
    import uvicorn

    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as held:
        held.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            held.bind((ADDRESS, port))
        except (OSError, OverflowError) as e:
            why = (getattr(e, "strerror", None) or str(e)).lower()
            raise InputError(f"port {port} cannot be used ({why}). Name another with --port.") from e
        config = uvicorn.Config(create_app(shown), log_level="warning", server_header=False, date_header=False)
        uvicorn.Server(config).run(sockets=[held])


def address(port: int = PORT) -> str:
    """Where the pages are."""
    return f"http://{ADDRESS}:{port}/"

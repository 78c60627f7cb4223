"""The web floor: read-only pages of one unit."""

from relet.web.app import create_app
from relet.web.serve import PORT, address, serve
from relet.web.showcase import Showcase, showcase

__all__ = ["PORT", "Showcase", "address", "create_app", "serve", "showcase"]

"""The application: pages of one unit, read only."""

from __future__ import annotations

from collections.abc import Callable
from importlib import resources

from fastapi import FastAPI, Request, Response
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, RedirectResponse
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.middleware.trustedhost import TrustedHostMiddleware

from relet import __version__
from relet.drawing import page_css
from relet.web import api
from relet.web.links import of
from relet.web.pages import PAGES
from relet.web.pages.problem import problem
from relet.web.safety import HEADERS, HOSTS, Headers
from relet.web.showcase import Showcase
from relet.web.site import HERE, Site

_FOR_A_DAY = {"cache-control": "public, max-age=86400"}


def create_app(shown: Showcase, *, hosts: tuple[str, ...] = HOSTS) -> FastAPI:
    """Pages and JSON of one unit.

    hosts  names under which it answers; anything else is refused
    """
    app = FastAPI(
        title="relet", version=__version__, docs_url=None, redoc_url=None, openapi_url="/api/openapi.json",
        description="One unit, read only: findings, change and design as data.",
    )  # fmt: skip
    site = Site(shown)
    app.add_middleware(GZipMiddleware, minimum_size=1024)
    app.add_middleware(TrustedHostMiddleware, allowed_hosts=list(hosts), www_redirect=False)
    app.add_middleware(Headers)
    _errors(app, site)
    _files(app)

    @app.api_route("/", methods=["GET", "HEAD"], include_in_schema=False)
    def start() -> Response:
        return RedirectResponse(of(site.views[0].id), status_code=307)

    app.include_router(api.routes(site))
    for page in PAGES:
        app.include_router(page(site), prefix="/of/{case}", include_in_schema=False)
    return app


def _errors(app: FastAPI, site: Site) -> None:
    @app.exception_handler(HTTPException)
    async def told(request: Request, e: HTTPException) -> Response:
        return _answer(request, e.status_code, str(e.detail))

    @app.exception_handler(RequestValidationError)
    async def not_understood(request: Request, e: RequestValidationError) -> Response:
        first = e.errors()[0]
        where = ".".join(str(p) for p in first["loc"][1:])
        return _answer(request, 422, f"{where}: {first['msg'].lower()}, found {first.get('input')!r}.")

    @app.exception_handler(Exception)
    async def failed(request: Request, e: Exception) -> Response:
        answer = _answer(request, 500, "This page could not be made. That is a fault of the tool, not of your file.")
        answer.headers.update(HEADERS)  # this answer is given outside the middleware
        return answer

    def _answer(request: Request, status: int, detail: str) -> Response:
        if request.url.path.startswith("/api/"):
            return JSONResponse({"error": {"status": status, "what": detail}}, status_code=status)
        return problem(site, status, detail)


def _files(app: FastAPI) -> None:
    """Style, font and sign, from the package alone."""
    style = (HERE / "shared" / "style.css").read_text(encoding="utf-8") + "\n" + page_css()
    font = resources.files("relet.drawing.fonts").joinpath("IBMPlexSans.woff2").read_bytes()
    sign = (HERE / "shared" / "sign.svg").read_bytes()
    held: dict[str, tuple[bytes, str]] = {
        "/static/style.css": (style.encode(), "text/css; charset=utf-8"),
        "/static/plex.woff2": (font, "font/woff2"),
        "/static/sign.svg": (sign, "image/svg+xml"),
        "/favicon.ico": (sign, "image/svg+xml"),
    }
    for path, (content, kind) in held.items():
        app.add_api_route(path, _file(content, kind), methods=["GET", "HEAD"], include_in_schema=False)


def _file(content: bytes, kind: str) -> Callable[[], Response]:
    def give() -> Response:
        return Response(content, media_type=kind, headers=_FOR_A_DAY)

    return give

"""The pages in the system's Chromium, served on this machine from the hand-made sample."""

from __future__ import annotations

import os
import shutil
import socket
import sys
import threading
import time
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent.parent / "unit"))

FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip


def chromium() -> str:
    """The system's Chromium. Where there is none: a failure in CI, a skip elsewhere."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None and os.environ.get("CI") == "true":
        pytest.fail("the browser tests need the system's Chromium, and CI has none")
    if found is None:
        pytest.skip("no Chromium on this machine")
    return found


@pytest.fixture(scope="session")
def address():
    """Where the sample's pages are."""
    import uvicorn
    from limekiln_sample import dossiers

    from relet.web import create_app, showcase

    with socket.socket() as held:
        held.bind(("127.0.0.1", 0))
        server = uvicorn.Server(uvicorn.Config(create_app(showcase(*dossiers())), log_level="error"))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [held]}, daemon=True)
        thread.start()
        while not server.started and thread.is_alive():
            time.sleep(0.01)
        yield f"http://127.0.0.1:{held.getsockname()[1]}"
        server.should_exit = True
        thread.join(5)


@pytest.fixture(scope="session")
def browser():
    """One browser for all tests."""
    program = chromium()
    from playwright.sync_api import sync_playwright

    with sync_playwright() as p:
        one = p.chromium.launch(executable_path=program, args=FLAGS)
        yield one
        one.close()


@pytest.fixture
def open_page(browser, address):
    """Open a path at a width, in light or dark; what the page says on its console is kept in `page.said`."""
    contexts = []

    def opened(path, width=1280, scheme="light", media="screen"):
        context = browser.new_context(
            viewport={"width": width, "height": 800}, color_scheme=scheme, reduced_motion="reduce"
        )
        contexts.append(context)
        page = context.new_page()
        page.said, page.asked = [], []
        page.on("console", lambda m: page.said.append(m.text))
        page.on("request", lambda r: page.asked.append(r.url))
        page.emulate_media(media=media, color_scheme=scheme)
        page.goto(address + path, wait_until="load")
        page.evaluate("document.fonts.ready.then(() => true)")
        return page

    yield opened
    for context in contexts:
        context.close()

"""Make the pictures of the README again: plan and diagram of the demo, the first page of the PDF, the page served."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
import time
from base64 import b64encode
from pathlib import Path
from urllib.request import urlopen

from playwright.sync_api import sync_playwright

from relet.drawing.fonts import font_files

ROOT = Path(__file__).parents[1]
PICTURES = ROOT / "docs" / "pictures"
RELET = Path(sys.executable).with_name("relet")
UNIT = ROOT / "examples" / "limekiln_yard" / "unit_7.toml"
PORT = 8137
FONT = b64encode(font_files("paper")[0].read_bytes()).decode()
FACE = f"@font-face{{font-family:'IBM Plex Sans';src:url(data:font/ttf;base64,{FONT})}}"
LOOK = "svg{width:1400px;height:auto}body{margin:0;background:#fff}"
SHOTS = (("page", 1280, "light"), ("page_dark", 1280, "dark"), ("page_phone", 360, "light"))
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
ARGS = [
    "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update",
    "--disable-sync", "--no-first-run",
]  # fmt: skip


def main() -> None:
    """Make every picture."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as name:
        out = Path(name)
        subprocess.run([RELET, "demo", str(out), "-q"], check=True, stdout=subprocess.DEVNULL)
        subprocess.run(
            [
                "pdftoppm", "-r", "60", "-f", "1", "-l", "1", "-png", "-singlefile", out / "harbour_proposal.pdf",
                PICTURES / "proposal",
            ],
            check=True,
        )  # fmt: skip
        server = subprocess.Popen(
            [RELET, "serve", UNIT, "--plan", out / "unit_7.plan.toml", "--port", str(PORT)], stdout=subprocess.DEVNULL
        )
        try:
            _wait()
            with sync_playwright() as p:
                browser = p.chromium.launch(executable_path=CHROMIUM, args=ARGS)
                for stem in ("plan", "single_line"):
                    page = browser.new_page(viewport={"width": 1400, "height": 900})
                    svg = (out / f"harbour_{stem}.svg").read_text(encoding="utf-8")
                    page.set_content(f"<style>{FACE}{LOOK}</style>{svg}")
                    page.locator("svg").first.screenshot(path=PICTURES / f"{stem}.png")
                for stem, width, scheme in SHOTS:
                    context = browser.new_context(viewport={"width": width, "height": 1400}, color_scheme=scheme)  # type: ignore[arg-type]
                    page = context.new_page()
                    page.goto(f"http://127.0.0.1:{PORT}/of/harbour")
                    page.screenshot(path=PICTURES / f"{stem}.png")
                browser.close()
        finally:
            server.terminate()


def _wait() -> None:
    for _ in range(120):
        try:
            urlopen(f"http://127.0.0.1:{PORT}/", timeout=2)
            return
        except OSError:
            time.sleep(0.5)
    raise SystemExit("the page did not come up")


if __name__ == "__main__":
    main()

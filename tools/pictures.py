"""Pictures for README.md of what is no SVG: the pages in a browser, and the paper template.

``python -m tools.pictures PAGE TEMPLATE FOLDER`` writes ``page.png``, ``template.png`` and, of the
spec in FOLDER on the live page, ``hone.png``.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pypdfium2
from PIL import Image
from playwright.sync_api import sync_playwright

SIZE = {"width": 1180, "height": 820}  # CSS pixels: the tools beside four rings in a row
DOTS = 60 / 72  # of a template, dots to the point
TONES = 96


@contextmanager
def shown(address: str) -> Iterator[Any]:
    """Yield the page at *address*, open in a browser."""
    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=shutil.which("chromium"),
            args=["--no-sandbox", "--force-color-profile=srgb", "--hide-scrollbars"],
        )
        page = browser.new_page(viewport=SIZE, device_scale_factor=1.5)  # type: ignore[arg-type]
        page.goto(address)
        yield page
        browser.close()


def page_png(path: Path) -> bytes:
    """Return the top of the page of a sheet as a reader sees it who has circled two rings."""
    with shown(path.resolve().as_uri()) as page:
        for mark in ("A2", "A4"):
            page.get_by_role("button", name=f"Circle {mark}", exact=True).click()
        page.mouse.move(0, 0)
        page.evaluate("scrollTo(0, 0)")
        page.wait_for_timeout(800)  # the pencil has drawn its circles
        return small(Image.open(BytesIO(page.screenshot())))


def hone_png(spec: Path) -> bytes:
    """Return the live page of *spec* when its rib has been turned, and all is drawn."""
    with (
        TemporaryDirectory() as folder,
        hone(Path(folder), spec) as address,
        shown(address) as page,
    ):
        measured = "#readings [data-key=rib]:not(.old)"
        page.wait_for_selector(measured)
        page.fill('[id="c-web.rib"]', "2.3")
        page.press('[id="c-web.rib"]', "Enter")
        page.locator("#families small").filter(has_text=" g").nth(5).wait_for()
        page.wait_for_selector("#readings [data-key=stiff]:not(.old)")
        page.wait_for_selector(measured)
        page.mouse.move(700, 400)
        page.mouse.wheel(0, -2000)
        page.wait_for_timeout(300)
        return small(Image.open(BytesIO(page.screenshot())))


@contextmanager
def hone(folder: Path, spec: Path) -> Iterator[str]:
    """Yield the address of a server of a copy of *spec* in *folder*."""
    own = shutil.copy(spec, folder / "harbour.toml")
    command = [sys.executable, "-m", "openwork", "hone", own, "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        yield process.stdout.readline().strip()
        process.terminate()


def template_png(template: Path) -> bytes:
    """Return the first page of the PDF *template* as PNG."""
    return small(pypdfium2.PdfDocument(template)[0].render(scale=DOTS * 2).to_pil())


def small(picture: Any) -> bytes:
    """Return *picture* as PNG in few tones."""
    written = BytesIO()
    # The octree keeps rare colours: the red of the pencil.
    few = picture.convert("RGB").quantize(TONES, Image.Quantize.FASTOCTREE, dither=0)
    few.save(written, "PNG", optimize=True)
    return written.getvalue()


def main(page: str, template: str, folder: str) -> None:
    """Write the pictures into *folder*; without a browser only that of the template."""
    into = Path(folder)
    (into / "template.png").write_bytes(template_png(Path(template)))
    if shutil.which("chromium"):
        (into / "page.png").write_bytes(page_png(Path(page)))
        (into / "hone.png").write_bytes(hone_png(into / "spec.toml"))
    else:
        print("*** NO BROWSER: page.png and hone.png stay as they are ***", file=sys.stderr)


if __name__ == "__main__":
    main(*sys.argv[1:])

"""Pictures for README.md of what is no SVG: the page in a browser, and the paper template.

``python -m tools.pictures PAGE TEMPLATE FOLDER`` writes ``page.png`` and ``template.png``.
"""

from __future__ import annotations

import shutil
import sys
from io import BytesIO
from pathlib import Path
from typing import Any

import pypdfium2
from PIL import Image
from playwright.sync_api import sync_playwright

SIZE = {"width": 1180, "height": 820}  # CSS pixels: the tools beside four rings in a row
DOTS = 60 / 72  # of a template, dots to the point
TONES = 96


def page_png(page: Path) -> bytes:
    """Return the top of *page* as a reader sees it who has circled two rings, as PNG."""
    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=shutil.which("chromium"),
            args=["--no-sandbox", "--force-color-profile=srgb", "--hide-scrollbars"],
        )
        shown = browser.new_page(viewport=SIZE, device_scale_factor=1.5)  # type: ignore[arg-type]
        shown.goto(page.resolve().as_uri())
        for mark in ("A2", "A4"):
            shown.get_by_role("button", name=f"Circle {mark}", exact=True).click()
        shown.mouse.move(0, 0)
        shown.evaluate("scrollTo(0, 0)")
        shown.wait_for_timeout(800)  # the pencil has drawn its circles
        picture = shown.screenshot()
        browser.close()
    return small(Image.open(BytesIO(picture)))


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
    else:
        print("*** NO BROWSER: page.png stays as it is ***", file=sys.stderr)


if __name__ == "__main__":
    main(*sys.argv[1:])

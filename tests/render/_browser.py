"""A browser as a second renderer of SVG."""

import io
from typing import TYPE_CHECKING, Any

import numpy as np
from PIL import Image

if TYPE_CHECKING:
    from playwright.sync_api import Browser


def browser_pixels(browser: "Browser", texts: list[str], width: int) -> Any:
    """Return the pictures (width, width, 3) that a browser makes of square SVG *texts* on white."""
    found = []
    page = browser.new_page(viewport={"width": width, "height": width})
    for text in texts:
        svg = text.partition("?>")[2]
        size = f"width:{width}px;height:{width}px"
        style = f"<style>body{{margin:0;overflow:hidden}}svg{{display:block;{size}}}</style>"
        page.set_content(f"<!doctype html>{style}{svg}")
        data = page.screenshot()
        found.append(np.asarray(Image.open(io.BytesIO(data)).convert("RGB")))
    page.close()
    return found

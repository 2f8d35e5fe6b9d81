"""A browser as a second renderer of SVG, where one is on PATH."""

import io
import shutil

import numpy as np
from PIL import Image

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
ARGUMENTS = ["--no-sandbox", "--headless", "--disable-gpu", "--force-color-profile=srgb"]
MISSING = "NO CHROMIUM ON PATH: pictures are compared in one engine alone (apt install chromium)"


def browser_pixels(texts, width):
    """Return the pictures (width, width, 3) that a browser makes of square SVG *texts* on white."""
    from playwright.sync_api import sync_playwright

    found = []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        page = browser.new_page(viewport={"width": width, "height": width})
        for text in texts:
            svg = text.partition("?>")[2]
            size = f"width:{width}px;height:{width}px"
            style = f"<style>body{{margin:0;overflow:hidden}}svg{{display:block;{size}}}</style>"
            page.set_content(f"<!doctype html>{style}{svg}")
            data = page.screenshot()
            found.append(np.asarray(Image.open(io.BytesIO(data)).convert("RGB")))
        browser.close()
    return found

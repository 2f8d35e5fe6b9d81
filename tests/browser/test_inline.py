"""Rings drawn into one document, as a notebook does: each keeps its own colours."""

import io
from typing import Any

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

import openwork
from openwork.spec.spec import from_toml

pytestmark = pytest.mark.browser
SPEC = '[ring]\nteeth = 32\n[mount]\nbolts = 4\ncircle = 80.0\n[look]\nfinish = "{}"'


def pictures(page: Page, *drawings: str) -> list[Any]:
    """Return what the browser makes of each of the *drawings* of one document."""
    style = "<style>svg { display: block; width: 400px; height: 400px }</style>"
    page.set_content(style + "".join(drawings))
    return [
        np.asarray(Image.open(io.BytesIO(one.screenshot())).convert("RGB"), dtype=int)
        for one in page.locator("svg").all()
    ]


def test_two_rings_of_a_document_keep_their_colours(browser: Browser) -> None:
    page = browser.new_page(viewport={"width": 700, "height": 700})
    black, gold = (
        openwork.design(from_toml(SPEC.format(finish)))._repr_svg_() for finish in ("black", "gold")
    )
    alone = [pictures(page, one)[0] for one in (black, gold)]
    together = pictures(page, black, gold)
    page.close()
    assert np.abs(alone[0] - alone[1]).mean() > 10
    for one, other in zip(alone, together, strict=True):
        assert np.abs(one - other).mean() < 0.5

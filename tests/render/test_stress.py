"""The stress picture: what it shows, its colours in grey, its size."""

from __future__ import annotations

from xml.etree import ElementTree

import numpy as np
import pytest

import openwork
from openwork.render.ring.shade import shades
from openwork.render.ring.stress import stress_svg
from openwork.render.ring.stress_notes import BANDS
from openwork.spec.spec import from_toml
from openwork.strength.model import ring_model
from openwork.strength.report import reckoned
from openwork.tables.load import Load

SVG = "{http://www.w3.org/2000/svg}"
TEXT = '[ring]\nteeth = 38\n[mount]\ncircle = 110\nbolts = 5\n[pattern]\nname = "circles"\n'


@pytest.fixture(scope="module")
def picture() -> str:
    design = openwork.design(from_toml(TEXT))
    model = ring_model(design.blank, design.openings)
    return stress_svg(reckoned(model, Load(), quality="search"), title="Quay 38", recipe=TEXT)


def test_groups_and_words(picture: str) -> None:
    root = ElementTree.fromstring(picture)
    groups = {group.get("id"): group for group in root.iter(f"{SVG}g")}
    assert {"bands", "outline", "bolts", "loads", "hottest", "key", "notes"} <= set(groups)
    assert len(groups["bolts"].findall(f"{SVG}circle")) == 5
    words = " ".join(text.text or "" for text in root.iter(f"{SVG}text"))
    for said in ("MPa", "1500 N on a crank of 170 mm", "ISO 4210-8", "times", "Estimates only"):
        assert said in words
    assert 1 < len(groups["loads"].findall(f"{SVG}polygon")) < 19
    assert 3 < len(groups["bands"].findall(f"{SVG}path")) <= BANDS


def test_a_vector_of_less_than_a_megabyte(picture: str) -> None:
    assert len(picture) < 1_000_000
    assert "<image" not in picture
    assert "nan" not in picture.lower().replace("nanometre", "")


def test_the_hottest_place_is_on_the_ring_and_named(picture: str) -> None:
    root = ElementTree.fromstring(picture)
    hottest = next(group for group in root.iter(f"{SVG}g") if group.get("id") == "hottest")
    circle = hottest.find(f"{SVG}circle")
    text = hottest.find(f"{SVG}text")
    assert circle is not None
    assert text is not None
    top = float((text.text or "").split()[0])
    key = next(group for group in root.iter(f"{SVG}g") if group.get("id") == "key")
    labels = [t.text for t in key.iter(f"{SVG}text") if (t.text or "").replace(".", "").isdigit()]
    levels = [float(label) for label in labels if label]
    assert max(levels) >= top > max(levels) * 0.6


@pytest.mark.parametrize("count", [4, 8, 12])
def test_colours_fall_evenly_in_grey(count: int) -> None:
    # Lightness L* of CIE 1976 from relative luminance (IEC 61966-2-1): even steps of a grey copy.
    codes = np.array([[int(s[i : i + 2], 16) for i in (1, 3, 5)] for s in shades(count)]) / 255
    linear = np.where(codes <= 0.04045, codes / 12.92, ((codes + 0.055) / 1.055) ** 2.4)
    luminance = linear @ [0.2126, 0.7152, 0.0722]
    lightness = 116 * np.cbrt(luminance) - 16
    steps = -np.diff(lightness)
    assert (steps > 0).all()
    assert steps.max() < 1.6 * steps.min()
    assert lightness[0] > 90
    assert lightness[-1] < 25

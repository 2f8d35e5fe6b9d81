"""Drawings on the ring: every lay keeps the limits, shapes and their areas are what was drawn."""

import math
from pathlib import Path

import numpy as np
import pytest
import shapely

import openwork
from openwork.drawing.outlines import outlines
from openwork.errors import RuleError, SpecError
from openwork.fill.polar import extent
from openwork.measure.defects import defects
from openwork.measure.figures import figures
from openwork.measure.limits import limits_broken
from openwork.patterns._kit.laid import Grid, laid
from openwork.render.ring.outline import ring_svg
from openwork.ring import design
from openwork.spec.spec import Spec, from_toml, load
from openwork.tables.recipe import recipe
from openwork.testing import SITES, site_spec

GALLERY = Path(__file__).parents[2] / "gallery" / "motif"
FLEET = {".": "wave", "gull": "gull", "anchor": "anchor", "rope": "rope", "beacon": "beacon"}
LAYS = ("grown", "bent", "stamped")
WEB = {"rib": 1.4, "corner": 0.8}


def drawing(folder: str) -> str:
    return outlines((GALLERY / folder / f"{FLEET[folder]}.svg").read_bytes(), folder)


def on(site: str, **pattern: object) -> Spec:
    spec = site_spec(site, name="motif", **pattern)
    return spec.model_copy(update={"web": spec.web.model_copy(update=WEB)})


@pytest.mark.sweep
@pytest.mark.parametrize("lay", LAYS)
@pytest.mark.parametrize("folder", FLEET)
@pytest.mark.parametrize("site", SITES)
def test_every_motif_keeps_every_limit(site: str, folder: str, lay: str) -> None:
    ring = design(on(site, outlines=drawing(folder), lay=lay))
    found = figures(ring)
    assert not limits_broken(ring, found)
    assert not any(defects(ring.openings, ring.site).values())


@pytest.mark.parametrize("change", [{"drawn": "metal"}, {"thicken": "even"}, {"ties": 0}])
def test_what_a_motif_may_be_told_keeps_the_limits(change: dict[str, object]) -> None:
    ring = design(on("42 teeth, 5 on 110", outlines=drawing("gull"), **change))
    assert not limits_broken(ring, figures(ring))


def area_of(lay: str, side: float) -> tuple[float, float]:
    """Return the area of a square page's middle laid, and what the map makes of it exactly."""
    site = design(site_spec("42 teeth, 5 on 110", name="motif")).site
    grid = Grid(lay=lay, columns=20, rows=1, ratio=1.0)
    a, b = 0.5 - side / 2, 0.5 + side / 2
    ring = np.array([[a, a], [b, a], [b, b], [a, b]])
    shape = shapely.Polygon(next(laid([ring], grid, site, chord=0.02))[0])
    low, high = extent(site)
    inner, outer = math.exp(low), math.exp(high)
    wide = side * 2 * math.pi / 20
    if lay == "grown":
        r = [math.exp(low + share * (high - low)) for share in (a, b)]
        return shape.area, wide / 2 * (r[1] ** 2 - r[0] ** 2)
    if lay == "bent":
        r = [inner + share * (outer - inner) for share in (a, b)]
        return shape.area, wide / 2 * (r[1] ** 2 - r[0] ** 2)
    size = min(outer - inner, 2 * inner * math.tan(math.pi / 20))
    return shape.area, (side * size) ** 2


@pytest.mark.parametrize("lay", LAYS)
def test_the_area_laid_is_exact_to_ten_parts_in_a_million(lay: str) -> None:
    laid_, exact = area_of(lay, 0.6)
    assert laid_ == pytest.approx(exact, rel=1e-5)


def test_a_ring_of_a_drawing_makes_itself_again() -> None:
    ring = design(load(GALLERY / "gull" / "spec.toml"))
    text = ring_svg(ring, openwork.figures(ring))
    again = design(from_toml(recipe(text)))
    assert ring_svg(again, openwork.figures(again)) == text


def test_a_smaller_cutter_keeps_more() -> None:
    kept = []
    for corner in (0.5, 1.0, 1.5):
        ring = design(load(GALLERY / "anchor" / "spec.toml", {"web.corner": corner}))
        kept.append(1 - openwork.figures(ring).solid_share)
    assert kept == sorted(kept, reverse=True)


def test_an_odd_number_of_columns_cannot_be_mirrored() -> None:
    with pytest.raises(RuleError, match=r"columns = 25 .* 30 works"):
        design(on("42 teeth, 5 on 110", columns=25, mirror="columns"))


def test_a_drawing_lies_beside_its_spec(tmp_path: Path) -> None:
    spec = (GALLERY / "gull" / "spec.toml").read_text("utf-8")
    for name, told in (
        ("../x.svg", "in the folder"), ("/etc/passwd", "in the folder"),
        ("http://sea/a.svg", "must name"), ("no.svg", "cannot be read"),
    ):  # fmt: skip
        path = tmp_path / "spec.toml"
        path.write_text(spec.replace("gull.svg", name), "utf-8")
        with pytest.raises(SpecError, match=told):
            load(path)


def test_drawing_and_outlines_together_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "spec.toml"
    path.write_text((GALLERY / "gull" / "spec.toml").read_text("utf-8") + 'outlines = ""\n')
    with pytest.raises(SpecError, match="only one"):
        load(path)

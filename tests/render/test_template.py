"""The paper template, read back by PDFium, and its measures against published chords."""

import dataclasses
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import openwork
from openwork.measure.figures import Figures
from openwork.part.mount import Mount
from openwork.render.accept.read_pdf import read_pdf, refused_pdf
from openwork.render.paper.tiles import OVERLAP, SIZES, PaperName, tiled
from openwork.render.shop import template
from openwork.render.shop.template import measures, template_pdf
from openwork.ring import Design
from openwork.shape.contour import scaled
from openwork.spec.spec import from_toml

# Distance between neighbouring holes as published at https://sheldonbrown.com/cribsheet-bcd.html
# (5 bolts) and https://www.modernbike.com/help-117 (the others), to 0.1 mm.
NEIGHBOURS = {
    (5, 151): 88.8, (5, 144): 84.6, (5, 135): 79.4, (5, 130): 76.4, (5, 110): 64.7,
    (5, 74): 43.5, (4, 146): 103.3, (4, 104): 73.6, (4, 64): 45.3, (3, 86): 74.5,
}  # fmt: skip
# Every second hole, first source.
SECOND = {(5, 151): 143.6, (5, 144): 137.0, (5, 135): 128.4, (5, 130): 123.6}


def row(mount: Any, name: str) -> Any:
    return next(found for found in measures(mount) if found[0] == name)


@pytest.mark.parametrize("name", ["Neighbouring holes", "Every second hole"])
def test_chords_are_the_published_ones(name: str) -> None:
    for (bolts, circle), chord in (NEIGHBOURS if name[0] == "N" else SECOND).items():
        mount = Mount(bolts=bolts, circle=circle)
        _, centres, outside = row(mount, name)
        assert float(centres) == pytest.approx(chord, abs=0.1)
        assert float(outside) == pytest.approx(float(centres) + mount.hole, abs=0.01)


def test_uneven_bolts_are_told_apart() -> None:
    rows = list(measures(Mount(circle=96.0, angles=(0, 82, 180, 262))))
    names = [name for name, *_ in rows]
    assert "Holes 1–2, 3–4" in names
    assert "Holes 2–3, 4–1" in names
    assert row(Mount(circle=96.0, angles=(0, 82, 180, 262)), "Every second hole")[1] == "96.00"


def test_three_bolts_have_no_second_hole() -> None:
    assert all(name != "Every second hole" for name, *_ in measures(Mount(bolts=3, circle=86.0)))


@pytest.mark.parametrize("paper", SIZES)
def test_every_ring_on_every_paper_passes(
    ring: tuple[Design, Figures], paper: Any, tmp_path: Path
) -> None:
    design = ring[0]
    data = template_pdf(design, paper=paper)
    assert data == template_pdf(design, paper=paper)
    (tmp_path / "a.pdf").write_bytes(data)
    assert refused_pdf(read_pdf(tmp_path / "a.pdf"), design, paper) == {}


def test_a_large_ring_is_tiled_after_a_map(ring: tuple[Design, Figures], tmp_path: Path) -> None:
    design = ring[0]
    pages = {}
    for paper in ("A4", "A3"):
        (tmp_path / "a.pdf").write_bytes(template_pdf(design, paper=paper))
        pages[paper] = len(read_pdf(tmp_path / "a.pdf"))
    large = design.blank.tip_diameter > SIZES["A4"][0] - 18
    assert pages == {"A4": 3 if large else 1, "A3": 1}


@pytest.mark.parametrize("diameter", [180.0, 240.0, 410.0, 620.0])
@pytest.mark.parametrize("paper", SIZES)
def test_tiles_cover_the_ring_and_overlap(paper: Any, diameter: float) -> None:
    tiling = tiled(paper, diameter)
    at = np.linspace(-diameter / 2, diameter / 2, 60)
    x, y = np.meshgrid(at, at)
    shown = np.sum([
        ((x >= one.left) & (x <= one.left + one.width)
         & (y <= one.top) & (y >= one.top - one.height)).astype(int)
        for one in tiling.windows
    ], axis=0)  # fmt: skip
    assert shown.min() >= 1
    for one in tiling.windows:
        assert one.x >= 8
        assert one.x + one.width <= tiling.paper[0] - 8 + 1e-9
        assert one.y + one.height <= tiling.paper[1] - 8 + 1e-9
    for left, right in zip(tiling.windows, tiling.windows[1 : tiling.columns], strict=False):
        assert left.left + left.width - right.left == pytest.approx(OVERLAP)


@pytest.mark.parametrize("damage", ["units", "roles", "shape", "paper"])
def test_a_damaged_template_is_refused(
    swept: tuple[Design, Figures], damage: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    design = swept[0]
    paper: PaperName = "A4"
    drawn = design
    if damage == "units":
        monkeypatch.setattr(template, "BAR", 98)
    elif damage == "roles":
        drawn = dataclasses.replace(
            design,
            spec=design.spec.model_copy(
                update={"mount": design.spec.mount.model_copy(update={"hole": 8.0})}
            ),
        )
    elif damage == "shape":
        larger = scaled(design.blank.outline, 1.005)
        drawn = dataclasses.replace(design, blank=dataclasses.replace(design.blank, outline=larger))
    else:
        damage, paper = "units", "Letter"
    (tmp_path / "a.pdf").write_bytes(template_pdf(drawn))
    assert damage in refused_pdf(read_pdf(tmp_path / "a.pdf"), design, paper)


def test_long_and_foreign_titles_fit(swept: tuple[Design, Figures], tmp_path: Path) -> None:
    for title in ("Ein sehr langer Titel " * 3, "港の輪"):
        spec = swept[0].spec.model_copy(update={"title": title})
        (tmp_path / "a.pdf").write_bytes(template_pdf(dataclasses.replace(swept[0], spec=spec)))
        assert refused_pdf(read_pdf(tmp_path / "a.pdf"), swept[0], "A4") == {}


def test_pockets_are_shown_and_missed_where_they_are_not(tmp_path: Path) -> None:
    text = "[ring]\nteeth = 24\n[mount]\nbolts = 4\ncircle = 64.0\n[pocket]\nwhich = 'outer'\n"
    design = openwork.design(from_toml(text))
    (tmp_path / "a.pdf").write_bytes(template_pdf(design))
    assert refused_pdf(read_pdf(tmp_path / "a.pdf"), design, "A4") == {}
    bare = dataclasses.replace(design, openings=design.through, floors=(), fold=1)
    (tmp_path / "b.pdf").write_bytes(template_pdf(bare))
    missed = refused_pdf(read_pdf(tmp_path / "b.pdf"), design, "A4")
    assert f"does not show {len(design.pockets)} pockets" in str(missed)

"""Marks and panels on a ring: room, mass, balance, files, families, and bad input."""

import dataclasses
import json
import re
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import numpy as np
import pytest
import shapely
from click.testing import CliRunner

import openwork
from openwork.cli import main
from openwork.lettering.cut import slots
from openwork.measure.figures import mass
from openwork.measure.limits import keep
from openwork.measure.panels import panel_mass
from openwork.render.accept.acceptance import refused
from openwork.render.accept.read_dxf import read_dxf
from openwork.render.accept.read_step import read_step
from openwork.render.accept.read_svg import read_svg
from openwork.render.drawing.recipe import design_recipe
from openwork.render.ring.outline import ring_svg
from openwork.render.ring.preview import preview_svg
from openwork.render.shop.dxf import ring_dxf
from openwork.render.shop.facts import facts
from openwork.render.shop.printed import ring_mesh
from openwork.render.shop.step import ring_step
from openwork.ring import Design
from openwork.shape.contour import polygon
from openwork.shape.stroke import Stroke, placed, stroke_length
from openwork.spec.rewrite import rewritten
from openwork.spec.spec import Spec, from_toml, load, to_toml

PLAIN = """
title = "Harbour 42"
[ring]
teeth = 42
[mount]
circle = 110.0
[web]
corner = 1.2
[pattern]
name = "honeycomb"
columns = 40
rows = 2
"""
MARKED = (
    PLAIN
    + """
[mark.name]   # stands over the bolt
text = "HARBOUR {teeth}"
angle = 105.0
[panel.name]
angle = 105.0
"""
)


@pytest.fixture(scope="module")
def plain() -> Design:
    return openwork.design(from_toml(PLAIN))


@pytest.fixture(scope="module")
def marked() -> Design:
    return openwork.design(from_toml(MARKED))


def made(more: str, changes: dict[str, object] | None = None) -> Design:
    return openwork.design(from_toml(PLAIN + more, changes=changes or {}))


def test_a_panel_leaves_out_whole_openings_and_tells_what_they_cost(
    plain: Design, marked: Design
) -> None:
    assert set(marked.openings) < set(plain.openings)
    assert set(marked.panelled) == set(plain.openings) - set(marked.openings)
    assert 5 < len(marked.panelled) < 25
    lines = sum(one.volume for one in marked.engravings) * marked.blank.material.density
    assert mass(marked) - mass(plain) == pytest.approx(panel_mass(marked) - lines, rel=1e-9)
    found = openwork.figures(marked)
    assert (marked.fold, found.fold) == (1, 1)
    assert found.balance > 2
    assert found.pieces == 1
    assert found.defects == {**found.defects, "thin_ribs": 0}


@pytest.mark.parametrize(("repeat", "fold"), [("once", 1), ("opposite", 1), ("every sector", 5)])
def test_repeating_a_panel_brings_the_balance_back(repeat: str, fold: int) -> None:
    ring = made(f'[panel.a]\nwidth = 20.0\nangle = 108.0\nrepeat = "{repeat}"\n')
    found = openwork.figures(ring)
    assert (ring.fold, found.fold) == (fold, fold)
    limits = {"once": (2.0, 9.0), "opposite": (0.0, 0.8), "every sector": (0.0, 1e-9)}
    low, high = limits[repeat]
    assert low <= found.balance <= high


def test_a_text_keeps_clear_of_everything_by_its_own_measure(marked: Design) -> None:
    (one,) = marked.engravings
    lines = shapely.union_all([chords(line) for line in one.strokes]).buffer(one.line / 2)
    others = [polygon(hole) for hole in (*marked.openings, *marked.blank.holes)]
    apart = min(shapely.distance(lines, hole) for hole in others)
    assert apart >= 0.3 + marked.spec.web.widest_bevel
    x, y = shapely.get_coordinates(lines).T
    assert np.hypot(x, y).max() < marked.blank.shroud


def chords(line: Stroke) -> shapely.LineString:
    """Return the line by points of its arcs, each from its chord and the height over it."""
    found = [complex(*line.points[0])]
    z = line.points @ (1, 1j)
    for start, end, bulge in zip(z[:-1], z[1:], line.bulges, strict=True):
        for t in np.linspace(0, 1, 33)[1:]:
            # The angle over the chord is the same from every point of an arc.
            half = 2 * np.arctan(bulge)
            away = np.sin(t * half) / np.sin(half) if bulge else t
            found.append(start + (end - start) * away * np.exp(-1j * (1 - t) * half))
    return shapely.LineString([(one.real, one.imag) for one in found])


def test_dxf_has_the_centre_lines_open_on_a_layer_of_their_own(
    marked: Design, tmp_path: Path
) -> None:
    path = tmp_path / "ring.dxf"
    path.write_bytes(ring_dxf(marked))
    drawing = ezdxf.filemanagement.readfile(path)
    lines = drawing.modelspace().query('LWPOLYLINE[layer=="ENGRAVE"]')
    (one,) = marked.engravings
    assert len(lines) == len(one.strokes) == 15
    assert not any(line.dxf.flags & 1 for line in lines)
    assert not drawing.audit().errors
    assert refused(read_dxf(path), marked) == {}
    path.write_bytes(ring_dxf(marked, version="R12"))
    assert refused(read_dxf(path), marked) == {}


def planted(marked: Design, how: str) -> Design:
    """Return the ring with one line of its mark lost, shifted, doubled, bent or on the back."""
    (one,) = marked.engravings
    first, *rest = one.strokes
    strokes = {
        "lost": rest,
        "shifted": [placed(first, 1.0, 0.01), *rest],
        "doubled": [first, first, *rest],
        "bent": [Stroke(first.points, first.bulges + 0.01), *rest],
        "back": one.strokes,
    }[how]
    face = "back" if how == "back" else "front"
    return dataclasses.replace(
        marked,
        engravings=(dataclasses.replace(one, strokes=tuple(strokes), face=face),),  # type: ignore[arg-type]
    )


@pytest.mark.parametrize("how", ["lost", "shifted", "doubled", "bent", "back"])
@pytest.mark.parametrize("kind", ["svg", "dxf"])
def test_a_fault_planted_in_the_lines_is_refused(
    marked: Design, how: str, kind: str, tmp_path: Path
) -> None:
    path = tmp_path / f"ring.{kind}"
    wrong = planted(marked, how)
    text = ring_svg(wrong, openwork.figures(marked)).encode() if kind == "svg" else ring_dxf(wrong)
    path.write_bytes(text)
    reading = (read_svg if kind == "svg" else read_dxf)(path)
    assert list(refused(reading, marked)) == ["engraved"]


def test_a_closed_line_is_no_line_to_engrave(marked: Design, tmp_path: Path) -> None:
    path = tmp_path / "ring.svg"
    text = ring_svg(marked, openwork.figures(marked))
    assert refused(read_svg(write(path, text)), marked) == {}
    closed = re.sub(r'(<g id="engrave">\s*<path d="[^"]*)"', r'\1Z"', text)
    assert {"closed", "engraved"} <= set(refused(read_svg(write(path, closed)), marked))


def write(path: Path, text: str) -> Path:
    path.write_text(text, "utf-8")
    return path


@pytest.mark.parametrize(("face", "depth"), [("front", 0.2), ("back", 0.3), ("front", 0.0)])
def test_step_has_the_text_as_pockets_or_faces_of_its_own(
    face: str, depth: float, tmp_path: Path
) -> None:
    """A small ring of square teeth: genus, faces, heights by acceptance, volume by the kernel."""
    text = f"""
title = "Slip 24"
[ring]
teeth = 24
sides = "square"
[mount]
bolts = 4
circle = 64.0
bore = 50.0
[web]
bevel = 0.3
[pattern]
name = "spokes"
count = 32
[mark.a]
text = "B8"
angle = 45.0
height = 3.0
line = 0.3
face = "{face}"
depth = {depth}
[panel.a]
angle = 45.0
"""
    ring = openwork.design(from_toml(text))
    path = tmp_path / "ring.step"
    path.write_bytes(ring_step(ring))
    reading = read_step(path, ring)
    assert refused(reading, ring) == {}
    assert reading.body is not None
    exact = mass(ring) / ring.blank.material.density
    assert reading.body.volume == pytest.approx(exact, rel=2e-7)
    assert reading.body.through == 1 + 4 + len(ring.openings)
    without = openwork.design(from_toml(text, changes={"mark.a.depth": 0.0}))
    taken = ring.engravings[0].volume
    assert mass(without) - mass(ring) == pytest.approx(taken * ring.blank.material.density)
    if depth:  # a text that should not have been cut is refused
        assert "pieces" in refused(read_step(path, without), without)
    mesh = ring_mesh(ring, chord=0.02)
    edges = np.sort(np.vstack([mesh.triangles[:, [k, (k + 1) % 3]] for k in range(3)]), axis=1)
    assert (np.unique(edges, axis=0, return_counts=True)[1] == 2).all()


def test_the_picture_shows_what_stands_in_front(marked: Design) -> None:
    assert 'id="engrave"' in preview_svg(marked)
    behind = made('[mark.a]\nface = "back"\n[panel.a]\nwidth = 30.0\n')
    assert 'id="engrave"' not in preview_svg(behind)
    assert 'id="engrave-back"' in ring_svg(behind, openwork.figures(behind))


def test_the_hand_over_note_tells_of_the_mark(marked: Design) -> None:
    found = facts(marked, openwork.figures(marked))
    (mark,) = found["marks"]
    assert (mark["text"], mark["height"], mark["depth"], mark["face"]) == (
        "HARBOUR 42", 5.0, 0.2, "front",
    )  # fmt: skip
    assert mark["length"] == pytest.approx(sum(map(stroke_length, marked.engravings[0].strokes)))
    assert found["panels"]["mass"] == pytest.approx(panel_mass(marked))


def test_a_recipe_makes_the_same_bytes_again(marked: Design) -> None:
    again = openwork.design(from_toml(design_recipe(marked)))
    assert design_recipe(again) == design_recipe(marked)
    figures = openwork.figures(marked)
    assert ring_svg(again, openwork.figures(again)) == ring_svg(marked, figures)
    assert preview_svg(again) == preview_svg(marked)


def test_a_spec_rewritten_keeps_the_marks_and_their_comments() -> None:
    spec = from_toml(MARKED, changes={"web.rib": 2.4, "mark.name.height": 4.0})
    text = rewritten(MARKED, spec)
    assert "# stands over the bolt" in text
    assert from_toml(text) == spec == from_toml(to_toml(spec))


def test_every_size_of_a_family_and_a_tuned_ring_carry_their_own_number() -> None:
    spec = from_toml(MARKED, changes={"goal.teeth": (41, 43), "goal.mass": 76.0})
    sizes = openwork.family(spec).made
    assert [one.design.engravings[0].text for one in sizes if one.design] == [
        f"HARBOUR {teeth}" for teeth in (41, 42, 43)
    ]
    assert all(abs(one.figures.mass - 76.0) < 0.06 for one in sizes if one.figures)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ('[mark.a]\ntext = "A"\n', r"no panel stands at 90 degrees; panel\.a\.angle = 90 works"),
        ('[mark.a]\nat = "rim"\n', r"flat of the rim is 0\.80 mm wide.*needs 6\.00; web\.rim"),
        ('[mark.a]\nat = "hem"\n', r"flat of the hem is 2\.70 mm wide.*web\.hem wider by 3\.3"),
        ("[mark.a]\nat = 61.0\n", r"meets an opening, at least 0\.3 mm must stay"),
        ("[mark.a]\nat = 45.0\n", "meets the inner edge"),
        ("[mark.a]\n[mark.b]\n[panel.a]\n", r"mark\.a: meets mark\.b"),
        ("[mark.a]\ndepth = 1.0\n[panel.a]\n[ring]\n", "quarter of the plate of 2 mm; 0.5 works"),
        ("[mark.a]\nline = 2.0\n[panel.a]\n", "a fifth of the height of 5 mm; 1 works"),
        ("[panel.a]\n", r'"auto": no mark stands on it; panel\.a\.width = 30\.0 works'),
        (f'[mark.a]\ntext = "{60 * "W"}"\nheight = 12.0\n[panel.a]\n', r"at most 340; height = "),
    ],
)
def test_what_has_no_room_is_told_with_what_works(more: str, says: str) -> None:
    changes: dict[str, object] = {"ring.plate": 2.0} if "[ring]" in more else {}
    with pytest.raises(openwork.RuleError, match=says):
        made(more.replace("[ring]\n", ""), changes)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ('[mark.a]\ntext = "{theeth}"\n', "no field; {teeth} works"),
        ('[mark.a]\ntext = "{teeth"\n', "a brace without its fellow"),
        ('[mark.a]\ntext = " "\n', "says nothing"),
        ('[mark.a]\ntext = "{mass} g"\n[panel.a]\n', "{mass} is not given; goal.mass = 75.0"),
        ('[mark.a]\ntext = "{serial}"\n[panel.a]\n', "{serial} is not given; mark.a.serial"),
        ('[mark.a]\ntext = "\\u05d0"\n', "HEBREW LETTER ALEF"),
        ('[mark.a]\ntxt = "A"\n', "mark.a.txt: unknown key; mark.a.text is nearest"),
        ("[mark.a]\nheight = 1.0\n", "mark.a.height = 1.0: must be a number from 2 to 40; 2"),
        ('[mark.a]\nat = "panle"\n', 'neither "panel", "rim" nor "hem"'),
        ("[mark.A]\n", "mark.A: a name of small letters"),
        ("".join(f"[mark.a{k}]\n" for k in range(9)), "mark: 9 tables, at most 8"),
        ("[panel.a]\nwidth = 400\n", 'neither "auto" nor a number from 4 to 180'),
    ],
)
def test_bad_input_gets_one_clear_message(more: str, says: str) -> None:
    with pytest.raises(openwork.SpecError) as caught:
        made(more)
    (fault,) = caught.value.faults
    assert says in fault


def test_a_table_that_is_none_is_told() -> None:
    with pytest.raises(openwork.SpecError, match=r"mark\.a = 5: must be a table"):
        from_toml("mark.a = 5\n" + PLAIN)


def test_fields_are_filled_from_the_spec() -> None:
    ring = made(
        '[mark.a]\ntext = "{title}/{bolts}x{circle}/{chain}/{mass}/{serial}/{year}"\n'
        'serial = "0017"\nyear = 2026\nheight = 3.0\nline = 0.3\n[panel.a]\n',
        {"goal.mass": 75.0},
    )
    assert ring.engravings[0].text == "Harbour 42/5x110/082/75/0017/2026"


def test_the_command_draws_marks_and_tells_what_the_panel_costs(tmp_path: Path) -> None:
    spec = tmp_path / "ring.toml"
    spec.write_text(MARKED, "utf-8")
    options = ["--set", "mark.name.text=QUAY {teeth}", "--out", str(tmp_path / "out")]
    result: Any = CliRunner().invoke(main, ["draw", str(spec), *options])
    assert result.exit_code == 0, result.output
    said = " ".join(result.output.split())
    assert "QUAY 42" in said
    assert "openings left out" in said
    assert "off the axis" in said
    again: Spec = load(tmp_path / "out" / "ring.svg")
    assert again.mark["name"].text == "QUAY {teeth}"
    assert json.loads((tmp_path / "out" / "figures.json").read_text("utf-8"))["fold"] == 1


CUT = """
[mark.name]
text = "QUAY {teeth}"
how = "cut"
height = 10.0
line = 1.3
angle = 108.0
[panel.name]
angle = 108.0
"""


def test_a_text_cut_through_keeps_the_limits_of_every_opening(tmp_path: Path) -> None:
    changes: dict[str, object] = {"web.corner": 0.6, "web.rib": 1.4}
    ring = made(CUT, changes)
    panel = CUT.partition("[panel")[2]
    without = made("[panel" + panel.replace("angle", "width = 40.0\nangle"), changes)
    cut = [one for one in ring.openings if one not in set(without.openings)]
    assert ring.engravings == ()
    assert len(cut) == 7  # two of Q, one of each other
    found = openwork.figures(ring)
    keep(ring, found)
    assert found.pieces == 1
    assert found.corner_least == pytest.approx(0.6, abs=1e-3)
    path = tmp_path / "ring.dxf"
    path.write_bytes(ring_dxf(ring))
    assert refused(read_dxf(path), ring) == {}
    assert openwork.design(from_toml(design_recipe(ring))).openings == ring.openings


@pytest.mark.parametrize("text", "ABDOPQR04689abdegopq&")
def test_what_a_cut_sign_shuts_in_is_held_by_ties(text: str) -> None:
    """No slot has an island, slots stand a rib apart, and are as wide as the line everywhere."""
    found = slots(text, 1.6, 1.3, 1.2)
    shapes = [polygon(one, (), 1e-4) for one in found]
    assert found
    gaps = shapely.distance(np.array(shapes)[:, None], shapes)
    assert (gaps + np.eye(len(shapes)) * 9).min() >= 1.2 - 1e-3
    for one, shape in zip(found, shapes, strict=True):
        inside = one.radii[one.bulges > 0]
        assert inside.min() >= 0.65 - 1e-3
        opened = shape.buffer(-0.64).buffer(0.64, quad_segs=64)
        assert shape.area - opened.area < 2e-3 * shape.area


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({}, r"as wide as the cutter, twice web\.corner; line = 2\.4 and height = 12 works"),
        ({"web.corner": 0.6, "mark.name.text": "Ä"}, "leaves no room for ties.*height = 13"),
    ],
)
def test_a_cut_text_too_small_is_told(changes: dict[str, object], says: str) -> None:
    with pytest.raises(openwork.RuleError, match=says):
        made(CUT, changes)

"""``openwork alloys`` as it is typed: masses, published strengths, safety, prices."""

import json
import re
import xml.etree.ElementTree as ET
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from click.testing import CliRunner, Result

import openwork
from openwork.cli import main
from openwork.explore.alloys import Alloy, cost_indices
from openwork.part.material import MATERIALS
from openwork.spec.spec import from_toml
from openwork.tables.load import Load
from tests._sure import sure

SVG = "{http://www.w3.org/2000/svg}"
SPEC = """
title = "Ferry 36"
[ring]
teeth = 36
[mount]
circle = 104.0
bolts = 4
bore = 96.0
[pattern]
name = "spokes"
count = 16
[prices]
7075-T6 = 9.0
304 = 4.5
"""


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, ["alloys", *map(str, arguments)])


@cache
def compared() -> Any:
    """Return the materials by name, the table printed and the page, from one run."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "ferry.toml"
        path.write_text(SPEC)
        result = run(path, "--out", folder, "--jobs", "2")
        assert result.exit_code == 0, result.output
        return materials(folder), result.output, (Path(folder) / "alloys.svg").read_text()


def materials(folder: str | Path) -> Any:
    listed = json.loads((Path(folder) / "alloys.json").read_text())
    return {one["name"]: one for one in listed["materials"]}


def test_every_material_is_there_and_masses_go_with_density() -> None:
    found, _, _ = compared()
    assert set(found) == set(MATERIALS)
    ring = openwork.design(from_toml(SPEC))
    grams = openwork.figures(ring).mass
    for name, one in found.items():
        # Densities, g/cm3, of published data sheets; see the table of materials.
        assert one["mass"] == pytest.approx(grams * MATERIALS[name].density / 2.81e-3, abs=1e-3)


# Aluminum Association typical values (7075-T6, 6061-T6), ASM data sheets MTP644 and m4130r:
# ultimate, yield, fatigue, MPa.
@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("7075-T6", (572, 503, 159)),
        ("6061-T6", (310, 276, 96.5)),
        ("Ti-6Al-4V", (900, 830, 510)),
        ("4130", (670, 435, None)),
    ],
)
def test_strengths_are_the_published_ones(name: str, values: Any) -> None:
    found, printed, page = compared()
    one = found[name]
    assert (one["ultimate"], one["yield_strength"], one["fatigue"]) == values
    assert one["source"] in printed
    assert one["source"] in page


def test_safety_follows_strength_and_stiffness_follows_modulus() -> None:
    """Of one ratio of Poisson the stress is the same in every metal; here the ultimate governs."""
    found, _, _ = compared()
    own, other = found["7075-T6"], found["6061-T6"]
    assert other["static_safety"] / own["static_safety"] == pytest.approx(310 / 572, rel=1e-3)
    # Basquin's lines of the two alloys at the 100 000 turns of the rig, constants from memory.
    bears = [a * 2e5**b for a, b in ((705.0, -0.11), (1466.0, -0.143))]
    assert other["fatigue_safety"] / own["fatigue_safety"] == pytest.approx(
        bears[0] / bears[1], rel=1e-3
    )
    assert other["stiffness"] / own["stiffness"] == pytest.approx(68.9 / 71.7, rel=1e-3)
    for name, one in found.items():
        if not MATERIALS[name].metal:
            assert (one["static_safety"], one["fatigue_safety"]) == (None, None)
    assert found["4130"]["fatigue_safety"] is None


def test_safety_is_what_draw_tells(tmp_path: Path) -> None:
    found, _, _ = compared()
    path = tmp_path / "ferry.toml"
    path.write_text(SPEC)
    words = ["draw", str(path), "--strength", "--json", "--out", str(tmp_path)]
    told = json.loads(CliRunner().invoke(main, words).stdout)["strength"]
    own = found["7075-T6"]
    assert own["static_safety"] == pytest.approx(1 / told["utilisation_static"], rel=1e-3)
    assert own["fatigue_safety"] == pytest.approx(
        1 / told["utilisation_rig"]["utilisation"][1], rel=1e-3
    )


def test_only_priced_materials_have_a_cost_index() -> None:
    found, printed, page = compared()
    priced = {name: one["cost_index"] for name, one in found.items() if "cost_index" in one}
    # Half the price a kg and 8.00 / 2.81 of the mass.
    assert priced == {"7075-T6": 100.0, "304": pytest.approx(100 * 0.5 * 8.00 / 2.81, abs=0.06)}
    assert "no cost index" not in printed
    assert "cost index" in page


@pytest.mark.sweep
def test_without_prices_and_with_one_process_all_else_is_the_same(tmp_path: Path) -> None:
    path = tmp_path / "ferry.toml"
    path.write_text(SPEC.partition("[prices]")[0])
    result = run(path, "--out", tmp_path, "--jobs", "1")
    assert result.exit_code == 0, result.output
    assert "no cost index" in result.output
    assert "cost" not in (tmp_path / "alloys.svg").read_text().partition("</metadata>")[2]
    plain = materials(tmp_path)
    assert all("cost_index" not in one for one in plain.values())
    costly = {"cost", "cost_index"}
    for name, one in compared()[0].items():
        same = {key: value for key, value in one.items() if key not in costly}
        assert {key: value for key, value in plain[name].items() if key != "cost"} == same


def test_an_unpriced_ring_is_compared_with_the_cheapest() -> None:
    metal = MATERIALS["304"]
    some = [Alloy(material=MATERIALS["7075-T6"], own=True, mass=50.0, cost=None),
            Alloy(material=metal, own=False, mass=140.0, cost=0.7),
            Alloy(material=MATERIALS["4130"], own=False, mass=140.0, cost=1.4)]  # fmt: skip
    assert cost_indices(some) == {"304": pytest.approx(100), "4130": pytest.approx(200)}
    assert cost_indices(some[:1]) == {}


def test_bars_are_as_long_as_the_values() -> None:
    found, _, page = compared()
    root = ET.fromstring(page)
    for group, key in (("mass", "mass"), ("yield", "yield_strength"), ("ultimate", "ultimate"),
                       ("static-safety", "static_safety")):  # fmt: skip
        column = next(one for one in root.iter(f"{SVG}g") if one.get("id") == group)
        lengths = [float(sure(bar.get("width"))) for bar in column.findall(f"{SVG}rect")]
        values = [one[key] for one in found.values() if one[key] is not None]
        shares = [value / max(values) for value in values]
        assert [length / max(lengths) for length in lengths] == pytest.approx(shares, abs=2e-3)
        black = [bar.get("fill") for bar in column.findall(f"{SVG}rect")]
        assert black.count("#000") == 1


def test_nothing_leaves_the_page_and_bars_do_not_reach_the_numbers() -> None:
    _, _, page = compared()
    root = ET.fromstring(page)
    _, _, wide, tall = map(float, sure(root.get("viewBox")).split())
    for text in root.iter(f"{SVG}text"):
        assert 6.9 <= float(sure(text.get("x"))) <= wide - 6.9
        assert 6.9 <= float(sure(text.get("y"))) <= tall - 6.9


def test_cautions_are_printed() -> None:
    _, printed, page = compared()
    assert "measured on aluminium" in printed
    assert "ISO 4210" in printed
    assert "local codes apply" in printed
    assert "local codes apply" in page
    assert "anodised as on aluminium" in page
    assert re.search(rf"{Load().force:g} N once", page)


@pytest.mark.parametrize(
    ("words", "code", "part"),
    [
        (["--jobs", "0"], 2, "--jobs"),
        (["--set", "prices.Gold=3"], 2, "is not one of"),
        (["--set", "mount.circle=150"], 1, "ferry.toml: "),
    ],
)
def test_a_wrong_line_writes_nothing(
    tmp_path: Path, words: list[str], code: int, part: str
) -> None:
    path = tmp_path / "ferry.toml"
    path.write_text(SPEC)
    result = run(path, *words, "--out", tmp_path / "o")
    assert result.exit_code == code, result.output
    assert part in result.output
    assert not (tmp_path / "o").exists()

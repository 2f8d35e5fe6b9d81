"""``openwork sheet`` as it is typed."""

import json
import re
import sys
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner, Result
from PIL import Image

import openwork
from openwork.cli import main
from openwork.spec.spec import load

SPEC = """
title = "Harbour 42"
[ring]
teeth = 42
[mount]
circle = 110.0
[pattern]
name = "honeycomb"
columns = 40
"""


@pytest.fixture
def spec(tmp_path: Path) -> Path:
    path = tmp_path / "harbour.toml"
    path.write_text(SPEC)
    return path


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, ["sheet", *map(str, arguments)])


def test_sheets_are_written_and_named_in_turn(spec: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    result = run(spec, "--out", out, "--count", 30, "--jobs", 2)
    assert result.exit_code == 0, result.output
    assert sorted(path.name for path in out.iterdir()) == [
        "sheet-2.svg", "sheet-index.svg", "sheet.html", "sheet.svg",
    ]  # fmt: skip
    assert "30 variants" in result.output
    assert "estimates" in result.output


def test_the_number_of_processes_changes_no_byte(spec: Path, tmp_path: Path) -> None:
    for jobs in (1, 2):
        assert run(spec, "--out", tmp_path / str(jobs), "--count", 7, "--jobs", jobs).exit_code == 0
    one, two = ((tmp_path / str(jobs) / "sheet.svg").read_bytes() for jobs in (1, 2))
    assert one == two


def test_a_picked_variant_is_made_again_from_its_spec(spec: Path, tmp_path: Path) -> None:
    vary = ["--vary", "columns=30,40", "--vary", "web.rib=2:3:2"]
    result = run(spec, "--out", tmp_path, *vary, "--pick", "B2", "--pick", "a1", "--json")
    assert result.exit_code == 0, result.output
    listed = json.loads(result.stdout)
    assert list(listed) == ["A1", "A2", "B1", "B2"]
    for mark, columns, rib in (("B2", 40, 3.0), ("A1", 30, 2.0)):
        again = load(tmp_path / f"{mark}.toml")
        assert (again.pattern.parameters["columns"], again.web.rib) == (columns, rib)
        figures = openwork.figures(openwork.design(again))
        assert figures.as_dict() == listed[mark]["figures"]


def test_what_cannot_be_made_keeps_its_place_and_says_why(spec: Path, tmp_path: Path) -> None:
    result = run(spec, "--out", tmp_path, "--vary", "columns=40:42:1")
    assert result.exit_code == 0, result.output
    assert "3 variants, 2 cannot be made" in result.output
    assert re.search(r"A2 honeycomb, columns 41: .*multiple of 5", result.output)
    page = (tmp_path / "sheet.svg").read_text()
    assert page.count("cannot be made") == 2
    assert all(f'id="A{k}"' in page for k in (1, 2, 3))


def test_a_sheet_of_nothing_but_reasons_ends_in_1(spec: Path, tmp_path: Path) -> None:
    result = run(spec, "--out", tmp_path, "--vary", "columns=41,42")
    assert result.exit_code == 1
    assert "none of the variants" in result.output
    assert (tmp_path / "sheet.svg").exists()


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["--vary", "colums=3"], "columns"),
        (["--vary", "columns=3:4"], "start:stop"),
        (["--pattern", "honycomb"], "honeycomb"),
        (["--vary", "columns=30,40", "--count", "5"], "leave one out"),
        (["--count", "2", "--pick", "Z9"], "not on the sheet"),
        (["--paper", "A2"], "letter"),
        (["--count", "0"], "0"),
        (["--to", "svg,gif"], '"gif": is none of svg, pdf, png'),
        (["--to", ""], '"": is none of svg, pdf, png'),
        (["--sort", "masss"], "mass is nearest"),
        (["--sort", "share"], "solid_share is nearest"),
        (["--mass", "90", "--as-drawn"], "--mass 90: does not go with --as-drawn"),
        (["--mass", "100,90"], "the least comes first; 90,100 works"),
        (["--mass", "much"], "must be a number from 1 to 5000"),
        (["--mass", "nan"], "must be a number from 1 to 5000"),
        (["--sort", "frequency"], "known only with --strength"),
        (["--count", "2", "--sort", "mass.x"], "mass.x: none of the rings has this figure"),
        (["--count", "3", "--compare", "A1"], "1 different marks; 2 to 6 work"),
        (["--count", "3", "--compare", "A1,a1"], "1 different marks; 2 to 6 work"),
        (["--count", "8", "--compare", "A1,A2,A3,A4,B1,B2,B3"], "7 different marks"),
        (["--count", "3", "--compare", "A1,Z9"], "not on the sheet"),
        (["--set", "web.ribb=2"], "web.rib"),
    ],
)
def test_a_wrong_command_line_ends_in_2_and_writes_nothing(
    spec: Path, tmp_path: Path, arguments: list[str], message: str
) -> None:
    out = tmp_path / "out"
    result = run(spec, "--out", out, *arguments)
    assert result.exit_code == 2, result.output
    assert message in result.output
    assert not out.exists()


def test_picking_what_cannot_be_made_ends_in_1(spec: Path, tmp_path: Path) -> None:
    result = run(spec, "--out", tmp_path / "out", "--vary", "columns=40,41", "--pick", "A2")
    assert result.exit_code == 1
    assert "multiple of 5" in result.output
    assert not (tmp_path / "out").exists()


def test_the_date_is_printed_only_on_request(spec: Path, tmp_path: Path) -> None:
    dates = []
    for name, more in (("without", []), ("with", ["--date"])):
        assert run(spec, "--out", tmp_path / name, "--count", 1, *more).exit_code == 0
        page = (tmp_path / name / "sheet.svg").read_text()
        dates.append(re.findall(r">\d{4}-\d\d-\d\d</text>", page))
    assert dates[0] == []
    assert len(dates[1]) == 1


def test_every_format_shows_the_same_pages(spec: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    result = run(spec, "--out", out, "--count", 26, "--to", "pdf,png", "--compare", "B2,a1")
    assert result.exit_code == 0, result.output
    pictures = ["compare.png", "sheet-2.png", "sheet-index.png", "sheet.png"]
    names = sorted(path.name for path in out.iterdir())
    assert names == sorted([*pictures, "compare.pdf", "sheet.html", "sheet.pdf"])
    for name in pictures:
        assert Image.open(out / name).size == (2339, 1654)  # 297 x 210 mm at 200 dots an inch
    pages = pypdfium2.PdfDocument(out / "sheet.pdf")
    assert len(pages) == 3
    words = [page.get_textpage().get_text_bounded() for page in pages]
    assert "Index of 2 sheets" in words[0]
    assert "Sheet 2 of 2" in words[2]
    assert len(pypdfium2.PdfDocument(out / "compare.pdf")) == 1


def test_the_same_variants_give_the_same_pictures(spec: Path, tmp_path: Path) -> None:
    for name in ("one", "two"):
        done = run(spec, "--out", tmp_path / name, "--count", 2, "--to", "pdf,png")
        assert done.exit_code == 0, done.output
    for name in ("sheet.pdf", "sheet.png"):
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()


@pytest.mark.parametrize(
    ("name", "package"),
    [("pdf", "typst"), ("png", "resvg_py"), ("png", "font_source_sans_pro")],
)
def test_a_missing_extra_is_named(
    spec: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, package: str
) -> None:
    monkeypatch.setitem(sys.modules, package, None)
    result = run(spec, "--out", tmp_path / "out", "--count", 2, "--to", name)
    assert result.exit_code == 2
    assert f"pip install 'openwork[{name}]'" in result.output
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("figure", "key", "down"),
    [
        ("mass", "mass", False),
        ("solid_share", "solid_share", False),
        ("corner_least", "corner_least", True),
        ("machining.cut_length", "machining", False),
        ("openings", "openings", False),
    ],
)
def test_any_figure_lays_the_sheet_out(
    spec: Path, tmp_path: Path, figure: str, key: str, down: bool
) -> None:
    result = run(spec, "--out", tmp_path, "--count", 5, "--sort", figure, "--json")
    assert result.exit_code == 0, result.output
    found = [one["figures"][key] for one in json.loads(result.stdout).values()]
    values = [one["cut_length"] if key == "machining" else one for one in found]
    assert values == sorted(values, reverse=down)


def test_comparing_what_cannot_be_made_ends_in_1(spec: Path, tmp_path: Path) -> None:
    result = run(spec, "--out", tmp_path / "out", "--vary", "columns=40,41", "--compare", "A1,A2")
    assert result.exit_code == 1
    assert "--compare A2: cannot be made" in result.output
    assert not (tmp_path / "out").exists()


def test_finishes_are_shown_in_colour_and_other_sheets_in_black(spec: Path, tmp_path: Path) -> None:
    for key, values in (("look.finish", "gold,red"), ("web.rib", "2.0,2.4")):
        line = ["--vary", f"{key}={values}", "--as-drawn", "--out", str(tmp_path / key)]
        result = CliRunner().invoke(main, ["sheet", str(spec), *line])
        assert result.exit_code == 0, result.output
        text = (tmp_path / key / "sheet.svg").read_text().partition("</metadata>")[2]
        stops = re.findall(r'stop-color="(#\w+)"', text)
        assert len(set(stops)) == (8 if key == "look.finish" else 0)
        assert len(set(re.findall(r' id="([^"]+)"', text))) == len(re.findall(r' id="', text))

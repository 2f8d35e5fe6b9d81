"""``openwork sheet`` as it is typed."""

import json
import re

import pytest
from click.testing import CliRunner

import openwork
from openwork.cli import main
from openwork.spec import load

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
def spec(tmp_path):
    path = tmp_path / "harbour.toml"
    path.write_text(SPEC)
    return path


def run(*arguments):
    return CliRunner().invoke(main, ["sheet", *map(str, arguments)])


def test_sheets_are_written_and_named_in_turn(spec, tmp_path):
    out = tmp_path / "out"
    result = run(spec, "--out", out, "--count", 30, "--jobs", 2)
    assert result.exit_code == 0, result.output
    assert sorted(path.name for path in out.iterdir()) == ["sheet-2.svg", "sheet.html", "sheet.svg"]
    assert "30 variants" in result.output
    assert "estimates" in result.output


def test_the_number_of_processes_changes_no_byte(spec, tmp_path):
    for jobs in (1, 2):
        assert run(spec, "--out", tmp_path / str(jobs), "--count", 7, "--jobs", jobs).exit_code == 0
    one, two = ((tmp_path / str(jobs) / "sheet.svg").read_bytes() for jobs in (1, 2))
    assert one == two


def test_a_picked_variant_is_made_again_from_its_spec(spec, tmp_path):
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


def test_what_cannot_be_made_keeps_its_place_and_says_why(spec, tmp_path):
    result = run(spec, "--out", tmp_path, "--vary", "columns=40:42:1")
    assert result.exit_code == 0, result.output
    assert "3 variants, 2 cannot be made" in result.output
    assert re.search(r"A2 honeycomb, columns 41: .*multiple of 5", result.output)
    page = (tmp_path / "sheet.svg").read_text()
    assert page.count("cannot be made") == 2
    assert all(f'id="A{k}"' in page for k in (1, 2, 3))


def test_a_sheet_of_nothing_but_reasons_ends_in_1(spec, tmp_path):
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
        (["--set", "web.ribb=2"], "web.rib"),
    ],
)
def test_a_wrong_command_line_ends_in_2_and_writes_nothing(spec, tmp_path, arguments, message):
    out = tmp_path / "out"
    result = run(spec, "--out", out, *arguments)
    assert result.exit_code == 2, result.output
    assert message in result.output
    assert not out.exists()


def test_picking_what_cannot_be_made_ends_in_1(spec, tmp_path):
    result = run(spec, "--out", tmp_path / "out", "--vary", "columns=40,41", "--pick", "A2")
    assert result.exit_code == 1
    assert "multiple of 5" in result.output
    assert not (tmp_path / "out").exists()


def test_the_date_is_printed_only_on_request(spec, tmp_path):
    dates = []
    for name, more in (("without", []), ("with", ["--date"])):
        assert run(spec, "--out", tmp_path / name, "--count", 1, *more).exit_code == 0
        page = (tmp_path / name / "sheet.svg").read_text()
        dates.append(re.findall(r">\d{4}-\d\d-\d\d</text>", page))
    assert dates[0] == []
    assert len(dates[1]) == 1

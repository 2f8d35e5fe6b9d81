"""The rings of a sheet on the shelf, and what the command says when it cannot begin."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from openwork.cli import main
from openwork.errors import SpecError
from openwork.live.sheet import rings_of
from openwork.spec.spec import from_toml, load
from tests.live.serving import HARBOUR, apart, served


def sheet(folder: Path) -> Path:
    path = folder / "harbour.toml"
    path.write_text(HARBOUR, "utf-8")
    words = ["sheet", str(path), "--pattern", "arcs", "--vary", "rows=1,2", "--as-drawn"]
    done = CliRunner().invoke(main, [*words, "--out", str(folder / "sheets")])
    assert done.exit_code == 0, done.output
    return folder / "sheets" / "sheet.html"


def test_the_rings_of_a_sheet_lie_on_the_shelf(tmp_path: Path) -> None:
    path = sheet(tmp_path)
    rings = rings_of(path)
    assert list(rings) == ["A1", "A2"]
    assert {from_toml(text).pattern.parameters["rows"] for text in rings.values()} == {1, 2}
    with served(tmp_path, "--sheet", str(path)) as there, there.socket() as web:
        web.send(json.dumps({"keep": 1, "spec": there.told}))
        json.loads(web.recv(timeout=20))
        web.send(json.dumps({"shelf": 2}))
        found = [json.loads(web.recv(timeout=20)) for _ in range(3)]
    assert [one["name"] for one in found] == ["A1", "A2", "ring1"]
    assert all(one["openings"] and one["blank"] for one in found)


def test_a_spec_saved_from_a_sheet_is_taken(tmp_path: Path) -> None:
    text = rings_of(sheet(tmp_path))["A2"]
    (tmp_path / "own").mkdir()
    with served(tmp_path / "own", text=text) as there:
        assert load(there.folder / "harbour.toml").pattern.parameters["rows"] == 2
        with there.socket() as web:
            web.send(json.dumps({"draw": 1, "spec": there.told}))
            assert json.loads(web.recv(timeout=20))["chosen"]["rows"] == 2


@pytest.mark.parametrize(("text", "words"), [(None, "No such file"), ("<html>", "not a page")])
def test_what_is_no_sheet_is_told(tmp_path: Path, text: str | None, words: str) -> None:
    path = tmp_path / "sheet.html"
    if text is not None:
        path.write_text(text)
    with pytest.raises(SpecError, match=f"--sheet .*{words}"):
        rings_of(path)


@pytest.mark.parametrize(
    ("text", "words"),
    [(None, "no such file; `openwork new"), ("[web", "not TOML"), ("[ring]", "ring.teeth: missing"),
     ("title = 'x'\n[ring]\nteeth = 42\n[mount]\ncircle = 110.0\n[web]\nrib = 0.1\n", "web.rib")],
)  # fmt: skip
def test_a_file_that_is_no_spec_begins_nothing(
    tmp_path: Path, text: str | None, words: str
) -> None:
    path = tmp_path / "x.toml"
    if text is not None:
        path.write_text(text)
    done = apart(CliRunner().invoke, main, ["hone", str(path), "--no-browser"])
    assert done.exit_code == 2
    assert words in done.output
    assert "Traceback" not in done.output


@pytest.mark.parametrize(
    ("options", "found", "words"),
    [([], True, ""), ([], False, "no browser was found: open the address"),
     (["--no-browser"], False, "")],
)  # fmt: skip
def test_the_address_is_told_whether_or_not_there_is_a_browser(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, options: list[str], found: bool, words: str
) -> None:
    asked: list[str] = []

    def ended(*given: Any) -> None:
        given[-1]("http://127.0.0.1:1/x/")
        raise KeyboardInterrupt

    monkeypatch.setattr("openwork.live.server.serve", ended)

    def shown(address: str) -> bool:
        asked.append(address)
        return found

    monkeypatch.setattr("webbrowser.open", shown)
    done = CliRunner().invoke(main, ["hone", str(tmp_path / "x.toml"), *options])
    assert done.exit_code == 0
    assert done.output.startswith("http://127.0.0.1:1/x/\nFigures are estimates.")
    assert words in done.output
    assert "closed; what was not saved" in done.output
    assert asked == ([] if options else ["http://127.0.0.1:1/x/"])

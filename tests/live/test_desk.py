"""What is written where, and what never is."""

import errno
import os
import sys
from pathlib import Path
from typing import Any

import pytest

from openwork.live.desk import Desk

_writes: list[str] = []


def _noted(event: str, given: tuple[Any, ...]) -> None:
    if event == "open" and isinstance(given[1], str) and set(given[1]) & set("wax+"):
        _writes.append(str(given[0]))


sys.addaudithook(_noted)


@pytest.fixture
def writes() -> list[str]:
    """The paths that are opened for writing meanwhile."""
    _writes.clear()
    return _writes


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    path = tmp_path / "fleet" / "harbour.toml"
    path.parent.mkdir()
    path.write_text("one")
    return Desk(path, tmp_path / "out")


def test_it_writes_the_spec_beside_it_and_nowhere_else(desk: Desk, writes: list[str]) -> None:
    assert desk.save("two", desk.stamp())["written"] == ["fleet/harbour.toml"]
    assert desk.keep("three")["written"] == ["harbour-kept/ring1.toml"]
    assert desk.beside("four")["written"] == ["fleet/harbour-1.toml"]
    assert desk.export({"ring.svg": b"<svg/>"})["written"] == ["out/ring.svg"]
    folders = {Path(path).parent for path in writes}
    assert folders == {desk.path.parent, desk.shelf, desk.out}
    assert desk.path.read_text() == "two"


def test_a_change_made_elsewhere_is_not_overwritten(desk: Desk) -> None:
    stamp = desk.stamp()
    desk.path.write_text("theirs")
    assert desk.save("mine", stamp) == {"conflict": "harbour.toml", "gone": False}
    assert desk.path.read_text() == "theirs"
    desk.path.unlink()
    assert desk.save("mine", stamp) == {"conflict": "harbour.toml", "gone": True}
    assert not desk.path.exists()


def test_two_windows_on_one_file_the_second_is_told(desk: Desk) -> None:
    stamp = desk.stamp()
    first = desk.save("first", stamp)
    assert "conflict" in desk.save("second", stamp)
    assert desk.path.read_text() == "first"
    assert desk.save("first again", first["stamp"])["written"]


def test_kept_rings_take_the_next_free_name(desk: Desk) -> None:
    for text in "abc":
        desk.keep(text)
    (desk.shelf / "ring2.toml").unlink()
    assert desk.keep("d")["written"] == ["harbour-kept/ring2.toml"]
    (desk.shelf / "not a name.toml").write_text("x")
    assert {name: text for name, text in desk.kept()} == {"ring1": "a", "ring2": "d", "ring3": "c"}


def test_a_full_disk_is_told_and_nothing_is_lost(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(path: Path, data: bytes) -> int:
        path.touch()
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Path, "write_bytes", full)
    for found in (desk.save("two", desk.stamp()), desk.keep("x"), desk.export({"a.svg": "x"})):
        assert "No space left on device; nothing was written" in found["faults"][0]
    assert desk.path.read_text() == "one"
    assert [path.name for path in desk.path.parent.iterdir() if path.is_file()] == ["harbour.toml"]


def test_a_folder_that_cannot_be_written_is_told(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def denied(path: Path, data: bytes) -> int:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))

    monkeypatch.setattr(Path, "write_bytes", denied)
    assert desk.save("two", desk.stamp())["faults"] == [
        "fleet: Permission denied; nothing was written, earlier files are whole"
    ]


def test_a_drawing_is_saved_as_a_spec_beside_it(tmp_path: Path) -> None:
    (tmp_path / "ring.svg").write_text("<svg/>")
    desk = Desk(tmp_path / "ring.svg", tmp_path / "out")
    assert desk.save("spec", desk.stamp())["written"] == [f"{tmp_path.name}/ring.toml"]
    assert (tmp_path / "ring.svg").read_text() == "<svg/>"

"""Files are written whole or not at all."""

import errno
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from openwork.files import write_files


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_text_and_bytes_are_written_and_the_folder_is_made(tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    paths = write_files(folder, {"one.txt": "grün\n", "two.bin": b"\x00\xff"})
    assert [path.read_bytes() for path in paths] == ["grün\n".encode(), b"\x00\xff"]
    assert names(folder) == ["one.txt", "two.bin"]


def test_a_folder_in_the_place_of_the_last_file_leaves_the_first_whole(tmp_path: Path) -> None:
    (tmp_path / "one.txt").write_text("earlier")
    (tmp_path / "two.txt").mkdir()
    with pytest.raises(IsADirectoryError, match=r"two\.txt"):
        write_files(tmp_path, {"one.txt": "later", "two.txt": "later"})
    assert (tmp_path / "one.txt").read_text() == "earlier"
    assert names(tmp_path) == ["one.txt", "two.txt"]


def test_a_file_in_the_place_of_the_folder_is_named(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("earlier")
    with pytest.raises(NotADirectoryError, match="taken"):
        write_files(tmp_path / "taken", {"one.txt": "later"})
    assert (tmp_path / "taken").read_text() == "earlier"


def test_an_interruption_between_two_files_leaves_both_earlier_ones(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    contents = {"one.txt": "later", "two.txt": "later"}
    write_files(tmp_path, dict.fromkeys(contents, "earlier"))
    real = Path.write_bytes

    def interrupted(self: Path, data: bytes) -> int:
        if "two" in self.name:
            raise KeyboardInterrupt
        return real(self, data)

    monkeypatch.setattr(Path, "write_bytes", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_files(tmp_path, contents)
    assert {(tmp_path / name).read_text() for name in contents} == {"earlier"}
    assert names(tmp_path) == ["one.txt", "two.txt"]


def test_a_full_disk_leaves_earlier_files_whole(tmp_path: Path) -> None:
    """A limit of 4096 bytes to a file stands in for the full disk: the write fails midway."""
    write_files(tmp_path, {"one.txt": "earlier"})
    code = (
        "from pathlib import Path\n"
        "from openwork.files import write_files\n"
        f"write_files(Path({str(tmp_path)!r}), {{'one.txt': 'x' * 9999}})\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", code],
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096)),
        capture_output=True,
        text=True,
        check=False,
    )
    assert f"[Errno {errno.EFBIG}]" in run.stderr
    assert (tmp_path / "one.txt").read_text() == "earlier"
    assert names(tmp_path) == ["one.txt"]

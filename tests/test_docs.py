"""The examples of README.md, of DEVELOPERS.md and of the reference run."""

import doctest
import os
import re
import shutil
import subprocess
import sys
from html.parser import HTMLParser
from importlib import import_module
from pathlib import Path

import pytest

from openwork.fill.catalogue import renewed
from tests._sweep import often

ROOT = Path(__file__).parents[1]
BLOCK = re.compile(r"^```(\w*)\n(.*?)^```$", re.M | re.S)


def blocks(name: str, language: str) -> list[str]:
    text = (ROOT / name).read_text(encoding="utf-8")
    return [body for found, body in BLOCK.findall(text) if found == language]


def test_readme_python_prints_what_it_says() -> None:
    (code,) = blocks("README.md", "python")
    shown = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout
    assert shown in blocks("README.md", "")


@pytest.mark.parametrize(
    "line",
    [line for body in blocks("README.md", "") for line in body.splitlines() if "openwork " in line],
)
def test_readme_commands_are_known(line: str) -> None:
    from openwork.cli import main

    assert line.split()[1] in main.list_commands(None)  # type: ignore[arg-type]


def test_readme_tour_runs(tmp_path: Path) -> None:
    tour = next(body for body in blocks("README.md", "") if "openwork new" in body)
    for line in tour.splitlines():
        command = [sys.executable, "-m", "openwork", *line.split()[1:]]
        done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
        assert done.returncode == 0, f"{line}\n{done.stderr}"
    assert (tmp_path / "courier" / "ring.svg").exists()
    assert (tmp_path / "sheets" / "sheet.svg").exists()


OTHERS = [
    line
    for body in blocks("README.md", "")
    for line in body.splitlines()
    if line.startswith("openwork ") and " gallery/" in line
]
LONG = ("openwork alloys", "--strength", "--relief", "step", "gallery/grown/")  # ten seconds each


@pytest.mark.parametrize("line", often(OTHERS, lambda line: not any(map(line.count, LONG))))
def test_the_other_commands_run(line: str, tmp_path: Path) -> None:
    words = line.replace(" gallery/", f" {ROOT}/gallery/").split()[1:]
    command = [sys.executable, "-m", "openwork", *words]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_a_pattern_is_added_in_five_minutes(tmp_path: Path) -> None:
    family, contract = blocks("DEVELOPERS.md", "python")
    (tmp_path / "wedges.py").write_text(family, encoding="utf-8")
    (tmp_path / "test_wedges.py").write_text(f"import wedges\n{contract}", encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", str(tmp_path)],
        cwd=tmp_path, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout
    assert "70 passed" in done.stdout


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A copy of the project that has the pattern of DEVELOPERS.md, put inside as it says there."""
    root = tmp_path / "project"
    skipped = (".git", ".venv", "node_modules", "out", "*.egg-info", ".*_cache")
    left_out = shutil.ignore_patterns(*skipped)
    shutil.copytree(ROOT, root, symlinks=True, ignore=left_out)
    code, contract = blocks("DEVELOPERS.md", "python")
    (root / "patterns" / "wedges.py").write_text(code, encoding="utf-8")
    (root / "tests" / "patterns" / "test_wedges.py").write_text(contract, encoding="utf-8")
    (root / "gallery" / "wedges").mkdir()
    spec = next(body for body in blocks("DEVELOPERS.md", "toml") if "[ring]" in body)
    (root / "gallery" / "wedges" / "spec.toml").write_text(spec, encoding="utf-8")
    return root


def done(root: Path, *words: str) -> None:
    """Run a module of Python in the project at *root*, and see that all is well."""
    run = subprocess.run(
        [sys.executable, "-m", *words], cwd=root, env={**os.environ, "PYTHONPATH": str(root)},
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert run.returncode == 0, f"{words}\n{run.stdout}\n{run.stderr}"


def test_a_pattern_inside_the_project_passes_its_checks_and_tests(copy: Path) -> None:
    commands = next(body for body in blocks("DEVELOPERS.md", "") if "fill.catalogue" in body)
    for line in commands.splitlines():
        done(copy, *line.removeprefix("python -m ").split())
    done(copy, "ruff", "check", ".")
    done(copy, "ruff", "format", "--check", ".")
    done(copy, "mypy", "openwork/patterns/wedges.py")
    tests = ["tests/patterns/test_wedges.py", "tests/commands/test_patterns_command.py"]
    done(copy, "pytest", "-q", "-p", "no:cacheprovider", *tests)
    done(copy, "pytest", "-q", "-p", "no:cacheprovider", "tests/test_docs.py", "-k", "table")
    gallery = "wedges and (example or recipe)"
    done(copy, "pytest", "-q", "-p", "no:cacheprovider", "tests/test_gallery.py", "-k", gallery)


def test_the_table_of_patterns_is_up_to_date() -> None:
    """`make gallery` writes it anew."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    assert renewed(text) == text
    pictures = re.findall(r"\]\((gallery/[^)]*)\)", text)
    assert pictures
    assert all((ROOT / picture).is_file() for picture in pictures)


CHAIN = re.findall(
    r"^\| `(openwork[.\w]+)` \| `(\w+)` \| (\S+) \|",
    (ROOT / "DEVELOPERS.md").read_text("utf-8"), re.M,
)  # fmt: skip


@pytest.mark.parametrize(("module", "name", "value"), CHAIN)
def test_the_chain_of_tolerances_is_that_of_the_code(module: str, name: str, value: str) -> None:
    assert getattr(import_module(module), name) == float(value)


def test_the_chain_of_tolerances_closes() -> None:
    chain = {(module.rpartition(".")[2], name): float(value) for module, name, value in CHAIN}
    assert chain["site", "CHORD"] < chain["classes", "SAME_COPY"] < chain["cores", "TRACE"]
    assert chain["gauge", "FINE"] < chain["margins", "SLACK"]
    assert chain["testing", "SAMPLING"] < chain["testing", "LENGTH"] <= chain["margins", "SLACK"]


class Page(HTMLParser):
    """The blocks of code of a page, and the names that it explains."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.blocks: list[str] = []
        self.names: list[str] = []
        self.inside = False
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "pre":
            self.inside = True
            self.blocks.append("")
        if tag == "section" and (name := dict(attrs).get("id")):
            self.names.append(name)

    def handle_endtag(self, tag: str) -> None:
        self.inside = self.inside and tag != "pre"

    def handle_data(self, data: str) -> None:
        if self.inside:
            self.blocks[-1] += data


@pytest.fixture(scope="module")
def reference(tmp_path_factory: pytest.TempPathFactory) -> Page:
    folder = tmp_path_factory.mktemp("docs")
    command = [sys.executable, "-m", "tools.reference", str(folder)]
    subprocess.run(command, cwd=ROOT, capture_output=True, check=True)
    return Page((folder / "index.html").read_text("utf-8"))


def test_the_reference_explains_every_public_name(reference: Page) -> None:
    import openwork
    from tools.reference import SHOWN

    names = [*openwork.__all__, *(name for names in SHOWN.values() for name in names)]
    assert set(names) <= set(reference.names)


def test_every_block_of_code_of_the_reference_runs(
    reference: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    from tools.reference import SHOWN

    monkeypatch.chdir(ROOT)
    known = {name: value for module in SHOWN for name, value in vars(import_module(module)).items()}
    blocks = [block for block in reference.blocks if "tooth band" not in block]  # a picture
    examples = [
        doctest.DocTestParser().get_doctest(one, {**known}, "page", None, 0) for one in blocks
    ]
    assert examples
    assert all(one.examples for one in examples)
    found = [doctest.DocTestRunner(verbose=False).run(one) for one in examples]
    assert sum(one.attempted for one in found) >= 6
    assert sum(one.failed for one in found) == 0

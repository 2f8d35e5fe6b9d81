"""The command line: every command's help, every bad input, and that earlier files stay whole."""

from __future__ import annotations

import dataclasses
import json
import os
import re
import resource
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import openwork
from openwork.cli import COMMANDS, main
from openwork.commands import __path__ as command_folder
from openwork.spec.spec import Spec, from_toml, load
from openwork.tables.caution import CAUTION
from openwork.tables.recipe import recipe
from openwork.tables.table import table_of

ROOT = Path(__file__).parents[2]
HARBOUR = ROOT / "gallery" / "harbour" / "spec.toml"
DRAWN = ["figures.json", "preview.svg", "ring.svg"]


def run(*words: object) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def files(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@dataclass(frozen=True)
class Row:
    """A command line in an empty folder, its exit status, and words on either stream."""

    words: str
    status: int
    says: str
    writes: tuple[str, ...] = ()


ROWS = [
    Row("--help", 0, "Draw, weigh and compare pierced chainrings"),
    Row("--version", 0, "openwork "),
    Row("drew", 2, "No such command 'drew'"),
    Row("new", 2, "Missing argument 'FILE'"),
    Row("new ring.toml", 0, "wrote ring.toml", ("ring.toml",)),
    Row("new a/b/ring.toml", 0, "wrote a/b/ring.toml", ("a",)),
    Row("new ring.toml --schema", 0, "spec.schema.json", ("ring.toml", "spec.schema.json")),
    Row("new ring.toml --mass 0.2", 2, "goal.mass = 0.2: must be a number from 1 to 5000"),
    Row("new .", 2, ".: is there already; --force overwrites it"),
    Row("draw", 2, "Missing argument 'SPEC'"),
    Row("draw nowhere.toml", 2, "nowhere.toml: no such file; `openwork new nowhere.toml` writes"),
    Row("draw .", 2, ".: is a folder"),
    Row(f"draw {HARBOUR} --colour red", 2, "No such option"),
    Row(f"draw {HARBOUR} --set web.rib", 2, "--set web.rib: no TABLE.KEY=VALUE; web.rib=2.0 works"),
    Row(f"draw {HARBOUR} --set =3", 2, "no TABLE.KEY=VALUE"),
    Row(f"draw {HARBOUR} --set web.ribs=2", 2, "--set web.ribs: unknown key; web.rib is nearest"),
    Row(f"draw {HARBOUR} --set web.rib=wide", 2, '--set web.rib = "wide": must be a number'),
    Row(f"draw {HARBOUR} --set web.rib=nan", 2, "--set web.rib = nan: must be a number"),
    Row(f"draw {HARBOUR} --set web.rib=-inf", 2, "0.5 works"),
    Row(f"draw {HARBOUR} --set web.rib=1e300", 2, "30 works"),
    Row(f"draw {HARBOUR} --set ring.teeth=5", 2, "from 9 to 150; 9 works"),
    Row(f"draw {HARBOUR} --set ring.teeth=5000", 2, "from 9 to 150; 150 works"),
    Row(f"draw {HARBOUR} --set pattern.name=spoks", 2, "did you mean 'spokes'?"),
    Row(f"draw {HARBOUR} --set pattern.petals=5", 2, "honeycomb has no such parameter"),
    Row(f"draw {HARBOUR} --set pattern.columns=41", 1, "multiple of 5"),
    Row(f"draw {HARBOUR} --set mount.circle=200", 1, "ring.teeth 42: bolt centres on a circle of"),
    Row(f"draw {HARBOUR} --set mount.pad=30 --set mount.bolts=12", 1, "pads overlap"),
    Row(f"draw {HARBOUR} --set ring.teeth=32", 1, "works"),
    Row(f"draw {HARBOUR} --set web.hem=20", 1, "makes room"),
    Row(f"draw {HARBOUR} --set web.rib=20", 1, "rib"),
    Row(f"draw {HARBOUR} --out ring", 0, "wrote ring/ring.svg", ("ring",)),
    Row(f"draw {HARBOUR}", 0, "wrote out/spec/ring.svg", ("out",)),
    Row(f"draw {HARBOUR} --out /dev/null/x", 1, "Not a directory; earlier files are whole"),
    Row(f"draw {HARBOUR} --out /proc/x", 1, "/proc"),
]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.words.replace(str(HARBOUR), "SPEC"))
def test_command(row: Row, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    result = run(*row.words.split())
    assert result.exit_code == row.status, result.output
    assert row.says in (result.stderr if row.status else result.stdout)
    assert tuple(files(tmp_path)) == row.writes
    assert "Traceback" not in result.output
    if row.status:
        assert result.stdout == ""


def test_the_table_of_commands_is_that_of_the_modules() -> None:
    modules = {path.stem for path in Path(command_folder[0]).glob("[a-z]*.py")}
    assert set(COMMANDS) == modules


@pytest.mark.parametrize("name", COMMANDS)
def test_the_summary_of_a_command_is_the_first_line_of_its_help(name: str) -> None:
    text = run(name, "--help").stdout
    assert " ".join(text.split("\n\n")[1].split()) == COMMANDS[name]


def test_the_help_imports_nothing_heavy() -> None:
    code = (
        "import sys\nfrom openwork.cli import main\n"
        "try: main(['--help'])\nexcept SystemExit: pass\n"
        "heavy = {'numpy', 'scipy', 'shapely', 'pydantic', 'rich', 'svgwrite', 'tomlkit'}\n"
        "print(sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_the_help_starts_in_a_quarter_of_a_second() -> None:
    """Processor time, which other work on the machine does not stretch much; the best of three."""

    def spent() -> float:
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([sys.executable, "-m", "openwork", "--help"], stdout=-3, check=True)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime

    assert min(spent() for _ in range(3)) < 0.25


def test_a_new_spec_draws_as_it_stands(tmp_path: Path) -> None:
    assert run("new", tmp_path / "fleet.toml").exit_code == 0
    result = run("draw", tmp_path / "fleet.toml", "--out", tmp_path / "ring")
    assert result.exit_code == 0, result.output
    assert files(tmp_path / "ring") == DRAWN


def test_new_overwrites_only_by_force(tmp_path: Path) -> None:
    path = tmp_path / "ring.toml"
    path.write_text("earlier")
    assert run("new", path).exit_code == 2
    assert path.read_text() == "earlier"
    assert run("new", path, "--force").exit_code == 0
    assert path.read_text().startswith("# A chainring")


def test_new_takes_the_mass_that_was_promised(tmp_path: Path) -> None:
    path = tmp_path / "ring.toml"
    assert run("new", path, "--teeth", 44, "--mass", 100).exit_code == 0
    assert load(path).goal.mass == 100.0


def test_the_schema_stands_where_the_spec_says(tmp_path: Path) -> None:
    run("new", tmp_path / "ring.toml", "--schema")
    first = (tmp_path / "ring.toml").read_text().splitlines()[0]
    assert first == "#:schema spec.schema.json"
    families = json.loads((tmp_path / "spec.schema.json").read_text())["$defs"]["PatternTable"]
    assert {"honeycomb", "spokes"} <= set(families["properties"]["name"]["enum"])
    assert openwork.load(tmp_path / "ring.toml").title == "Harbour 42"


def test_the_table_tells_the_ring_and_the_caution(tmp_path: Path) -> None:
    text = run("draw", HARBOUR, "--out", tmp_path, "--set", "title=Quay [red]").stdout
    figures = json.loads((tmp_path / "figures.json").read_text())
    assert "Quay [red]" in text
    assert "5 bolts on 110 mm" in text
    assert re.search(r"honeycomb: columns 40, rows \d+, phase cell", text)
    assert f"{figures['mass']:.1f} g" in text
    assert f"{figures['openings']} (" in text
    assert " ".join(CAUTION.split()) in " ".join(text.split())


def test_json_goes_to_standard_output_and_nothing_else(tmp_path: Path) -> None:
    result = run("draw", HARBOUR, "--out", tmp_path, "--json")
    assert result.stdout == (tmp_path / "figures.json").read_text()
    assert json.loads(result.stdout)["teeth"] == 42
    assert result.stderr == ""


def test_the_same_spec_gives_the_same_bytes_and_the_drawing_makes_itself_again(
    tmp_path: Path,
) -> None:
    run("draw", HARBOUR, "--out", tmp_path / "one")
    (tmp_path / "recipe.toml").write_text(recipe((tmp_path / "one" / "ring.svg").read_text()))
    run("draw", tmp_path / "recipe.toml", "--out", tmp_path / "two")
    for name in DRAWN:
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()


def test_all_faults_come_at_once_one_a_line(tmp_path: Path) -> None:
    (tmp_path / "bad.toml").write_text('[ring]\nteeth = 5\nchain = "x"\n[web]\nribs = 2\n')
    result = run("draw", tmp_path / "bad.toml", "--set", "web.rim=-1")
    assert result.exit_code == 2
    lines = result.stderr.splitlines()
    assert [line.startswith(f"{tmp_path}/bad.toml: ") for line in lines] == [
        True, True, True, False, True,
    ]  # fmt: skip


def test_what_cannot_be_made_names_the_file(tmp_path: Path) -> None:
    spec = tmp_path / "small.toml"
    spec.write_text("[ring]\nteeth = 20\n[mount]\ncircle = 110\nbolts = 12\npad = 20\n")
    result = run("draw", spec, "--out", tmp_path / "ring")
    assert result.exit_code == 1
    assert len(result.stderr.splitlines()) >= 2
    assert all(line.startswith(f"{spec}: ") for line in result.stderr.splitlines())
    assert files(tmp_path) == ["small.toml"]


@pytest.mark.parametrize(
    ("figure", "value", "says"),
    [
        ("rib", {"least": 1.9}, "least rib measures 1.900 mm, the limit is 2 mm"),
        ("corner_least", 1.2, "least inside radius measures 1.200 mm, the limit is 1.5 mm"),
        ("rim_least", 2.5, "web.rim: the rim measures 2.500 mm, the limit is 3 mm"),
        ("hem_least", 0.5, "web.hem: the hem measures 0.500 mm, the limit is 3 mm"),
        ("pad_least", 8.0, "mount.pad: the pad measures 8.000 mm, the limit is 8.5 mm"),
        ("pieces", 2, "falls into 2 pieces"),
    ],
)
def test_a_ring_that_breaks_a_measured_limit_is_not_written(
    figure: str, value: object, says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    measured = openwork.figures

    def worse(ring: object) -> object:
        return dataclasses.replace(measured(ring), **{figure: value})  # type: ignore[arg-type]

    monkeypatch.setattr(openwork, "figures", worse)
    result = run("draw", HARBOUR, "--out", tmp_path / "ring")
    assert (result.exit_code, files(tmp_path)) == (1, [])
    assert says in result.stderr


def test_an_interrupted_run_leaves_earlier_files_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    run("draw", HARBOUR, "--out", tmp_path)
    before = (tmp_path / "ring.svg").read_bytes()

    def interrupted(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("openwork.render.ring.preview.preview_svg", interrupted)
    result = run("draw", HARBOUR, "--out", tmp_path, "--set", "web.rib=2.5")
    assert (result.exit_code, result.stderr) == (130, "interrupted; earlier files are whole\n")
    assert (tmp_path / "ring.svg").read_bytes() == before
    assert files(tmp_path) == DRAWN


def process(*words: object, before: Callable[[], None] | None = None) -> tuple[int, str]:
    done = subprocess.run(
        [sys.executable, "-m", "openwork", *map(str, words)],
        preexec_fn=before, capture_output=True, text=True, check=False,
    )  # fmt: skip
    return done.returncode, done.stderr


def test_a_ring_is_drawn_without_a_word_on_standard_error(tmp_path: Path) -> None:
    assert process("draw", HARBOUR, "--out", tmp_path) == (0, "")


def test_a_full_disk_is_told_and_leaves_earlier_files_whole(tmp_path: Path) -> None:
    """A limit of 4096 bytes to a file stands in for the full disk: the write fails midway."""
    run("draw", HARBOUR, "--out", tmp_path)
    before = (tmp_path / "ring.svg").read_bytes()
    limit = (4096, 4096)
    status, said = process(
        "draw", HARBOUR, "--out", tmp_path, "--set", "web.rib=2.5",
        before=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, limit),
    )  # fmt: skip
    assert (status, said) == (1, f"{tmp_path}: File too large; earlier files are whole\n")
    assert (tmp_path / "ring.svg").read_bytes() == before
    assert files(tmp_path) == DRAWN


@pytest.fixture
def locked() -> Iterator[Path]:
    """A folder that the user, for this test never root, may read but not write."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "spec.toml").write_bytes(HARBOUR.read_bytes())
        folder.chmod(0o555)
        user = os.geteuid()
        run("draw", HARBOUR, "--out", "/dev/null/x")  # what is imported late is then there
        os.seteuid(user or 65534)
        yield folder
        os.seteuid(user)
        folder.chmod(0o755)


def test_a_folder_without_leave_to_write_is_named(locked: Path) -> None:
    result = run("draw", locked / "spec.toml", "--out", locked)
    told = f"{locked}: Permission denied; earlier files are whole\n"
    assert (result.exit_code, result.stderr) == (1, told)
    assert files(locked) == ["spec.toml"]


def test_a_bug_keeps_its_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("openwork.render.ring.preview.preview_svg", broken)
    assert isinstance(run("draw", HARBOUR).exception, ZeroDivisionError)


KEYS = ["title", "x", "pattern.columns", "pattern.rows", "pattern.phase"] + [
    f"{name}.{key}"
    for name, field in Spec.model_fields.items()
    for key in getattr(table_of(field), "model_fields", ())
]
WORDS = (
    st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
    | st.integers().map(str)
    | st.floats().map(str)
    | st.floats(0, 60).map(str)
    | st.sampled_from(["[]", "[0, 90, 200]", "{}", "{ diameter = 3, depth = 9 }", "true", '"'])
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.sampled_from(KEYS), WORDS), min_size=1, max_size=3))
def test_junk_in_any_key_never_gives_a_traceback(
    tmp_path: Path, pairs: list[tuple[str, str]]
) -> None:
    changes = [word for key, value in pairs for word in ("--set", f"{key}={value}")]
    result = run("draw", HARBOUR, "--out", tmp_path, *changes)
    assert result.exception is None or isinstance(result.exception, SystemExit)
    assert result.exit_code in {0, 1, 2}
    assert bool(result.stderr) == bool(result.exit_code)


@given(st.binary(max_size=60) | st.text(max_size=60).map(str.encode))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_junk_for_a_file_never_gives_a_traceback(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "junk.toml").write_bytes(content)
    result = run("draw", tmp_path / "junk.toml")
    assert isinstance(result.exception, SystemExit)
    assert result.exit_code == 2


def test_the_functions_stand_in_front_of_their_modules() -> None:
    import openwork.measure.figures
    import openwork.ring

    spec = from_toml("[ring]\nteeth = 42\n[mount]\ncircle = 110\n")
    ring = openwork.design(spec)
    assert openwork.figures(ring).teeth == 42
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        _ = openwork.nothing


def test_the_module_runs_under_the_name_of_the_command() -> None:
    line = [sys.executable, "-m", "openwork", "draw"]
    done = subprocess.run(line, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert done.stderr.startswith("Usage: openwork draw")

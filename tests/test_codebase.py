"""The rules of the house that a reader of the code relies on."""

from __future__ import annotations

import ast
import json
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import jsonschema
import pytest

from openwork.fill.registry import patterns
from openwork.spec.schema import SCHEMA, schema, text

ROOT = Path(__file__).parents[1]
# Imports point from later lines to earlier ones, or stay inside a room; the longest name counts.
ORDER = [
    ["openwork.errors", "openwork.files", "openwork.shape"],
    ["openwork.shape.gauging", "openwork.shape.parallel", "openwork.shape.tracing"],
    ["openwork.drawing", "openwork.strength.meshing", "openwork.tables"],
    ["openwork.part"],
    ["openwork.fill"],
    ["openwork.strength"],
    ["openwork.lettering"],
    ["openwork.spec"],
    ["openwork.ring"],
    ["openwork.patterns", "openwork.measure", "openwork.render.drawing", "openwork.render.solid"],
    ["openwork.testing", "openwork.explore.mass", "openwork.render.ring"],
    ["openwork.explore"],
    ["openwork.explore.family", "openwork.explore.variants"],
    ["openwork.render.paper", "openwork.render.extras"],
    ["openwork.render.accept", "openwork.render.browser", "openwork.render.sheet"],
    ["openwork.render.family", "openwork.render.shop"],
    ["openwork.render"],
    ["openwork.live"],
    ["openwork"],
    ["openwork.commands"],
    ["openwork.cli"],
    ["openwork.__main__"],
]
RANKS = {name: rank for rank, names in enumerate(ORDER) for name in names}


def sources() -> list[Path]:
    """Return the modules by their places in the package, the linked folders entered."""
    package = ROOT / "openwork"
    rooms = [path for path in package.iterdir() if path.is_dir()]
    return sorted([*package.glob("*.py"), *(p for room in rooms for p in room.rglob("*.py"))])


def module(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


def home(name: str) -> str:
    """Return the longest name in the order that holds the module *name*."""
    inside = [known for known in RANKS if f"{name}.".startswith(f"{known}.")]
    return max(inside, key=len)


def imported(tree: ast.AST) -> Iterator[str]:
    """Yield the modules of ours that *tree* imports by full name, at any depth."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name.startswith("openwork"))
        elif isinstance(node, ast.ImportFrom) and (node.module or "").startswith("openwork"):
            assert node.module is not None
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def wrong_imports(name: str, tree: ast.AST) -> list[str]:
    own = home(name)
    return [
        f"{name} imports {other}"
        for other in imported(tree)
        if home(other) != own and RANKS[home(other)] >= RANKS[own]
    ]


def faces() -> dict[str, frozenset[str]]:
    """Return what each room shows to the others: the ``__all__`` of its package."""
    packages = [path for path in sources() if path.name == "__init__.py"]
    return {module(path): face(ast.parse(path.read_text("utf-8"))) for path in packages}


def face(tree: ast.Module) -> frozenset[str]:
    """Return the names in the ``__all__`` of a package, none where it has none."""
    for node in tree.body:
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__":
            return frozenset(ast.literal_eval(node.value))
    return frozenset()


def hidden_imports(name: str, tree: ast.AST, shown: dict[str, frozenset[str]]) -> list[str]:
    """Return what the module *name* imports of other rooms past their faces."""
    return [
        f"{name} imports {other} past the face of {room}"
        for other in imported(tree)
        for room, part in doors(name, other)
        if room != "openwork" and room in shown and part not in shown[room]
    ]


def doors(name: str, other: str) -> Iterator[tuple[str, str]]:
    """Yield each room on the way from module *name* to *other*, and what is taken from it."""
    here, there = name.split("."), other.split(".")
    shared = 0
    while shared < min(len(here), len(there)) - 1 and here[shared] == there[shared]:
        shared += 1
    for depth in range(shared + 1, len(there)):
        yield ".".join(there[:depth]), there[depth]


def test_imports_point_inwards() -> None:
    assert len(sources()) > 40
    trees = {module(path): ast.parse(path.read_text("utf-8")) for path in sources()}
    del trees["openwork"]  # the front door: its imports wait until they are asked for
    assert [fault for name, tree in trees.items() for fault in wrong_imports(name, tree)] == []


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("openwork.shape.tracing.trace", "from openwork.part.chain import Chain"),
        ("openwork.part.blank", "def f():\n    from openwork import spec"),
        ("openwork.fill.finish", "import openwork.patterns.honeycomb"),
        ("openwork.ring", "from openwork.patterns import honeycomb"),
        ("openwork.explore.mass.tune", "from openwork.render.ring.outline import ring_svg"),
        ("openwork.tables.goal", "from openwork.spec.spec import Spec"),
    ],
)
def test_the_check_of_imports_can_fail(name: str, code: str) -> None:
    assert wrong_imports(name, ast.parse(code)) != []


def test_rooms_import_only_each_others_faces() -> None:
    shown = faces()
    trees = {module(path): ast.parse(path.read_text("utf-8")) for path in sources()}
    found = [fault for name, tree in trees.items() for fault in hidden_imports(name, tree, shown)]
    assert found == []


def test_a_face_shows_what_is_there() -> None:
    for room, names in faces().items():
        folder = ROOT.joinpath(*room.split("."))
        if room != "openwork":
            assert not [n for n in names if not any(folder.glob(f"{n}*"))], room


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("openwork.part.pads", "from openwork.shape.tracing.corners import corners"),
        ("openwork.render.shop.dxf", "from openwork.render.sheet import caption"),
        ("openwork.shape.parallel.offset", "def f():\n    import openwork.shape.gauging.ridges"),
    ],
)
def test_the_check_of_faces_can_fail(name: str, code: str) -> None:
    assert hidden_imports(name, ast.parse(code), faces()) != []


@pytest.mark.parametrize("room", ["shape", "part", "fill", "strength", "patterns"])
def test_what_takes_plain_values_does_not_know_the_spec(room: str) -> None:
    for path in (ROOT / "openwork" / room).rglob("*.py"):
        names = imported(ast.parse(path.read_text("utf-8")))
        assert not [name for name in names if home(name) in {"openwork.spec", "openwork.ring"}]


def spoken(tree: ast.AST) -> list[str]:
    """Return what *tree* calls or imports that speaks to a user or ends the process."""
    calls = (node.func for node in ast.walk(tree) if isinstance(node, ast.Call))
    named = [ast.unparse(call) for call in calls]
    modules = [name for node in ast.walk(tree) if isinstance(node, ast.Import | ast.ImportFrom)
               for name in [getattr(node, "module", None) or node.names[0].name]]  # fmt: skip
    loud = {"print", "input", "exit", "quit", "sys.exit", "os._exit", "warnings.warn", "breakpoint"}
    return [name for name in named if name in loud] + [
        name for name in modules if name.partition(".")[0] in {"click", "rich", "logging"}
    ]


def test_only_the_commands_speak() -> None:
    loud = {
        module(path): found
        for path in sources()
        if not module(path).startswith(("openwork.cli", "openwork.commands"))
        and (found := spoken(ast.parse(path.read_text("utf-8"))))
    }
    assert loud == {}
    assert spoken(ast.parse("import rich.table\nprint(1)")) == ["print", "rich.table"]


def test_the_packages_of_the_wheel_are_those_of_the_tree() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    tree = {module(path) for path in sources() if path.name == "__init__.py"}
    assert set(project["tool"]["setuptools"]["packages"]) == tree


def test_the_schema_is_up_to_date() -> None:
    assert SCHEMA.read_text("utf-8") == text({}), "python -m openwork.spec.schema renews it"


GALLERY = sorted((ROOT / "gallery").rglob("spec.toml"))


def test_the_gallery_has_its_specs() -> None:
    assert len(GALLERY) >= 6


@cache
def validators() -> tuple[jsonschema.Draft202012Validator, ...]:
    """Return those of the schema on disk and of the one made now."""
    schemas = (json.loads(SCHEMA.read_text("utf-8")), schema(patterns()))
    for one in schemas:
        jsonschema.Draft202012Validator.check_schema(one)
    return tuple(map(jsonschema.Draft202012Validator, schemas))


@pytest.mark.parametrize("path", GALLERY, ids=lambda path: path.parent.name)
def test_every_gallery_spec_passes_the_schema(path: Path) -> None:
    data = tomllib.loads(path.read_text("utf-8"))
    for validator in validators():
        validator.validate(data)


def test_pre_commit_runs_what_make_check_runs() -> None:
    make = (ROOT / "Makefile").read_text("utf-8")
    hooks = (ROOT / ".pre-commit-config.yaml").read_text("utf-8")
    (parts,) = re.findall(r"^check: (.*)$", make, re.M)
    assert re.findall(r"entry: make (\w+)", hooks) == parts.split()


def test_ci_runs_the_targets_of_the_makefile() -> None:
    make = (ROOT / "Makefile").read_text("utf-8")
    run = (ROOT / ".ci" / "run").read_text("utf-8")
    targets = re.findall(r"^make (\w+)$", run, re.M)
    assert targets == ["test", "check", "wheel", "sweep"]
    assert all(re.search(rf"^{target}:", make, re.M) for target in targets)

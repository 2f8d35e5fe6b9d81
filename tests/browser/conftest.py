"""Pages for a browser to show."""

from collections.abc import Callable, Iterator
from functools import cache, partial
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from openwork.explore.variants.balanced import balanced
from openwork.explore.variants.variants import Entry, Made, Variant, made
from openwork.render.browser.page import page_html
from openwork.render.paper.layout import arranged
from openwork.ring import Design
from openwork.spec.spec import Spec, changed, from_toml
from tests._sure import one_of

SPEC = """
title = "Harbour 42"
[ring]
teeth = 42
[mount]
circle = 110.0
"""


@cache
def _spec() -> Spec:
    return from_toml(SPEC)


FEW = (
    ("honeycomb", {"pattern.columns": 30}),
    ("honeycomb", {"pattern.columns": 40}),
    ("honeycomb", {"pattern.columns": 41}),  # five bolts: it cannot be made
    ("michell", {"pattern.columns": 25}),
    ("circles", {"pattern.columns": 30, "web.rib": 2.6}),
    ("circles", {"pattern.columns": 40}),
    ("spokes", {"pattern.count": 20}),
    ("arcs", {"pattern.rows": 2}),
)


@cache
def _few() -> list[Entry]:
    """Return seven rings with their strength, some of one pattern, and one that cannot be made."""
    variants = [Variant(pattern=pattern, changes=(*some.items(),)) for pattern, some in FEW]
    return [made(_spec(), variant, strong=True) for variant in variants]


@cache
def _many() -> list[Entry]:
    """Return 200 rings of all patterns, each of them several times."""
    some = [made(_spec(), one) for one in balanced(_spec(), 24)]
    return (some * 9)[:200]


@pytest.fixture(scope="session")
def few() -> dict[str, Entry]:
    """The entries of the small sheet, by mark."""
    return {place.mark: entry for place, entry in arranged([_few()])}


def _shown(
    tmp_path_factory: pytest.TempPathFactory, entries: list[Entry], title: str = "Harbour 42"
) -> Path:
    path = tmp_path_factory.mktemp("page") / "sheet.html"
    path.write_text(page_html(changed(_spec(), {"title": title}), arranged([entries])), "utf-8")
    return path


@pytest.fixture
def shown(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Path]:
    """Return the function that writes the file of a sheet."""
    return partial(_shown, tmp_path_factory)


@pytest.fixture(scope="session")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of the small sheet."""
    return _shown(tmp_path_factory, _few())


@pytest.fixture(scope="session")
def great(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of 200 rings."""
    return _shown(tmp_path_factory, _many())


@pytest.fixture(scope="session")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """A file whose title and reasons try to be markup, and its title."""
    title = "</script><script>document.title='broken'</script><img src=x onerror=alert(1)>"
    wrong = made(_spec(), Variant(pattern="<b>bold</b>"))
    return _shown(tmp_path_factory, [_few()[0], wrong], title), title


@pytest.fixture(scope="session")
def bevelled(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Design]:
    """The file of one gold ring with wide bevels and counterbores, and that ring."""
    wide = {"web.bevel": 0.8, "look.finish": "gold"}
    bored = {"mount.counterbore": {"diameter": 13.0, "depth": 1.0}}
    one = made(changed(_spec(), wide | bored), Variant(pattern="petals"))
    return _shown(tmp_path_factory, [one]), one_of(Made, one).design


@pytest.fixture
def finished(shown: Callable[..., Path]) -> Callable[[str], Path]:
    """Return the function that writes the file of one ring in a finish."""
    return lambda finish: shown(
        [made(changed(_spec(), {"look.finish": finish}), Variant(pattern="spokes"))]
    )


@pytest.fixture
def visit(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Return the function that opens a file; any script error or refused load fails the test."""
    contexts, faults = [], []

    def opened(
        path: Path, *, width: int = 1024, height: int = 768, script: str = "", **options: Any
    ) -> Page:
        context = browser.new_context(viewport={"width": width, "height": int(height)}, **options)
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(10_000)
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
        if script:
            page.add_init_script(script)
        page.goto(path.as_uri())
        return page

    yield opened
    for context in contexts:
        context.close()
    assert faults == []

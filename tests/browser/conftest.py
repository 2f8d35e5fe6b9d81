"""A real browser, and pages for it to show."""

import shutil
from functools import cache

import pytest
from playwright.sync_api import sync_playwright

from openwork.explore.balanced import balanced
from openwork.explore.variants import Variant, made
from openwork.render._layout import arranged
from openwork.render.page import page_html
from openwork.spec import changed, from_toml

SPEC = """
title = "Harbour 42"
[ring]
teeth = 42
[mount]
circle = 110.0
"""
QUIET = (
    "--no-sandbox --headless --disable-gpu --disable-background-networking "
    "--disable-component-update --disable-sync --no-first-run"
)
MISSING = (
    "NO BROWSER, THE PAGE IS NOT TESTED: no chromium on PATH; `apt-get install chromium` helps"
)


@pytest.fixture(scope="session")
def browser():
    """Debian's chromium, driven by playwright."""
    path = shutil.which("chromium")
    if path is None:
        pytest.skip(MISSING)
    with sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=path, args=QUIET.split())
        yield found
        found.close()


@cache
def _spec():
    return from_toml(SPEC)


@cache
def _few():
    """Return seven rings with their strength, two of one family, and one that cannot be made."""
    looks = {
        "honeycomb": [30, 40, 41], "michell": [25], "circles": [30, 40], "spokes": [20], "arcs": [2]
    }  # fmt: skip
    names = {"spokes": "count", "arcs": "rows"}
    return [
        made(_spec(), Variant(family=family, changes=((f"pattern.{key}", count),)), strong=True)
        for family, counts in looks.items()
        for count in counts
        for key in [names.get(family, "columns")]
    ]


@cache
def _many():
    """Return 200 rings of all families, each of them several times."""
    some = [made(_spec(), one) for one in balanced(_spec(), 24)]
    return (some * 9)[:200]


@pytest.fixture(scope="session")
def few():
    """The entries of the small sheet, by mark."""
    return {place.mark: entry for place, entry in arranged([_few()])}


def _shown(tmp_path_factory, entries, title="Harbour 42"):
    path = tmp_path_factory.mktemp("page") / "sheet.html"
    path.write_text(page_html(changed(_spec(), {"title": title}), arranged([entries])), "utf-8")
    return path


@pytest.fixture(scope="session")
def small(tmp_path_factory):
    """The file of the small sheet."""
    return _shown(tmp_path_factory, _few())


@pytest.fixture(scope="session")
def great(tmp_path_factory):
    """The file of 200 rings."""
    return _shown(tmp_path_factory, _many())


@pytest.fixture(scope="session")
def hostile(tmp_path_factory):
    """A file whose title and reasons try to be markup, and its title."""
    title = "</script><script>document.title='broken'</script><img src=x onerror=alert(1)>"
    wrong = made(_spec(), Variant(family="<b>bold</b>"))
    return _shown(tmp_path_factory, [_few()[0], wrong], title), title


@pytest.fixture
def visit(browser):
    """Return the function that opens a file; any script error or refused load fails the test."""
    contexts, faults = [], []

    def opened(path, *, width=1024, height=768, script="", **options):
        context = browser.new_context(viewport={"width": width, "height": height}, **options)
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

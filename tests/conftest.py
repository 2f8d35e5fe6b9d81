"""One thread of linear algebra for each process, the same examples in every run, one browser."""

import os
import shutil
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

if TYPE_CHECKING:
    from playwright.sync_api import Browser

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # on small matrices more only wait

settings.register_profile("same", derandomize=True, deadline=None)
settings.load_profile("same")

PATIENCE = 20_000  # ms a page may take on a machine that does much else
QUIET = (
    "--no-sandbox --headless --disable-gpu --disable-background-networking --no-first-run "
    "--disable-component-update --disable-sync --force-color-profile=srgb"
)
MISSING = "NO BROWSER, NOT TESTED: no chromium on PATH; `apt-get install chromium` helps"


@pytest.fixture(scope="session")
def browser() -> Iterator["Browser"]:
    """Debian's chromium, driven by playwright, which a process can start once only."""
    path = shutil.which("chromium")
    if path is None:
        pytest.skip(MISSING)
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=PATIENCE)

    with sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=path, args=QUIET.split())
        yield found
        found.close()

"""A progress bar for work that takes longer than a second, where somebody watches."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from time import monotonic
from typing import TypeVar

T = TypeVar("T")

PATIENCE = 1.0  # seconds before a bar is shown


def tracked(items: Iterable[T], total: int, what: str) -> Iterator[T]:
    """Yield *items*, with a bar on standard error if that is a terminal and they take long."""
    from rich.console import Console
    from rich.progress import Progress

    console = Console(stderr=True)
    if not console.is_terminal:
        yield from items
        return
    start = monotonic()
    bar = Progress(console=console, transient=True)
    task = bar.add_task(what, total=total)
    try:
        for item in items:
            bar.advance(task)
            if monotonic() - start > PATIENCE and not bar.live.is_started:
                bar.start()
            yield item
    finally:
        bar.stop()

"""The time of a call, as the median of several."""

import statistics
import time
from collections.abc import Callable


def seconds(call: Callable[[], object], runs: int = 7) -> float:
    """Return the median time of *call* over *runs*, after one run that is not counted."""
    call()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def milliseconds(call: Callable[[], object], runs: int = 7) -> str:
    """Return the median time of *call* as a text."""
    return f"{1e3 * seconds(call, runs):.1f} ms"

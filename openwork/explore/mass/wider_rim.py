"""A mass that no rib gives, as small or all openings drop out there, reached by a wider rim."""

from __future__ import annotations

from openwork.explore.mass.out_of_reach import jump_over
from openwork.explore.mass.search import PLACES, TOLERANCE, Trials, solid_mass, stepped
from openwork.explore.mass.tune import Attempt, begun
from openwork.ring import Design
from openwork.spec.spec import changed

BY = "web.rim"  # turned for the rest: it is solid anyway, and the openings keep their rib
SHARES = (0.97, 0.94, 0.9, 0.85)  # of the rib before the jump: at it the rim would jump as well


def bridged(attempt: Attempt) -> Design | None:
    """Return the ring of the mass aimed at with a rib a little thinner and a wider rim, if any.

    Raises RuleError where the thinner rib makes no ring.
    """
    rib = _before(attempt.trials, attempt.aim)
    if rib is None:
        return None
    spec, key = attempt.trials.rings[rib].spec, attempt.trials.key
    for share in SHARES:
        trials, start = begun(changed(spec, {key: round(rib * share, PLACES)}), BY)
        trials.limits = (start, trials.limits[1])  # no rim is less solid than was asked for
        value = stepped(trials, start, attempt.aim, TOLERANCE)
        if value is not None:
            return trials.rings[value]
    return None


def _before(trials: Trials, target: float) -> float | None:
    """Return the rib on the lighter side of what keeps it from *target*, g; None if nothing helps.

    That is a jump of the mass, or the end of all openings.
    """
    jump = jump_over(trials, target)
    if jump is not None:
        return min(jump, key=lambda pair: pair[1])[0]
    rib, most = max(trials.known(), key=lambda pair: pair[1])
    return rib if most < target < solid_mass(trials.rings[rib]) else None

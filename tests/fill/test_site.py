"""What a site refuses."""

from typing import Any

import pytest
from shapely.geometry import Point

import openwork
from openwork.errors import RuleError
from openwork.shape.contour import polygon
from openwork.spec.spec import from_toml

SPEC = """
[ring]
teeth = 40
[mount]
circle = 110
[web]
rim = 4.5
"""


@pytest.mark.parametrize(
    ("changes", "where", "works"),
    [
        ({"web.bevel": 1.2}, "on a rib of 2 mm", 0.95),
        ({"web.bevel": 0.8, "ring.plate": 1.5}, "inside a plate of 1.5 mm", 0.7),
        ({"web.bevel": 0.6, "web.hem": 0.5}, "a hem of 0.5 mm", 0.45),
        ({"web.bevel": 0.3, "mount.counterbore": {"diameter": 16.8, "depth": 1.0}}, "a pad", 0.05),
    ],
)
def test_bevels_that_meet_are_refused_with_what_works(
    changes: dict[str, Any], where: str, works: float
) -> None:
    with pytest.raises(RuleError, match=f"web.bevel .*{where}.*; {works:g} works"):
        openwork.design(from_toml(SPEC, changes=changes))
    design = openwork.design(from_toml(SPEC, changes={**changes, "web.bevel": works}))
    grown = [polygon(one, sagitta=1e-5).buffer(works, quad_segs=64) for one in design.sector]
    bore = design.spec.mount.counterbore
    bored = (bore.diameter if bore else design.spec.mount.hole) / 2
    holes = [Point(at).buffer(bored, quad_segs=64) for at in design.site.bolt_points]
    apart = [*grown, *holes]
    nearest = min(a.distance(b) for k, a in enumerate(apart) for b in apart[:k])
    assert nearest > 0.05 - 1e-4  # of flat metal is left; chords stand for arcs


def test_all_that_is_wrong_is_said_at_once() -> None:
    with pytest.raises(RuleError) as found:
        openwork.design(from_toml(SPEC, changes={"web.bevel": 1.2, "web.rim": 0.5}))
    assert len(str(found.value).splitlines()) == 2


def test_without_a_bevel_the_thinnest_hem_will_do() -> None:
    site = openwork.design(from_toml(SPEC, changes={"web.bevel": 0.0, "web.hem": 0.5})).site
    assert site.inner == (110 + 6) / 2 + 0.5

"""Any spec either gives a ring that keeps its limits, measured, or one clear message."""

from typing import Any

import numpy as np
import shapely
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from openwork.errors import RuleError, SpecError
from openwork.fill.registry import patterns
from openwork.ring import design
from openwork.shape.contour import area, polygon
from openwork.spec.spec import Spec
from openwork.testing import least_distance, shapes
from tests._sweep import SLOW

BOLT_CIRCLES = {3: 86.0, 4: 104.0, 5: 110.0}

specs = st.builds(
    lambda bolts, more, rib, corner, rim, hem, pad, blend, name, seed: {
        "ring": {"teeth": 30 + more},
        "mount": {"bolts": bolts, "circle": BOLT_CIRCLES[bolts], "pad": pad, "blend": blend},
        "web": {"rib": rib, "corner": corner, "rim": rim, "hem": hem},
        "pattern": {"name": name, "seed": seed},
    },
    st.sampled_from([3, 4, 5]),
    st.integers(4, 30),
    st.floats(1.0, 5.0),
    st.floats(0.5, 3.0),
    st.floats(2.5, 6.0),
    st.floats(1.0, 6.0),
    st.floats(7.2, 10.0),
    st.floats(1.0, 8.0),
    st.sampled_from(sorted(set(patterns()) - set(SLOW))),
    st.integers(0, 2**32 - 1),
)


@given(specs)
@settings(
    max_examples=25,
    phases=[Phase.explicit, Phase.generate],  # shrinking a ring takes longer than reading one
    suppress_health_check=[HealthCheck.too_slow],
)
def test_any_ring_keeps_its_limits_or_says_why_not(table: dict[str, Any]) -> None:
    try:
        ring = design(Spec.model_validate(table))
    except (RuleError, SpecError):
        return
    everything = shapes(ring.openings)
    sector = everything[: len(ring.sector)]
    assert shapely.is_valid(everything).all()
    assert all(area(one) > 0 for one in ring.sector)
    assert least_distance(sector, everything) >= ring.site.rib - 1e-3
    radius = np.hypot(*shapely.get_coordinates(list(sector)).T)
    assert ring.site.inner - 1e-3 <= radius.min()
    assert radius.max() <= ring.site.outer + 1e-3
    centres = shapely.points(ring.site.bolt_points)
    assert shapely.distance(sector[:, None], centres).min() >= ring.site.pad - 1e-3
    reached = shapely.buffer(
        shapely.buffer(sector, -0.999 * ring.site.corner, quad_segs=64),
        0.999 * ring.site.corner,
        quad_segs=64,
    )
    assert (shapely.area(reached) > 0.999 * shapely.area(sector)).all()
    blank = polygon(ring.blank.outline, [ring.blank.edge, *ring.blank.bolts])
    assert blank.difference(shapely.union_all(everything)).geom_type == "Polygon"

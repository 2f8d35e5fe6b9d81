"""The room of a site is that of its walls, whatever is to be left between the openings."""

import dataclasses

from openwork.fill.site import site
from openwork.part.blank import blank
from openwork.spec.spec import from_toml

SPEC = from_toml("[ring]\nteeth = 42\n[mount]\ncircle = 110.0\nturn = 9.0")


def test_the_room_is_made_once_for_all_ribs() -> None:
    one = site(blank(SPEC.ring, SPEC.mount), SPEC.web)
    other = dataclasses.replace(one, rib=one.rib + 1, corner=one.corner + 1, turn=0.0)
    assert other.room(1.0) is one.room(1.0)


def test_another_wall_is_another_room() -> None:
    one = site(blank(SPEC.ring, SPEC.mount), SPEC.web)
    wider = dataclasses.replace(one, pad=one.pad + 1)
    lower = dataclasses.replace(one, outer=one.outer - 1)
    for other in (wider, lower, dataclasses.replace(one, blend=one.blend + 1)):
        assert other.room(1.0).area != one.room(1.0).area

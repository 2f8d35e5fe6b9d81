"""The finished toothed outline, measured: pins, rollers, joints and the form of ISO 606."""

import math
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import ArrayLike

from openwork.errors import RuleError
from openwork.part.chain import CHAINS, Chain
from openwork.part.teeth import diameters, pointed_diameter, tip_diameter, tooth_outline
from openwork.shape.contour import Contour, Floats, area, circle, polygon, rotated
from tests.part.test_diameters import WORKED, sized
from tests.part.tools import kinks, lengths

CHAIN = CHAINS["082"]
FINE = 1e-5  # mm between arcs and their chords, where an outline is measured


def works(teeth: int, chain: Chain, gap: float, tip: float) -> float:
    """Return *tip*, or what the refusal of it says works."""
    try:
        tooth_outline(teeth, chain, gap=gap, tip=tip)
    except RuleError as fault:
        return float(str(fault).split("ring.tip ")[2].split()[0])
    return tip


def metal(teeth: int, gap: float, tip: float, chain: Chain = CHAIN) -> shapely.Polygon:
    """Return the outline as a fine polygon, with a tip as high as works up to *tip*."""
    tip = works(teeth, chain, gap, tip)
    shape = polygon(tooth_outline(teeth, chain, gap=gap, tip=tip), sagitta=FINE)
    shapely.prepare(shape)
    return shape


def clearances(shape: shapely.Polygon, centres: ArrayLike, radius: float) -> Floats:
    """Return the distances (n,) of discs of *radius* from the metal, negative on overlap."""
    points = shapely.points(np.asarray(centres).real, np.asarray(centres).imag)
    away = shapely.distance(points, shape.exterior)
    free: Floats = np.where(shape.contains(points), -away, away) - radius
    return free


def pin_seat(shape: shapely.Polygon, angle: float, pin: float) -> complex:
    """Return where a pin (diameter) comes to rest that is pushed inwards along *angle*."""
    ray = complex(math.cos(angle), math.sin(angle))
    inside, outside = 0.0, float(np.hypot(*shape.exterior.coords.xy).max()) + pin
    for _ in range(40):
        middle = (inside + outside) / 2
        if clearances(shape, [middle * ray], pin / 2)[0] < 0:
            inside = middle
        else:
            outside = middle
    return outside * ray


def over_pins(shape: shapely.Polygon, teeth: int, pin: float) -> float:
    """Return the measure over two pins in gaps as nearly opposite as can be."""
    far = math.tau * (teeth // 2) / teeth
    seats = [pin_seat(shape, angle, pin) for angle in (0.0, far)]
    return abs(seats[0] - seats[1]) + pin


@pytest.mark.parametrize("row", WORKED, ids=lambda row: row[0])
@pytest.mark.parametrize("gap", [0.0, 1.0])
def test_pins_in_the_gaps_measure_what_gb_t_1243_prints(row: tuple[Any, ...], gap: float) -> None:
    # The printed measures over pins M_R of the worked table, to its 0.01 mm.
    number, teeth, pitch, roller, depth, *sizes = row
    shape = metal(teeth, gap, 0.3, sized(number, pitch, roller, depth))
    assert over_pins(shape, teeth, roller) == pytest.approx(sizes[-1], abs=0.0052)


@pytest.mark.parametrize("teeth", [9, 12, 23, 24, 39, 42, 53, 60, 149, 150])
@pytest.mark.parametrize("gap", [0.0, 0.5, 1.0])
def test_pins_of_the_rollers_diameter_measure_the_over_pin_size(teeth: int, gap: float) -> None:
    # ISO 606: d + d1 for even counts, d cos(90/z) + d1 for odd ones.
    pitch = 12.7 / math.sin(math.pi / teeth)
    wanted = pitch * (math.cos(math.pi / 2 / teeth) if teeth % 2 else 1.0) + 7.75
    measured = over_pins(metal(teeth, gap, 0.4), teeth, 7.75)
    assert measured == pytest.approx(wanted, abs=0.002)


@pytest.mark.parametrize("teeth", [9, 11, 24, 42, 53, 150])
@pytest.mark.parametrize("gap", [0.0, 0.5, 1.0])
def test_a_chain_of_rollers_seats_and_clears(teeth: int, gap: float) -> None:
    shape = metal(teeth, gap, 1.0)
    turns = np.exp(2j * np.pi * np.arange(teeth) / teeth)
    rollers = 12.7 / 2 / math.sin(math.pi / teeth) * turns
    assert np.allclose(abs(rollers - np.roll(rollers, 1)), 12.7)
    free = clearances(shape, rollers, 7.75 / 2)
    assert free.min() > -2 * FINE
    assert free.max() < 2 * FINE


def test_a_stretched_chain_does_not_seat() -> None:
    # Shows that the measure above can fail: links 2 % long ride up the flanks.
    teeth = 42
    shape = metal(teeth, 0.0, 1.0)
    steps = (
        12.7 * 1.02 * np.exp(1j * (np.pi / 2 + np.pi / teeth + 2 * np.pi * np.arange(8) / teeth))
    )
    rollers = 12.7 / 2 / math.sin(math.pi / teeth) + np.concatenate([[0], np.cumsum(steps)])
    assert clearances(shape, rollers, 7.75 / 2).min() < -0.1


@pytest.mark.parametrize("gap", [0.0, 0.5, 1.0])
def test_the_next_roller_swings_in_clear_of_the_flank(gap: float) -> None:
    # Kinematics of a rigid link about its seated neighbour, for all counts a ring is made in.
    swing = np.exp(1j * np.radians(np.linspace(0, 90, 181)))
    for teeth in range(9, 61):
        shape = metal(teeth, gap, 1.0)
        radius = 12.7 / 2 / math.sin(math.pi / teeth)
        seated = radius * np.exp(2j * np.pi / teeth)
        path = seated + (radius - seated) * swing
        free = clearances(shape, path, 7.75 / 2)
        assert free.min() > -2 * FINE, teeth
        assert free[-1] > 2, teeth


# Radii and seating angles by ISO 606 for d1 7.75, computed from its formulas (forms by name, as
# reproductions of the standard differ in subscripts). z, r_e and r_e, alpha and alpha: min, max.
FORMS = [
    (11, 12.090, 18.662, 131.8182, 111.8182),
    (22, 22.320, 41.168, 135.9091, 115.9091),
    (32, 31.620, 74.648, 137.1875, 117.1875),
    (42, 40.920, 120.528, 137.8571, 117.8571),
    (53, 51.150, 185.318, 138.3019, 118.3019),
    (60, 57.660, 234.360, 138.5000, 118.5000),
]


@pytest.mark.parametrize("row", FORMS, ids=lambda row: f"{row[0]} teeth")
def test_the_arcs_are_those_of_the_standards_forms(row: tuple[Any, ...]) -> None:
    teeth, flank_least, flank_most, angle_least, angle_most = row
    for gap, seat, flank, angle in (
        (0.0, 3.91375, flank_least, angle_least),
        (1.0, 4.05030, flank_most, angle_most),
        (0.5, 3.982025, (flank_least + flank_most) / 2, (angle_least + angle_most) / 2),
    ):
        outline = tooth_outline(teeth, CHAIN, gap=gap, tip=0.2)
        concave = outline.bulges < 0
        assert np.count_nonzero(concave) == teeth
        assert outline.radii[concave] == pytest.approx(np.full(teeth, seat), abs=1e-5)
        sweeps = np.degrees(-outline.sweeps[concave])
        assert sweeps == pytest.approx(np.full(teeth, angle), abs=5.1e-5)
        assert outline.radii[np.roll(concave, 1)] == pytest.approx(np.full(teeth, flank), abs=1e-3)


def built_up(teeth: int, seat: float, flank: float, angle: float, tip: float) -> shapely.Polygon:
    """Return the ring cut from a disc: gaps of a seat disc and the room between two flank discs."""
    root = 12.7 / math.sin(math.pi / teeth) / 2 - 7.75 / 2
    centre, half = root + seat, math.radians(angle / 2)
    end = np.array([centre - seat * math.cos(half), seat * math.sin(half)])
    ray = np.array([math.cos(math.pi / teeth), math.sin(math.pi / teeth)])
    upper = [end, np.hypot(*end) * ray, 1.1 * tip * ray]
    room = shapely.Polygon([*upper, *(point * [1, -1] for point in reversed(upper))])
    far = centre - (seat + flank) * math.cos(half), (seat + flank) * math.sin(half)
    for side in (1, -1):
        room = room.difference(shapely.Point(far[0], side * far[1]).buffer(flank, quad_segs=4000))
    gap = room.union(shapely.Point(centre, 0).buffer(seat, quad_segs=400))
    gaps = [shapely.affinity.rotate(gap, 360 * k / teeth, origin=(0, 0)) for k in range(teeth)]
    return shapely.Point(0, 0).buffer(tip, quad_segs=20000).difference(shapely.union_all(gaps))


@pytest.mark.parametrize(
    ("teeth", "gap", "sizes"),
    [(22, 0.0, (3.91375, 22.320, 135.9091)), (42, 0.0, (3.91375, 40.920, 137.8571))],
)
def test_the_outline_is_the_ring_cut_from_a_disc_with_rounded_corners(
    teeth: int, gap: float, sizes: tuple[float, float, float]
) -> None:
    tip = tip_diameter(teeth, CHAIN, tip=0.5) / 2
    cut = built_up(teeth, *sizes, tip)
    rounded = cut.buffer(-0.3, quad_segs=200).buffer(0.3, quad_segs=200)
    ours = polygon(tooth_outline(teeth, CHAIN, gap=gap, tip=0.5), sagitta=FINE)
    assert cut.symmetric_difference(ours).area > 0.1
    assert ours.symmetric_difference(rounded).area < 0.01


@pytest.mark.parametrize("gap", [0.0, 0.5, 1.0])
@pytest.mark.parametrize("chain", CHAINS.values(), ids=CHAINS.keys())
def test_joints_are_tangent_and_no_piece_is_short_for_every_count(chain: Chain, gap: float) -> None:
    for teeth in range(9, 151):
        for tip in (0.0, 0.5, works(teeth, chain, gap, 1.0)):
            outline = tooth_outline(teeth, chain, gap=gap, tip=works(teeth, chain, gap, tip))
            assert kinks(outline).max() < 0.01, (teeth, tip)
            assert lengths(outline).min() > 0.05, (teeth, tip)


@settings(max_examples=60)
@given(
    teeth=st.integers(9, 150),
    gap=st.floats(0, 1),
    tip=st.floats(0, 1),
    chain=st.sampled_from(list(CHAINS.values())),
)
def test_any_outline_keeps_the_standards_bounds(
    teeth: int, gap: float, tip: float, chain: Chain
) -> None:
    tip = works(teeth, chain, gap, tip)
    outline = tooth_outline(teeth, chain, gap=gap, tip=tip)
    shape = polygon(outline, sagitta=1e-4)
    sizes = diameters(teeth, chain)
    reach = np.hypot(*shape.exterior.coords.xy)
    assert shape.is_valid
    assert shape.exterior.is_ccw
    assert reach.max() == pytest.approx(tip_diameter(teeth, chain, tip=tip) / 2, abs=2e-4)
    assert reach.min() == pytest.approx(sizes.root / 2, abs=2e-4)
    assert sizes.tip_least / 2 - 1e-4 < reach.max() + 2e-4
    assert reach.max() < sizes.tip_most / 2 + 1e-4
    assert area(outline) == pytest.approx(shape.area, rel=1e-5)
    assert kinks(outline).max() < 0.01
    assert lengths(outline).min() > 0.05


@pytest.mark.parametrize("teeth", [9, 24, 53])
@pytest.mark.parametrize("tip", [0.0, 0.5, 1.0])
def test_turning_by_a_tooth_or_mirroring_changes_nothing(teeth: int, tip: float) -> None:
    outline = tooth_outline(teeth, CHAIN, gap=0.3, tip=works(teeth, CHAIN, 0.3, tip))
    per_tooth = len(outline) // teeth
    turned = rotated(outline, -math.tau / teeth)
    assert np.allclose(np.roll(turned.points, -per_tooth, axis=0), outline.points, atol=1e-9)
    assert np.allclose(outline.bulges.reshape(teeth, -1), outline.bulges[:per_tooth], atol=1e-12)
    flipped = Contour(outline.points[::-1] * [1, -1], np.roll(outline.bulges[::-1], -1))
    shift = int(np.argmin(np.hypot(*(flipped.points - outline.points[0]).T)))
    assert np.allclose(np.roll(flipped.points, -shift, axis=0), outline.points, atol=1e-9)
    assert np.allclose(np.roll(flipped.bulges, -shift), outline.bulges, atol=1e-9)


def test_a_gap_lies_on_the_x_axis() -> None:
    shape = metal(41, 0.0, 0.5)
    assert not shape.contains(shapely.Point(diameters(41, CHAIN).pitch / 2, 0))
    assert shape.contains(shapely.Point(-diameters(41, CHAIN).pitch / 2, 0))


# Diameters at which flanks meet when the seat is drawn about the pitch circle, as the standard's
# figure does; computed from that figure's geometry. z, min form, max form
POINTED = [
    (22, 98.791, 95.085),
    (32, 139.585, 135.592),
    (38, 164.012, 159.863),
    (42, 180.280, 176.034),
    (48, 204.663, 200.282),
    (52, 220.907, 216.444),
]


def meeting(teeth: int, gap: int, seat_centre: float) -> float:
    """Return the diameter at which the flank discs of a tooth cross; *seat_centre* mm out."""
    seat = (0.505 * 7.75, 0.505 * 7.75 + 0.069 * 7.75 ** (1 / 3))[gap]
    flank = (0.12 * 7.75 * (teeth + 2), 0.008 * 7.75 * (teeth**2 + 180))[gap]
    half = math.radians((140, 120)[gap] - 90 / teeth) / 2
    along = seat_centre - (seat + flank) * math.cos(half)
    across = (seat + flank) * math.sin(half)
    this = complex(along, across) * complex(math.cos(math.pi / teeth), -math.sin(math.pi / teeth))
    discs = [
        shapely.Point(this.real, side * this.imag).buffer(flank, quad_segs=8000) for side in (1, -1)
    ]
    return 2 * float(np.max(discs[0].intersection(discs[1]).exterior.coords.xy[0]))


@pytest.mark.parametrize(("teeth", "least_form", "most_form"), POINTED)
def test_flanks_meet_where_the_standards_figure_says_moved_out_with_the_seat(
    teeth: int, least_form: float, most_form: float
) -> None:
    # The figure's seat would miss the root circle by r_i - d1/2, 0.039 or 0.175 mm; ours does
    # not, and so its flanks meet as much further out: about 0.1 or 0.4 mm of diameter.
    pitch = 12.7 / math.sin(math.pi / teeth) / 2
    for gap, figure, shift in ((0, least_form, 0.03875), (1, most_form, 0.175305)):
        assert meeting(teeth, gap, pitch) == pytest.approx(figure, abs=0.001)
        ours = pointed_diameter(teeth, CHAIN, gap=gap)
        assert ours == pytest.approx(meeting(teeth, gap, pitch + shift), abs=0.001)
        assert 1.9 * shift < ours - figure < 2.6 * shift


def test_the_flanks_of_the_finished_outline_run_to_the_pointed_diameter() -> None:
    # The flank arcs beside a tooth, taken from the outline and produced, cross on its centreline.
    teeth = 42
    outline = tooth_outline(teeth, CHAIN, gap=1.0, tip=0.2)
    seats = np.flatnonzero(outline.bulges < 0)
    discs = [
        polygon(circle(outline.radii[k], outline.centres[k]), sagitta=FINE)
        for k in (seats[0] + 1, seats[1] - 1)
    ]
    common = discs[0].intersection(discs[1])
    far = np.hypot(*common.exterior.coords.xy).max()
    assert 2 * far == pytest.approx(pointed_diameter(teeth, CHAIN, gap=1.0), abs=1e-3)


@pytest.mark.parametrize(("teeth", "gap", "tip"), [(42, 1.0, 0.5), (30, 0.8, 1.0), (11, 1.0, 0.7)])
def test_a_tip_above_the_meeting_flanks_is_refused_with_what_works(
    teeth: int, gap: float, tip: float
) -> None:
    with pytest.raises(RuleError, match=r"flanks meet at \d+\.\d+ mm") as caught:
        tooth_outline(teeth, CHAIN, gap=gap, tip=tip)
    words = str(caught.value).split("; ")[1].split()
    lower, tighter = float(words[1]), float(words[4])
    tooth_outline(teeth, CHAIN, gap=gap, tip=lower)
    tooth_outline(teeth, CHAIN, gap=tighter, tip=tip)
    with pytest.raises(RuleError):
        tooth_outline(teeth, CHAIN, gap=gap, tip=lower + 0.011)
    with pytest.raises(RuleError):
        tooth_outline(teeth, CHAIN, gap=tighter + 0.011, tip=tip)


def test_the_maximum_form_never_reaches_the_greatest_tip_diameter() -> None:
    # Both are permitted by ISO 606, not together: flanks of the maximum form meet below da max.
    for teeth in range(9, 151):
        assert pointed_diameter(teeth, CHAIN, gap=1.0) < diameters(teeth, CHAIN).tip_most
        assert pointed_diameter(teeth, CHAIN, gap=0.0) > diameters(teeth, CHAIN).tip_most
        assert pointed_diameter(teeth, CHAIN, gap=1.0) > diameters(teeth, CHAIN).tip_least

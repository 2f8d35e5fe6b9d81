"""Whole rings: invariances, equilibrium, and what must rise when metal is added."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest
from pydantic import ValidationError

from openwork.errors import RuleError
from openwork.part.material import MATERIALS
from openwork.shape.contour import as_complex, mirrored, rotated
from openwork.strength.body import Fineness, body, gap_bottoms, seats
from openwork.strength.chainpull import lever, pressure_angle, tooth_forces
from openwork.strength.element import assembled, elastic, gauss_points, plane_rigidity
from openwork.strength.loading import loaded, mean_stiffness
from openwork.strength.meaning import MEANING
from openwork.strength.model import Model
from openwork.strength.plain import plain, thinned
from openwork.strength.plane import chain_loads, factored, in_plane, ready, rim
from openwork.strength.plate import across, bolt_gaps
from openwork.strength.quality import Quality
from openwork.strength.report import strength
from openwork.tables.load import Load
from openwork.tables.support import Spider
from tests.strength.rings import holes, mean_turn, ring, slots

COARSE = Fineness(3.0, 2.5)
PHI = pressure_angle(44)
DEGREE = np.pi / 180 / 1000  # N m/deg of N mm/rad


def stiffness(model: Model, fineness: Fineness = COARSE) -> float:
    return lever(model.teeth, model.pitch, PHI) / mean_turn(body(model, fineness), PHI)


def turned(model: Model, angle: float) -> Model:
    """Return the ring with everything inside its teeth turned."""
    return dataclasses.replace(
        model,
        edge=rotated(model.edge, angle),
        bolts=tuple(rotated(one, angle) for one in model.bolts),
        openings=tuple(rotated(one, angle) for one in model.openings),
    )


def flipped(model: Model) -> Model:
    return dataclasses.replace(
        model,
        outline=mirrored(model.outline),
        edge=mirrored(model.edge),
        bolts=tuple(mirrored(one) for one in model.bolts),
        openings=tuple(mirrored(one) for one in model.openings),
    )


def test_the_nodal_loads_add_up_to_the_tooth_forces() -> None:
    made = body(ring(holes()), COARSE)
    loads = chain_loads(made, PHI)
    forces = tooth_forces(44, PHI)
    assert np.column_stack([loads[0::2, 0], loads[1::2, 0]]).sum(axis=0) == pytest.approx(
        forces.sum(axis=0), abs=1e-12
    )
    x, y = made.mesh.nodes.T
    moment = (x[:, None] * loads[1::2] - y[:, None] * loads[0::2]).sum(axis=0)
    # The seat's own lever adds at most a little: the force passes the roller's centre.
    assert moment == pytest.approx(lever(44, 12.7, PHI), rel=0.01)


def test_reactions_balance_the_load() -> None:
    made = body(ring(holes()), COARSE)
    loads = chain_loads(made, PHI)
    u = factored(made).solve(loads)
    rigidity = plane_rigidity(71700.0, 0.33)
    blocks = elastic(made.slopes, made.slopes.areas * made.thickness, rigidity)
    whole = assembled(blocks, made.mesh.triangles, len(made.mesh.nodes))
    residual = whole @ u - loads
    held = np.repeat(made.held, 2)
    assert abs(residual[~held]).max() < 1e-9
    reaction = residual.reshape(-1, 2, 44).sum(axis=0)
    assert reaction == pytest.approx(-loads.reshape(-1, 2, 44).sum(axis=0), abs=1e-9)
    assert abs(whole - whole.T).max() < 1e-9 * abs(whole).max()


def test_linear_in_load_modulus_and_thickness() -> None:
    model = ring(holes(), tooth_width=4.0)
    whole = stiffness(model)
    half = dataclasses.replace(model, plate=2.0, tooth_width=2.0)
    assert stiffness(half) == pytest.approx(whole / 2, rel=1e-9)
    soft = dataclasses.replace(
        model, material=dataclasses.replace(model.material, modulus=71700 / 3)
    )
    assert stiffness(soft) == pytest.approx(whole / 3, rel=1e-9)
    figures = [strength(ring(holes()), Load(force=f), quality="search") for f in (750.0, 1500.0)]
    assert figures[1].plane.stiffness == pytest.approx(figures[0].plane.stiffness, rel=1e-9)
    peaks = [one.stress.peak_stress.value for one in figures if one.stress]
    assert peaks[1] == pytest.approx(2 * peaks[0], rel=1e-9)


def test_turning_the_web_by_a_sector_changes_nothing_but_the_mesh() -> None:
    model = ring(slots(0.25))
    assert stiffness(turned(model, 2 * np.pi / 5)) == pytest.approx(stiffness(model), rel=5e-3)


def test_a_column_is_the_same_ring_turned() -> None:
    # 45 teeth on five bolts: nine gaps on, the ring is the same; only its mesh is not.
    made = in_plane(
        ready(body(ring(slots(0.25), teeth=45), Fineness(2.0, 1.6))), pressure_angle(45)
    )
    again = np.roll(made.rotation, 9)
    assert made.rotation == pytest.approx(again, rel=5e-3)
    assert np.ptp(made.rotation) > 0.01 * made.rotation.mean()


def test_mirrored_ring_under_mirrored_pull() -> None:
    model = ring(slots(0.25))
    made, image = body(model, Fineness(2.0, 1.6)), body(flipped(model), Fineness(2.0, 1.6))
    loads = chain_loads(made, PHI)
    turn, _ = rim(made, factored(made).solve(loads))
    # Mirrored loads on the image: gap k becomes gap -k, forces mirrored.
    forward = as_complex(tooth_forces(44, PHI)[0])
    share = seats(image, complex(np.conj(forward) / abs(forward)))
    straight = as_complex(tooth_forces(44, PHI))
    pull = np.zeros(44, dtype=complex)
    pull[np.arange(22)] = np.conj(straight)
    mirrored_loads = np.zeros((2 * len(image.mesh.nodes), 1))
    mirrored_loads[0::2, 0], mirrored_loads[1::2, 0] = share @ pull.real, share @ pull.imag
    back, _ = rim(image, factored(image).solve(mirrored_loads))
    assert -back.mean() == pytest.approx(turn[:, 0].mean(), rel=5e-3)
    # The image under the same pull is another ring: its slots lean against the chain.
    other = in_plane(ready(image), PHI).rotation[0]
    assert abs(other / turn[:, 0].mean() - 1) > 0.002


def test_metal_makes_stiff() -> None:
    bare = stiffness(ring())
    some = [stiffness(ring(holes(radius=r))) for r in (2.0, 3.0, 4.0, 4.8)]
    assert [bare, *some] == sorted([bare, *some], reverse=True)
    assert stiffness(ring(plate=5.0)) > bare


def test_the_tooth_band_counts() -> None:
    thin, full = stiffness(ring(holes())), stiffness(ring(holes(), tooth_width=4.0))
    assert 1.005 < full / thin < 1.3


def test_side_stiffness_of_the_solid_ring() -> None:
    # 2329 N/mm at a bolt, 983 between two, one gap loaded: another Reissner-Mindlin solve of the
    # same ring, itself within 1 % of a solid model of quadratic bricks where it was compared. That
    # ring thins over 1 mm to its tooth band, where ours has a step.
    made = body(ring(), COARSE)
    radius = np.hypot(*np.moveaxis(gauss_points(made.mesh), -1, 0))
    shroud = made.model.shroud
    thinning = np.asarray(np.interp(radius, [shroud - 1.0, shroud], [4.0, 2.1]))
    plate = across(dataclasses.replace(made, thickness=thinning))
    bolt, between = bolt_gaps(plate.body)
    assert 1 / plate.compliance[bolt].max() == pytest.approx(2329, rel=0.08)
    assert 1 / plate.compliance[between].max() == pytest.approx(983, rel=0.04)


def test_a_full_plate_is_as_stiff_as_the_plain_plate() -> None:
    found = strength(ring(), Load())
    assert found.plane.stiffness_vs_plate == pytest.approx(1.0, abs=0.006)
    assert found.aside.lateral_bolt_vs_plate == pytest.approx(1.0, abs=0.01)
    assert found.aside.plain_plate == pytest.approx(4.0, rel=2e-3)
    opened = strength(ring(holes()), Load())
    assert 0.8 < opened.plane.stiffness_vs_plate < 0.99
    assert opened.aside.lateral_between_vs_plate > 1.1  # the reason to pierce


def test_the_plain_plate_is_read_between_thicknesses() -> None:
    solid, arms = ring(), (15e3, 200e3)
    for share in (0.5, 0.7):
        volume = share * body(solid, COARSE).volume
        exact = plain(solid, volume, pressure=PHI, arms=arms)
        read = plain(solid, volume, pressure=PHI, arms=arms, shared=True)
        for name in ("alone", "on_arms", "at_bolt", "between"):
            assert getattr(read, name) == pytest.approx(getattr(exact, name), rel=4e-3)


def test_the_thinned_blank_has_the_mass() -> None:
    solid = ring()
    volume = 0.6 * body(solid, COARSE).volume
    thin = dataclasses.replace(solid, plate=thinned(solid, volume))
    assert body(thin, COARSE).volume == pytest.approx(volume, rel=2e-3)
    with pytest.raises(RuleError, match="no web left"):
        thinned(solid, 1000.0)


def test_mean_stiffness_is_that_of_all_positions() -> None:
    model = ring(holes())
    found = strength(model, Load(), quality="search")
    alone, hung = mean_stiffness(model, Load(), Spider(), quality="search")
    assert alone == pytest.approx(found.plane.stiffness, rel=1e-9)
    assert hung == pytest.approx(found.plane.stiffness_on_spider, rel=1e-9)
    against = strength(model, Load(), quality="search", net=ring()).plane.stiffness_vs_net
    _, net = mean_stiffness(ring(), Load(), Spider(), quality="search")
    assert against == pytest.approx(hung / net)


def test_gap_bottoms_lie_on_the_root_circle() -> None:
    made = body(ring(), COARSE)
    bottoms = made.mesh.nodes[gap_bottoms(made)]
    assert np.hypot(*bottoms.T) == pytest.approx(made.model.pitch_radius - 0.505 * 7.75, abs=1e-6)
    z = as_complex(bottoms) * np.exp(-1j * made.model.gaps)
    assert np.angle(z) == pytest.approx(0, abs=1e-9)


def test_refinement_finds_the_peak_beside_round_holes() -> None:
    # The coarse mesh is low, the second within 4 % of one twice as fine.
    model = ring(holes())
    peaks: dict[str, float] = {}
    grades: tuple[Quality, Quality] = ("search", "final")
    for quality in grades:
        found = loaded(model, Load(), Spider(), quality=quality)
        peaks[quality] = abs(found.alone.plane.stress).max()
        # One column tells the same stiffness, the mesh as fine where it is hot.
        turn = found.alone.plane.rotation.mean() * found.softer
        alone, _ = mean_stiffness(model, Load(), Spider(), quality=quality)
        assert alone == pytest.approx(lever(44, 12.7, PHI) * DEGREE / turn, rel=1e-9)
    fine = abs(in_plane(ready(body(model, Fineness(1.0, 0.75))), PHI).stress).max()
    assert peaks["search"] < peaks["final"]
    assert peaks["final"] == pytest.approx(fine, rel=0.04)


def test_figures_have_meanings_and_go_to_json() -> None:
    found = strength(ring(holes()), Load(), quality="search", modes=True, loose=True)
    listed = found.as_dict()
    told = {"quality", "mesh", "load", "spider", "bolts", "torque", "pull", "notes"}
    told |= {"stiffness_band", "stress_band"}
    assert set(listed) == set(MEANING) | told
    for name in MEANING:
        if name not in ("stiffness_vs_net", "tooth_root_wide", "tooth_side_wide"):
            assert listed[name] is not None, name
    assert found.stress is not None
    for tired in (found.stress.utilisation_rig, found.stress.utilisation_ride):
        assert tired is not None
        least, likely, greatest = tired.utilisation
        assert least < likely < greatest
    assert found.frequency is not None
    assert 1000 < found.frequency < 2300
    assert found.buckling is not None
    assert found.buckling > 5
    assert any("ISO 4210" in note for note in found.notes)


def test_what_yields_first_is_what_is_used_most() -> None:
    # A plain ring's web is cool: with a worn-in chain the root of its first tooth yields first.
    found = strength(ring(), Load(force=3000.0), quality="search").stress
    assert found is not None
    assert found.yield_worn is not None
    root, metal = max(found.tooth_root), MATERIALS["7075-T6"]
    assert root > found.peak_stress.value
    assert found.yield_worn.part == "tooth root"
    assert found.yield_worn.force == pytest.approx(3000.0 * metal.yield_strength / root)
    assert found.utilisation_static == pytest.approx(root / metal.yield_strength)


def test_a_plastic_shows_only_stiffness() -> None:
    found = strength(ring(holes(), material=MATERIALS["PLA"]), Load(), quality="search")
    assert found.plane.stiffness > 0
    assert found.aside.lateral_bolt > 0
    assert found.stress is None
    assert found.as_dict()["peak_stress"] is None
    assert "PLA: a plastic" in found.notes[0]
    assert "7075-T6 works" in found.notes[0]


def test_a_metal_without_fatigue_data_says_so() -> None:
    known = MATERIALS["7075-T6"]
    unknown = dataclasses.replace(known, name="7050-T7451", fatigue=0.0)
    found = strength(ring(holes(), material=unknown), Load(), quality="search")
    assert found.stress is not None
    assert found.stress.utilisation_static > 0
    assert found.stress.utilisation_rig is None
    assert found.stress.utilisation_ride is None
    assert "7050-T7451: no published fatigue strength" in found.notes[0]


def test_absurd_loads_and_broken_rings_are_refused() -> None:
    wrong: tuple[dict[str, Any], ...] = (
        {"force": 0.0},
        {"crank": -1.0},
        {"force": 1e6, "crank": 5.0},
    )
    for absurd in wrong:
        with pytest.raises(ValidationError):
            Load(**absurd)
    with pytest.raises(RuleError, match="not meshed"):
        strength(ring(holes(radius=5.9)), Load())  # openings overlap

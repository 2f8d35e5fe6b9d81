"""The alphabet: every sign on its grid, smooth where it is meant, as far apart as looks even."""

import string
import unicodedata

import ezdxf
import ezdxf.filemanagement
import ezdxf.path
import numpy as np
import pytest
import shapely
from fontTools.pens.areaPen import AreaPen

from openwork.lettering.alphabet import SIGNS
from openwork.lettering.engraving import engraving
from openwork.lettering.row import Row
from openwork.lettering.signs import sign
from openwork.lettering.spacing import places
from openwork.lettering.table import Mark
from openwork.lettering.text import text_faults
from openwork.shape.contour import Contour
from openwork.shape.stroke import Stroke, placed, stroke_length, stroke_points

# The letters beyond a to z of Danish, Dutch, Finnish, French, German, Icelandic, Italian,
# Norwegian, Portuguese, Spanish and Swedish, as their orthographies list them (from memory).
WESTERN = "äöüßæøåñçáéíóúýàèìòùâêîôûëïÿãõœðþ"
SMOOTH = "CDGJOSUcost069"  # signs of one stroke without a corner


def points(text: str) -> np.ndarray:
    found = sign(text)
    assert found is not None
    return np.concatenate([stroke_points(one, 1e-3) for one in found.strokes])


@pytest.mark.parametrize("text", [*string.ascii_letters, *string.digits, *WESTERN, *"ẞÄÖÜÆØÅÑÇÉ"])
def test_what_western_languages_write_is_drawn(text: str) -> None:
    low, high = points(text)[:, 1].min(), points(text)[:, 1].max()
    letter = unicodedata.normalize("NFD", text)[0]
    assert low >= -3.01
    assert high <= 13.6
    if text in string.ascii_uppercase + string.digits and text != "Q":
        assert (low, high) == pytest.approx((0, 10), abs=2e-3)
    if letter in "acemnorsuvwxz" and len(unicodedata.normalize("NFD", text)) == 1:
        assert (low, high) == pytest.approx((0, 7), abs=2e-3)
    assert points(text)[:, 0].min() == pytest.approx(0, abs=0.01)


def test_an_accent_stands_over_its_letter_and_clear_of_it() -> None:
    for text in "ÄÖÜäöüÅåÑñÉéÎî":
        found = sign(text)
        assert found is not None
        height = 7 if text.islower() else 10
        body = [one for one in found.strokes if one.points[:, 1].max() <= height]
        over = [one for one in found.strokes if one.points[:, 1].min() > height]
        top = max(stroke_points(one)[:, 1].max() for one in body)
        assert min(stroke_points(one)[:, 1].min() for one in over) - top >= 1.5, text


@pytest.mark.parametrize("text", SMOOTH)
def test_curves_run_on_without_a_corner(text: str) -> None:
    found = sign(text)
    assert found is not None
    for one in found.strokes[:1]:
        ring = Contour(one.points, np.append(one.bulges, 0.0))
        corners = np.degrees(np.abs(ring.turns[1:-1]))
        bent = one.bulges[:-1] * one.bulges[1:] != 0
        assert (corners[bent] < 0.1).all(), text


def test_lengths_are_those_that_another_library_measures() -> None:
    """Against the flattening of ezdxf, which takes arcs for curves that are 1e-4 longer."""
    for text in SIGNS:
        found = sign(text)
        assert found is not None
        for one in found.strokes:
            space = ezdxf.filemanagement.new().modelspace()
            corners = zip(*one.points.T.tolist(), [*one.bulges.tolist(), 0.0], strict=True)
            line = ezdxf.path.make_path(space.add_lwpolyline(list(corners), format="xyb"))
            flat = np.array([tuple(point)[:2] for point in line.flattening(1e-5)])
            measured = np.hypot(*np.diff(flat, axis=0).T).sum()
            assert stroke_length(one) == pytest.approx(measured, rel=2e-4), text


def test_pairs_close_up_and_none_touch() -> None:
    """A and V stand nearer by their boxes than two stems; ink of a line's width never meets."""
    assert places("AV")[1] - places("A")[-1] < places("HH")[1] - places("H")[-1] - 1
    letters = string.ascii_uppercase + string.ascii_lowercase + string.digits
    rng = np.random.default_rng(4)
    for one, other in rng.choice(list(letters), (300, 2)):
        at = places([one, other])[1]
        first, second = (
            shapely.MultiLineString([stroke_points(line, 1e-2) for line in strokes])
            for strokes in (strokes_of(one), [placed(x, 1.0, at) for x in strokes_of(other)])
        )
        assert shapely.distance(first, second) > 1.2, one + other


def strokes_of(text: str) -> tuple[Stroke, ...]:
    found = sign(text)
    assert found is not None
    return found.strokes


@pytest.mark.parametrize("text", ["HARBOUR 42", "B8 &%", "Straße Ågård"])
@pytest.mark.parametrize("reads", ["outward", "inward"])
def test_the_area_of_a_text_is_that_of_its_outlines(text: str, reads: str) -> None:
    """The exact outlines of lines and arcs, flattened and measured by fontTools' areaPen."""
    one = engraving("a", list(text), Row(Mark.model_validate({"reads": reads}), 70.0), 0.0)
    pen = AreaPen()
    for outline, islands in one.pockets:
        for contour, way in ((outline, 1), *((island, -1) for island in islands)):
            line = Stroke(np.vstack([contour.points, contour.points[:1]]), contour.bulges)
            flat = stroke_points(line, 1e-6)[:-1][::way]
            pen.moveTo(tuple(flat[0]))
            for point in flat[1:]:
                pen.lineTo(tuple(point))
            pen.closePath()
    assert one.region.area == pytest.approx(pen.value, rel=2e-4)
    assert one.area == pytest.approx(one.region.area, rel=1e-6)
    # Half a line's width round an open line of length L: L w + pi w^2 / 4 a stroke, less crossings.
    most = one.length * one.line + len(one.strokes) * np.pi * one.line**2 / 4
    assert 0.85 * most < one.region.area < most
    counters = {"HARBOUR 42": 7, "B8 &%": 8, "Straße Ågård": 8}
    assert sum(len(islands) for _, islands in one.pockets) == counters[text]


def test_a_text_stands_upright_on_its_arc() -> None:
    """The middle of an I is the radius itself: outward feet in, inward feet out, back mirrored."""
    for reads, face in (("outward", "front"), ("inward", "front"), ("outward", "back")):
        mark = Mark.model_validate({"reads": reads, "face": face, "height": 5.0, "angle": 90.0})
        (line,) = engraving("a", ["I"], Row(mark, 60.0), 0.0).strokes
        foot, head = np.hypot(*line.points.T)
        assert foot == pytest.approx(60.0)
        assert head == pytest.approx(65.0 if reads == "outward" else 55.0)
    seen = {}
    for face in ("front", "back"):
        mark = Mark.model_validate({"face": face})
        found = engraving("a", list("LT"), Row(mark, 60.0), 0.0).strokes
        seen[face] = np.concatenate([one.points for one in found])
    assert seen["back"] == pytest.approx(seen["front"] * [-1, 1])


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("שלום", "HEBREW LETTER SHIN"),
        ("سفن", "ARABIC LETTER SEEN"),
        ("42\u202e", "RIGHT-TO-LEFT OVERRIDE"),
        ("a\u200db", "ZERO WIDTH JOINER"),
        ("🚲", "BICYCLE"),
        ("\u0301a", "COMBINING ACUTE ACCENT"),
        ("A\u0327\u0332", "COMBINING LOW LINE"),
        ("Żegluga", "LATIN CAPITAL LETTER Z WITH DOT ABOVE"),
        ("a\nb", "U+000A"),
    ],
)
def test_what_is_not_drawn_is_refused_by_name(text: str, name: str) -> None:
    assert name in text_faults(text)


def test_markup_quotes_and_combining_marks_are_set_as_they_stand() -> None:
    assert text_faults("<b>&amp;</b> \"x\" 'y' #1") == ""
    assert text_faults("A\u030agard") == ""
    whole, put = sign("Å"), sign("A\u030a")
    assert whole is not None
    assert put is not None
    assert put.strokes == whole.strokes

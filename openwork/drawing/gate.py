"""What an SVG may hold to be read as a drawing: everything else is refused by name.

Only expat looks at it here; nothing is fetched, resolved or built.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import isfinite
from xml.parsers import expat

from openwork.drawing.style import style_faults
from openwork.drawing.uses import Node, pieces
from openwork.errors import SpecError

LARGEST = 1 << 20  # bytes
DEEPEST = 64  # elements in each other
MOST_ELEMENTS = 20_000
MOST_FAULTS = 8  # told at once
LONGEST = 4096  # characters of an attribute that holds no outline
SVG = "http://www.w3.org/2000/svg"
XLINK = "http://www.w3.org/1999/xlink"
GROUPS = frozenset(["svg", "g", "defs", "use", "title", "desc", "metadata", "style", "a"])
FILLS = frozenset(["linearGradient", "radialGradient", "stop"])
SHAPES = frozenset(["path", "rect", "circle", "ellipse", "line", "polyline", "polygon"])
OUTLINES = frozenset(("d", "points"))
TEXT = "convert text to outlines (paths)"
CUT = "cut the shapes as they are to be first"
DRAWN_OUT = "draw the shapes themselves"
REFUSED = {
    **dict.fromkeys(("text", "tspan", "textPath", "font"), TEXT),
    **dict.fromkeys(("mask", "clipPath", "filter"), CUT),
    **dict.fromkeys(("pattern", "marker", "symbol"), DRAWN_OUT),
    "image": "trace the image to outlines (paths)",
    "foreignObject": DRAWN_OUT,
    "script": "scripts are not taken",
    **dict.fromkeys(
        ("animate", "animateTransform", "animateMotion", "set"), "a drawing stands still"
    ),
}
NONE = ("none", "")
PAINTED = {
    **dict.fromkeys(("clip-path", "mask", "filter"), CUT),
    **dict.fromkeys(("marker", "marker-start", "marker-mid", "marker-end"), DRAWN_OUT),
    "stroke-dasharray": "turn dashed strokes into outlines",
}
NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
PLACE = re.compile(r"url\(\s*['\"]?([^)'\"]*)")
PROPERTY = re.compile(r"([\w-]{1,40})\s*:\s*([^;]{0,200})")


def admit(data: bytes, name: str) -> None:
    """Let the SVG *data* pass, called *name* in messages; raises SpecError with every fault."""
    if len(data) > LARGEST:
        raise SpecError(f"{name}: over {LARGEST} bytes; simplify the outlines")
    if data[:2] == b"\x1f\x8b":
        raise SpecError(f"{name}: a compressed drawing; save it as plain SVG")
    _Gate(name).judge(data)


class _Gate:
    """The handlers of one pass of expat, and what they have found."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.faults: list[str] = []
        self.open: list[Node] = []
        self.known: dict[str, Node] = {}
        self.styles: list[str] = []
        self.count = 0
        self.root = Node("svg")
        self.parser = expat.ParserCreate(namespace_separator="}")
        self.parser.SetParamEntityParsing(expat.XML_PARAM_ENTITY_PARSING_NEVER)
        self.parser.StartDoctypeDeclHandler = self.doctype
        self.parser.EntityDeclHandler = self.entity
        self.parser.StartElementHandler = self.start
        self.parser.EndElementHandler = self.end
        self.parser.CharacterDataHandler = self.text

    def judge(self, data: bytes) -> None:
        try:
            self.parser.Parse(data, True)
        except (expat.ExpatError, LookupError, ValueError) as error:
            if isinstance(error, SpecError):
                raise
            raise self.refusal(f"not well-formed XML: {error}") from None
        faults = self.faults + style_faults("".join(self.styles))
        shown = faults[:MOST_FAULTS]
        if len(faults) > len(shown):
            shown.append(f"and {len(faults) - len(shown)} more")
        if shown:
            raise SpecError(*(f"{self.name}: {one}" for one in shown))
        try:
            if not pieces(self.root, self.known):
                raise self.refusal("no shape in it; draw one, filled or stroked")
        except ValueError as error:
            raise error if isinstance(error, SpecError) else self.refusal(str(error)) from None

    def refusal(self, text: str) -> SpecError:
        return SpecError(f"{self.name}: {text}")

    def say(self, text: str) -> None:
        self.faults.append(f"line {self.parser.CurrentLineNumber}: {text}")

    def doctype(self, kind: str, *_: object) -> None:
        if kind != "svg":
            raise self.refusal(f"a document of type {kind[:40]}, not svg")

    def entity(self, kind: str, *_: object) -> None:
        raise self.refusal(f"declares the entity {kind[:40]}; save it as plain SVG")

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        space, _, local = tag.rpartition("}")
        self.count += 1
        if len(self.open) >= DEEPEST:
            raise self.refusal(f"nested deeper than {DEEPEST}; ungroup the shapes")
        if self.count > MOST_ELEMENTS:
            raise self.refusal(f"more than {MOST_ELEMENTS} elements; simplify the drawing")
        if not self.open:
            self.page(space, local, attributes)
        node = Node(local)
        if space == SVG:
            self.element(local)
            self.attributes(node, attributes)
            node.pieces = _weight(local, attributes)
        if self.open:
            self.open[-1].inside.append(node)
        else:
            self.root = node
        self.open.append(node)
        if name := attributes.get("id"):
            self.known.setdefault(name, node)

    def end(self, _: str) -> None:
        self.open.pop()

    def text(self, text: str) -> None:
        if self.open and self.open[-1].name == "style":
            self.styles.append(text)

    def page(self, space: str, local: str, attributes: Mapping[str, str]) -> None:
        if (space, local) != (SVG, "svg"):
            raise self.refusal(f"its first element is {local[:40]}, not svg in the namespace {SVG}")
        box = attributes.get("viewBox")
        if box is not None and not _is_box(box):
            self.say(f"viewBox {box[:40]!r}: must be four numbers, the last two above 0")
        if box is None and not (attributes.get("width") and attributes.get("height")):
            self.say("its page has no size; give width and height, or viewBox")

    def element(self, local: str) -> None:
        if local in REFUSED:
            self.say(f"<{local}>: {REFUSED[local]}")
        elif local not in GROUPS | FILLS | SHAPES:
            self.say(f"<{local[:40]}> is not understood; take it out")

    def attributes(self, node: Node, given: Mapping[str, str]) -> None:
        for key, value in given.items():
            space, _, local = key.rpartition("}")
            if local == "href" and space in ("", XLINK):
                self.refer(node, value)
            elif space == "":
                self.attribute(local, value)

    def refer(self, node: Node, value: str) -> None:
        if not value.startswith("#"):
            self.say(f"refers to {value[:40]!r} outside the drawing; put in what it shows")
        elif node.name == "use":
            node.refers = value[1:]

    def attribute(self, key: str, value: str) -> None:
        if key.lower().startswith("on") and len(key) > 3:
            self.say(f"{key[:40]}: scripts are not taken")
        if key not in OUTLINES and len(value) > LONGEST:
            self.say(f"{key[:40]}: over {LONGEST} characters")
            return
        for place in PLACE.findall(value):
            if not place.startswith("#"):
                self.say(f"{key[:40]} refers to {place[:40]!r} outside the drawing")
        self.painted(key, value)
        if key == "style":
            for name, inner in PROPERTY.findall(value):
                self.painted(name, inner)

    def painted(self, key: str, value: str) -> None:
        if key in PAINTED and value.strip() not in (*NONE, *(("0",) if "dash" in key else ())):
            self.say(f"{key}: {PAINTED[key]}")


def _weight(local: str, attributes: Mapping[str, str]) -> int:
    """Return about how many pieces of outline an element brings."""
    numbers = sum(len(NUMBER.findall(attributes.get(key, ""))) for key in OUTLINES)
    return (local in SHAPES) + numbers // 2


def _is_box(text: str) -> bool:
    try:
        box = [float(one) for one in re.split(r"[\s,]+", text.strip())]
    except ValueError:
        return False
    return len(box) == 4 and all(map(isfinite, box)) and min(box[2:]) > 0

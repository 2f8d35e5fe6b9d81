"""What is no plain drawing is refused by name, at once."""

import random
import time

import pytest

from openwork.drawing.outlines import outlines, outlines_fault
from openwork.errors import SpecError

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
BOX = HEAD + 'viewBox="0 0 10 10">'
RECT = '<rect x="1" y="1" width="6" height="6"/>'
NESTED = "".join(f'<g id="u{k}">' + f'<use href="#u{k - 1}"/>' * 9 + "</g>" for k in range(1, 12))
HOSTILE = {
    "not well-formed": BOX + RECT,
    "entity": f'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>{BOX}&x;</svg>',
    "entity l": '<!DOCTYPE svg [<!ENTITY l "ha"><!ENTITY m "&l;&l;">]>' + BOX + "&m;</svg>",
    "of type html": f"<!DOCTYPE html>{BOX}{RECT}</svg>",
    "first element is html": "<html/>",
    "compressed": b"\x1f\x8b\x08\x00",
    "over 1048576 bytes": BOX + " " * (1 << 20) + RECT + "</svg>",
    "nested deeper": BOX + "<g>" * 70 + RECT + "</g>" * 70 + "</svg>",
    "more than 20000 elements": BOX + "<g/>" * 20001 + "</svg>",
    "more than 6000 shapes": BOX + f'<path d="M0 0{" L1 2" * 7000}"/></svg>',
    "once every <use>": BOX + f'<g id="u0">{RECT}</g>{NESTED}</svg>',
    "refers to itself": BOX + '<g id="a"><use href="#a"/></g></svg>',
    "is not there": BOX + RECT + '<use href="#b"/></svg>',
    "scripts": BOX + RECT + "<script>1</script></svg>",
    "onload": BOX + '<rect onload="x()" width="2" height="2"/></svg>',
    "convert text": BOX + RECT + "<text>ahoy</text></svg>",
    "trace the image": BOX + RECT + '<image href="#a"/></svg>',
    "<mask>": BOX + RECT + '<mask id="m"/></svg>',
    "<filter>": BOX + RECT + '<filter id="m"/></svg>',
    "<pattern>": BOX + RECT + '<pattern id="m"/></svg>',
    "<marker>": BOX + RECT + '<marker id="m"/></svg>',
    "clip-path": BOX + f'<g clip-path="url(#c)">{RECT}</g></svg>',
    "<symbol>": BOX + RECT + '<symbol id="m"/></svg>',
    "stands still": BOX + RECT + '<animate attributeName="x"/></svg>',
    "dashed": BOX + '<path d="M0 0L9 9" stroke="black" style="stroke-dasharray:2 1"/></svg>',
    "is not understood": BOX + RECT + "<blink/></svg>",
    "outside the drawing": BOX + RECT + '<use xlink:href="http://sea/a.svg#b"/></svg>',
    "fill refers": BOX + '<rect width="4" height="4" fill="url(http://sea/a)"/></svg>',
    "style sheet refers": BOX + "<style>@import 'a.css';</style>" + RECT + "</svg>",
    "only rules": BOX + "<style>g &gt; a { fill: red }</style>" + RECT + "</svg>",
    "over 16384": BOX + f"<style>{'a{fill:red}' * 2000}</style>{RECT}</svg>",
    "style sheet": BOX + f"<style>{'a,' * 8000}</style>{RECT}</svg>",
    "viewBox": HEAD + f'viewBox="0 0 0 nan">{RECT}</svg>',
    "no size": HEAD + f">{RECT}</svg>",
    "no shape": BOX + "<g/></svg>",
    "cannot be read": BOX + '<path d="M0 0 L1e999 4 L4 0z"/></svg>',
    "nothing dark": BOX + '<rect width="4" height="4" fill="white"/></svg>',
    "nothing dark on": BOX + f'<g transform="scale(0)">{RECT}</g></svg>',
}


@pytest.mark.parametrize("told", HOSTILE)
def test_a_hostile_file_is_refused_by_name_within_a_second(told: str) -> None:
    text = HOSTILE[told]
    data = text if isinstance(text, bytes) else text.encode()
    start = time.process_time()
    with pytest.raises(SpecError) as refusal:
        outlines(data, "mark.svg")
    assert time.process_time() - start < 1
    assert told.rstrip(" l") in str(refusal.value)
    assert "mark.svg" in str(refusal.value)
    assert "root:" not in str(refusal.value)


GOOD = (
    BOX
    + '<style>.a { fill: black }</style><g transform="rotate(10 5 5)"><path class="a" '
    + 'd="M1 1C3 0 6 2 8 1A3 4 10 0 1 8 8Q4 9 2 7z"/><use href="#b" x="1"/></g>'
    + '<circle id="b" cx="4" cy="4" r="1.5" fill="#fff" stroke="black" stroke-width=".3"/></svg>'
)
SIGNS = "0123456789.-eE<>/\"'# mMzZaAcC&;{}%\x00\xff"


def mutated(luck: random.Random) -> bytes:
    signs = list(GOOD)
    for _ in range(luck.randint(1, 5)):
        at = luck.randrange(len(signs))
        kind = luck.randrange(3)
        piece = signs[at : at + luck.randint(1, 12)]
        if kind == 0:
            signs[at] = luck.choice(SIGNS)
        elif kind == 1:
            del signs[at : at + len(piece)]
        else:
            signs[at:at] = piece * luck.randint(1, 20)
    return "".join(signs).encode()


def read_all(count: int, seed: int) -> None:
    luck = random.Random(seed)
    read = 0
    for _ in range(count):
        data = mutated(luck)
        start = time.process_time()
        try:
            text = outlines(data, "mutated")
        except SpecError:
            pass
        else:
            read += 1
            assert not outlines_fault(text)
        assert time.process_time() - start < 1, data
    assert 0 < read < count


def test_mutated_drawings_are_read_or_refused() -> None:
    read_all(300, 1)


@pytest.mark.sweep
def test_six_thousand_mutated_drawings_are_read_or_refused() -> None:
    read_all(6000, 2)


@pytest.mark.parametrize(
    "text", ["", "1000 10", "1000 800;M0 0L1 1", "1000 1;M0 0L1 1L0 1Z",
             "1000 800;M0 0L9 9L9 0L0 9L0 0Z",
             "1000 800;M0 0L9 9Bx 9 0L0 0Z", "1000 800;" + "M0 0L9 0L9 9L0 0Z;" * 500, "x" * 70000],
)  # fmt: skip
def test_what_is_no_normal_form_is_refused(text: str) -> None:
    assert outlines_fault(text)

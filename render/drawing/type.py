"""How wide a text may come out, whatever sans-serif the reader's machine has.

The widths are upper bounds over the common system faces, from the narrow grotesques to the wide
humanist ones; a text that fits by them fits everywhere.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

FACES = "'Helvetica Neue', Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif"
SHIPPED = "Source Sans Pro"  # comes with the extras pdf and png: the same lines on any machine
ELLIPSIS = "…"

# Characters, and the width of the widest among them in em: regular, bold.
BOUNDS = (
    (" '!,./:;I\\ijl|·\u00a0", 0.41, 0.48),
    ('"()*-J[]`frt°²³', 0.51, 0.57),
    ("?L_ckszxvy–", 0.60, 0.68),
    ("$0123456789FTabdeghnopqu{}µ", 0.65, 0.74),
    ("ABCEKPRSVXYZ", 0.73, 0.79),
    ("#&+<=>DGHMNOQU^w~×±\u2212", 0.87, 1.01),
    ("%@Wm—…", 1.03, 1.12),
)
UNKNOWN = (1.45, 1.6)  # other alphabets, ideographs, pictographs
EM = {
    character: (regular, bold) for group, regular, bold in BOUNDS for character in group
}  # fmt: skip


def in_shipped_face(page: str) -> str:
    """Return the drawing *page* with the shipped face before those of the reader's machine."""
    return page.replace(FACES, f"'{SHIPPED}', {FACES}")


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return a width that *text* set at *size* does not exceed, in the unit of *size*.

    >>> text_width("ill", 10.0) < text_width("www", 10.0)
    True
    """
    return size * sum(_em(character, bold) for character in text)


def _em(character: str, bold: bool) -> float:
    # Up to here an accent stands over its letter; later ones may widen it.
    accented = ord(character) < 0x180
    base = unicodedata.normalize("NFD", character)[0] if accented else character
    return EM.get(base, UNKNOWN)[bold]


def shortened(text: str, width: float, size: float, *, bold: bool = False) -> str:
    """Return *text*, cut with an ellipsis where it would be wider than *width*."""
    if text_width(text, size, bold=bold) <= width:
        return text
    while text and text_width(text + ELLIPSIS, size, bold=bold) > width:
        text = text[:-1]
    return text.rstrip() + ELLIPSIS


def wrapped(text: str, width: float, size: float) -> list[str]:
    """Return the lines of *text* that fit *width*; a word wider than a line is divided.

    >>> wrapped("one two", 5.0, 2.0)
    ['one', 'two']
    """
    lines: list[str] = []
    for paragraph in text.splitlines():
        line = ""
        for word in _pieces(paragraph.split(" "), width, size):
            longer = f"{line} {word}" if line else word
            if text_width(longer, size) <= width:
                line = longer
            else:
                lines.append(line)
                line = word
        lines.append(line)
    return [line for line in lines if line]


def _pieces(words: list[str], width: float, size: float) -> Iterator[str]:
    """Yield what stays on a line: words, of those wider than *width* what no-break spaces part."""
    wide = (word.split("\N{NO-BREAK SPACE}") if text_width(word, size) > width else [word]
            for word in words)  # fmt: skip
    for word in (part for parts in wide for part in parts):
        piece = ""
        for character in word:
            if piece and text_width(piece + character, size) > width:
                yield piece
                piece = ""
            piece += character
        yield piece

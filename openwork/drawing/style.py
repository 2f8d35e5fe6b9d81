"""Style sheets of a drawing: plain rules alone, told in one pass over the text."""

from __future__ import annotations

import re

LONGEST = 16 << 10  # characters
COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
# One rule: names, .classes and #ids, then what it says; bounded, so that time stays in line.
RULE = re.compile(r"\s*[\w.#*, \t\r\n-]{1,400}\{([^{}@\\]{0,4000})\}")
AWAY = re.compile(r"url\(\s*['\"]?(?!#)")
CHANGED = re.compile(
    r"(?:clip-path|mask|filter|marker[\w-]*|stroke-dasharray)\s*:\s*(?!none|0\s*[;}])"
)
PLAIN = "save it with presentation attributes"


def style_faults(text: str) -> list[str]:
    """Return what is wrong with the style sheet *text* of a drawing.

    >>> style_faults(".a, path { fill: white }"), len(style_faults("a > b { fill: white }"))
    ([], 1)
    """
    if len(text) > LONGEST:
        return [f"style sheet: over {LONGEST} characters; {PLAIN}"]
    if "@import" in text or AWAY.search(text):
        return ["a style sheet refers outside the drawing; put in what it shows"]
    rest = COMMENT.sub("", text)
    while rest.strip():
        rule = RULE.match(rest)
        if not rule:
            return [f"style sheet: only rules of name, .class or #id are understood; {PLAIN}"]
        if CHANGED.search(rule[1] + ";"):
            return ["style sheet: clips, masks, markers or dashes; turn them into outlines"]
        rest = rest[rule.end() :]
    return []

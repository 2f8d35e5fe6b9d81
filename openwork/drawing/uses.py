"""How much comes out of a drawing once every ``<use>`` in it is written out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

MOST = 6000  # pieces of outline: reading and noding them stays within a second
DEEPEST = 24  # uses in each other


@dataclass(slots=True, eq=False)
class Node:
    """An element: its own pieces of outline, what it refers to, what is inside."""

    name: str
    pieces: int = 0
    refers: str = ""
    inside: list[Node] = field(default_factory=list)


def pieces(root: Node, known: Mapping[str, Node]) -> int:
    """Return the pieces of outline of *root*, every use written out.

    Raises ValueError for more than ``MOST``, a use in a ring, or one of nothing.
    """
    return _Count(known).of(root, ())


class _Count:
    def __init__(self, known: Mapping[str, Node]) -> None:
        self.known = known
        self.done: dict[int, int] = {}

    def of(self, node: Node, uses: tuple[str, ...]) -> int:
        if id(node) not in self.done:
            total = node.pieces + sum(self.of(one, uses) for one in node.inside)
            total += self.used(node, uses) if node.refers else 0
            if total > MOST:
                raise ValueError(
                    f"more than {MOST} shapes and points once every <use> is written out; "
                    "simplify the outlines"
                )
            self.done[id(node)] = total
        return self.done[id(node)]

    def used(self, node: Node, uses: tuple[str, ...]) -> int:
        name = node.refers
        if name in uses:
            raise ValueError(f"a <use> of #{name[:40]} refers to itself; draw the shape once")
        if name not in self.known:
            raise ValueError(f"<use> of #{name[:40]}, which is not there; put the shape in")
        if len(uses) >= DEEPEST:
            raise ValueError(f"<use> nested deeper than {DEEPEST}; ungroup the shapes")
        return self.of(self.known[name], (*uses, name))

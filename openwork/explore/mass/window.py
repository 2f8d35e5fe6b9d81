"""Between which masses a look can be brought, in words."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """The ``least`` and the ``most`` a look can weigh, g; what stops it, what would help."""

    least: float
    most: float
    limit: str
    helps: tuple[str, ...] = ()

    def text(self, target: float) -> str:
        """Return in words why *target* (g) is out of reach, and what would help."""
        first = f"{target:g} g cannot be reached; from {self.least:.2f} to {self.most:.2f} g can"
        if self.least < target < self.most:
            first = f"{target:g} g lies between two looks; near it, {first.partition('; ')[2]}"
        return "\n".join([first, f"the limit is {self.limit}", *self.helps])

"""How pictures show the ring: the colour of its finish, and a shadow."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from types import MappingProxyType

from pydantic import Field, field_validator

from openwork.tables.table import Table

# What these finishes look like on a bare or anodised alloy, chosen by eye.
FINISHES: Mapping[str, str] = MappingProxyType(
    {
        "natural": "#c4c0b9",
        "black": "#33343a",
        "gold": "#d0a24b",
        "red": "#b3282f",
        "blue": "#2f62ae",
        "green": "#3f8a52",
        "violet": "#7350a0",
    }
)

NEWEST = {"rebeccapurple": "#663399"}  # in level 4 and not yet in level 3


class Look(Table):
    """What the ring looks like in pictures; nothing of it changes the part."""

    finish: str = Field(
        "natural",
        max_length=40,
        description=f"{', '.join(FINISHES)}, or any colour by its CSS name or as #rrggbb",
    )
    shadow: bool = Field(False, description="a soft shadow under the ring")

    @field_validator("finish")
    @classmethod
    def _colour(cls, finish: str) -> str:
        colour(finish)
        return finish

    @property
    def colour(self) -> str:
        """The colour of the plate in even light, as #rrggbb."""
        return colour(self.finish)


def colour(name: str) -> str:
    """Return the colour of a finish, of a CSS colour name or of #rgb or #rrggbb, as #rrggbb.

    Names are those of CSS Color Module Level 4. Raises ValueError with the nearest name.

    >>> colour("Teal"), colour("#0a8")
    ('#008080', '#00aa88')
    """
    plain = name.strip().lower()
    if plain in FINISHES:
        return FINISHES[plain]
    import webcolors  # noqa: PLC0415 (most rings do without)

    names: dict[str, str] = {name: webcolors.name_to_hex(name) for name in webcolors.names()}
    names |= NEWEST
    if plain in names:
        return names[plain]
    try:
        return str(webcolors.normalize_hex(plain))
    except ValueError:
        if plain[:1] in ("#", ""):
            raise ValueError("no colour as #rrggbb") from None
    near = get_close_matches(plain, [*FINISHES, *names], n=1, cutoff=0.0)[0]
    raise ValueError(f'no finish and no CSS colour; "{near}" is nearest')

"""What metals and plastics cost, as the user knows it: openwork publishes no prices."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Annotated, Any

from pydantic import ConfigDict, Field, model_validator

from openwork.part.material import MATERIALS
from openwork.part.material_name import nearest
from openwork.tables.table import Table

MOST = 1e6  # per kg, in any currency


class Prices(Table):
    """Prices per kg by name of material, in any one currency; only what is priced is compared."""

    model_config = ConfigDict(extra="allow")
    __pydantic_extra__: dict[str, Annotated[float, Field(gt=0, le=MOST)]]

    # Checked here, as the names are no fields that a message could be about.
    @model_validator(mode="before")
    @classmethod
    def _known_and_positive(cls, values: Any) -> Any:
        if isinstance(values, dict) and (faults := [*_faults(values)]):
            raise ValueError("; ".join(faults))
        return values

    @property
    def by_name(self) -> Mapping[str, float]:
        """The prices per kg by name of material."""
        return MappingProxyType(self.__pydantic_extra__)


def _faults(values: Mapping[str, Any]) -> Iterator[str]:
    for name, value in values.items():
        if name not in MATERIALS:
            near = nearest(name)
            hint = f'; "{near}" is nearest' if near else ""
            yield f'"{name}" is not one of {", ".join(MATERIALS)}{hint}'
        number = isinstance(value, int | float) and not isinstance(value, bool)
        if not (number and 0 < value <= MOST):
            yield f'"{name}" = {value!r}: must be a number more than 0 and at most {MOST:g}'

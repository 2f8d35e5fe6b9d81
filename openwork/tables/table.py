"""The base of every table of the spec file: a frozen, checked value."""

from __future__ import annotations

from typing import get_args

from pydantic import BaseModel, ConfigDict
from pydantic.fields import FieldInfo


class Table(BaseModel):
    """A table of the spec file; unknown keys, wrong types, NaN and infinities are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, allow_inf_nan=False)


def table_of(field: FieldInfo) -> type[Table] | None:
    """Return the table that a key holds, None where it holds a plain value."""
    for kind in (field.annotation, *get_args(field.annotation)):
        if isinstance(kind, type) and issubclass(kind, Table):
            return kind
    return None

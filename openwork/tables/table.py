"""The base of every table of the spec file: a frozen, checked value."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, get_args, get_origin

from pydantic import BaseModel, ConfigDict, Discriminator, Tag
from pydantic.fields import FieldInfo

NAME, TABLE = "a name", "a table"  # tags of the two forms of a key; no key of a file has a space


class Table(BaseModel):
    """A table of the spec file; unknown keys, wrong types, NaN and infinities are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, allow_inf_nan=False)


def table_of(field: FieldInfo) -> type[Table] | None:
    """Return the table that a key holds, None where it holds a plain value."""
    if named_tables_of(field):
        return None
    for kind in (field.annotation, *get_args(field.annotation)):
        plain = get_args(kind)[0] if get_origin(kind) is Annotated else kind
        if isinstance(plain, type) and issubclass(plain, Table):
            return plain
    return None


def named_tables_of(field: FieldInfo) -> type[Table] | None:
    """Return the table of which a key holds several under names of their own, else None."""
    if get_origin(field.annotation) is not dict:
        return None
    kind = get_args(field.annotation)[1]
    return kind if isinstance(kind, type) and issubclass(kind, Table) else None


def _form(value: Any) -> str:
    return TABLE if isinstance(value, Mapping | Table) else NAME


# Of a key that takes a name or a table of its own: NAMED | TABLED, told apart by FORM.
NAMED, TABLED, FORM = Tag(NAME), Tag(TABLE), Discriminator(_form)

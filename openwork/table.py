"""The base of every table of the spec file: a frozen, checked value."""

from pydantic import BaseModel, ConfigDict


class Table(BaseModel):
    """A table of the spec file; unknown keys, wrong types, NaN and infinities are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, allow_inf_nan=False)

"""What a test knows to be there where the types leave it open."""

from typing import TypeVar

T = TypeVar("T")


def sure(value: T | None) -> T:
    """Return *value*, which has to be there."""
    assert value is not None
    return value

"""What a test knows to be there where the types leave it open."""

from typing import TypeVar

T = TypeVar("T")


def sure(value: T | None) -> T:
    """Return *value*, which has to be there."""
    assert value is not None
    return value


def one_of(kind: type[T], value: object) -> T:
    """Return *value*, which has to be of the *kind*."""
    assert isinstance(value, kind)
    return value

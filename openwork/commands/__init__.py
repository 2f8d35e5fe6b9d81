"""One module per command; each holds a click command called ``command``."""

__all__ = []

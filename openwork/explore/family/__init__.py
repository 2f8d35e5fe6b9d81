"""One look in many tooth counts: sizes, what stays and what differs."""

__all__ = ["family", "size"]

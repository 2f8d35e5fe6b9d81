"""A maker's own drawing: taken through a gate, painted, and told as lines and arcs."""

__all__ = ["gate", "outlines", "read"]

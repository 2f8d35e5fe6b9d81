"""A ring brought on its mass, or why it cannot be."""

__all__ = ["out_of_reach", "tune", "wider_rim"]

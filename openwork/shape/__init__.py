"""Geometry that would serve any plate: contours of lines and arcs, and what is measured on them."""

__all__ = [
    "arc",
    "bulge",
    "contour",
    "cut",
    "edge",
    "gauging",
    "parallel",
    "slivers",
    "snap",
    "stroke",
    "tracing",
]

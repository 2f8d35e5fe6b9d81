"""A plate of exact contours divided into curved six-node triangles, finer where that must be."""

__all__ = ["mesh", "quadratic", "refine", "sides", "triangles"]

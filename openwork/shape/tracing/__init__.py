"""Points to outlines of lines and arcs: corners, joints, tangents, known circles."""

__all__ = ["known_circles", "trace"]

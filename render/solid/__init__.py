"""The ring as a body: faces, bevels, boundary and mesh."""

__all__ = ["brep", "faces", "kernel", "mesh"]

"""Loads, meshes, stiffness and stress of a ring, from plain values."""

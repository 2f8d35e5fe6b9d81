"""Loads, meshes, stiffness and stress of a ring, from plain values."""

__all__ = [
    "carried",
    "chainpull",
    "endurance",
    "fatigue",
    "field",
    "loading",
    "meaning",
    "model",
    "plane",
    "quality",
    "report",
    "result",
    "stress",
    "yielding",
]

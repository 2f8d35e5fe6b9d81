"""A ring brought on its mass, or why it cannot be."""

__all__ = [
    "bearing",
    "begun",
    "belts",
    "chain",
    "out_of_reach",
    "ribs",
    "search",
    "spacing",
    "tune",
]

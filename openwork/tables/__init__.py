"""The ground: tables of a spec, how TOML is read, how faults and values are worded."""

__all__ = [
    "caution",
    "faults",
    "figure",
    "finish",
    "goal",
    "load",
    "plain",
    "recipe",
    "support",
    "table",
    "toml",
    "wording",
]

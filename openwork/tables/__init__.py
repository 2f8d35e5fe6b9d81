"""The ground: tables of a spec, how TOML is read, how faults and values are worded."""

__all__ = [
    "caution",
    "faults",
    "figure",
    "finish",
    "goal",
    "load",
    "plain",
    "support",
    "table",
    "toml",
    "wording",
]

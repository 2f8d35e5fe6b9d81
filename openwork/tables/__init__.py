"""The ground: tables of a spec, how TOML is read, how faults and values are worded."""

__all__ = ["caution", "faults", "finish", "goal", "load", "support", "table", "toml", "wording"]

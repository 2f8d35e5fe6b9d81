"""Many designs at once: variants, mass on target, families, search."""

__all__ = ["alloys", "family", "mass", "parallel", "strength_of", "variants"]

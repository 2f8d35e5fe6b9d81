"""Many designs at once: variants, mass on target, families, search."""

"""Opening a web: the site, what patterns propose, how their parameters suit it, the finisher."""

__all__ = [
    "biarc",
    "catalogue",
    "draft",
    "drawn",
    "fillings",
    "finish",
    "fit",
    "lattice",
    "nearness",
    "parameters",
    "pocket",
    "polar",
    "registry",
    "site",
    "widths",
]

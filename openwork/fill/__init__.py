"""Opening a web: the site, what patterns propose, how they are suited to it, the one finisher."""

__all__ = [
    "biarc",
    "catalogue",
    "draft",
    "fillings",
    "finish",
    "fit",
    "lattice",
    "nearness",
    "parameters",
    "polar",
    "registry",
    "site",
]

"""What patterns share: rows, Voronoi cells, stress lines, gaps, webs grown, drawings laid."""

__all__ = [
    "density",
    "hexrows",
    "hole_gaps",
    "laid",
    "short_cells",
    "stress_lines",
    "void_outlines",
    "voronoi",
    "web_grid",
    "web_layout",
]

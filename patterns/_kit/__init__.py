"""What patterns are made with: hexagonal rows, Voronoi cells, stress lines, gaps, short cells."""

__all__ = [
    "density",
    "hexrows",
    "hole_gaps",
    "short_cells",
    "stress_lines",
    "void_outlines",
    "voronoi",
    "web_grid",
    "web_layout",
]

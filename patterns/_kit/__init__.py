"""What several patterns share: hexagonal rows, Voronoi cells, stress lines, gaps, short cells."""

__all__ = ["hexrows", "hole_gaps", "short_cells", "stress_lines", "voronoi"]

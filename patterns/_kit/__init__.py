"""What several patterns share: rows, Voronoi cells, stress lines, gaps, drawings laid."""

__all__ = ["hexrows", "hole_gaps", "laid", "short_cells", "stress_lines", "voronoi"]

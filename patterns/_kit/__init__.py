"""What several patterns share: hexagonal rows, Voronoi cells, stress lines, gaps, short cells."""

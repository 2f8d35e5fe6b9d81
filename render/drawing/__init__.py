"""The pen and canvas of every drawing: elements, paths, type, colours, the recipe."""

__all__ = ["canvas", "oklab", "path", "pen", "recipe", "type"]

"""Contact sheets: cells, captions, bars, index, comparison, marks."""

__all__ = ["compare", "index", "marks", "sheet"]

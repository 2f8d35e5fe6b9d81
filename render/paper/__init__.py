"""The printed page: paper, frame, head and foot, tiles, PDF and PNG."""

__all__ = ["box", "common", "frame", "layout", "page", "pdf", "png", "tiles", "typeset"]

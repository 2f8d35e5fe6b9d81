"""What is measured on a finished ring: figures, limits, defects, looks."""

__all__ = ["cell", "defects", "figures", "limits", "margins", "panels"]

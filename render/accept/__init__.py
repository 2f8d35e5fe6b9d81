"""Files read back and judged: one reader a format, the same checks for all."""

__all__ = ["acceptance", "read_dxf", "read_mesh", "read_pdf", "read_step", "read_svg"]

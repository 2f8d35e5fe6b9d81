"""What is measured on outlines by code that knows nothing of how they were made."""

__all__ = ["gauge", "integrals", "samples"]

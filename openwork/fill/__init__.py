"""Opening the web: the site, the pattern protocol, and the one finisher."""

__all__ = ["catalogue", "finish", "pattern", "polar", "site"]

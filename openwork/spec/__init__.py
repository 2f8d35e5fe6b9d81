"""The spec file: read, checked, changed and written, its schema, and a first one to start from."""

__all__ = ["drawing", "rewrite", "schema", "spec", "starter"]

"""Checks of the strength room against published cases."""

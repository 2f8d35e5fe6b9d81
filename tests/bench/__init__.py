"""Benchmarks: each module here has ``rows()``, its timings as (label, text)."""

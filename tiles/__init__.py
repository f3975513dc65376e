"""Glaze test tiles on record."""

__version__ = "0.1.0"

"""Asking the records."""

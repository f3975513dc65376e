"""Glaze chemistry and heat work: pure functions on numbers and plain mappings."""

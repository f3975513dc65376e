"""Measures of a tile: values with a unit, read off its record one subject at a time."""

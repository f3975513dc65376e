"""Fixes with amounts: steps on coat, clay and firing, and a search over the recipe."""

"""Measures of a recipe in plain materials, given only when every material is recognised."""

from collections.abc import Iterator

from diagnose.measures_application import Reading
from diagnose.view import View


def read(view: View) -> Iterator[Reading]:
    """Shares of the dry batch by kind of material. [wt %]."""
    return iter(())

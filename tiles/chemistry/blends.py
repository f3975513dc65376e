"""Line, triaxial and grid blends: the mixtures to make, each with its recipe.

A blend mixes dry weights: each corner recipe is first brought to 100, then weighed by its share.
The oxide analysis of the raw mix is the mean of those of its corners; the Seger formula is not,
since each mix is divided by its own flux sum. Mixing slops by volume is the same only if they
hold the same dry weight per volume.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

from tiles.chemistry.materials import Material
from tiles.chemistry.oxides import percent
from tiles.chemistry.recipes import Recipe, read_recipe, weigh_out
from tiles.errors import InvalidValue

MOST_MIXES = 1000
"""More mixtures than this are taken for a slip of the hand."""

Corner = tuple[str, Recipe]
"""Name of a corner and its recipe, additions listed among the parts."""


@dataclass(frozen=True)
class Mix:
    """One mixture of a blend.

    ``number`` counts from 1 in the order the tiles are laid out; ``shares`` are the weights of the
    corners, adding up to 1; ``recipe`` is the merged recipe, its parts adding up to 100.
    """

    number: int
    shares: dict[str, float]
    recipe: dict[str, float]

    @property
    def title(self) -> str:
        """Such as ``60 % A, 40 % B``."""
        return ", ".join(
            f"{100 * share:.4g} % {name}" for name, share in self.shares.items() if share
        )

    def weighed_g(self, mass_g: float) -> dict[str, float]:
        """Mass of each material for a dry batch of this mixture. [g]."""
        return weigh_out(self.recipe, mass_g)


def line(first: Corner, second: Corner, steps: int, *, own: Iterable[Material] = ()) -> list[Mix]:
    """A line blend: from all of the first to all of the second in equal steps.

    Parameters
    ----------
    first, second : (str, recipe)
        Name and recipe of each end.
    steps : int
        Steps between the ends; n steps make n + 1 mixtures.
    own : iterable of Material
        The user's own materials.

    Returns
    -------
    list of Mix

    Raises
    ------
    InvalidValue
        Steps below 1 or no whole number, two corners of one name, a recipe that cannot be right.

    Examples
    --------
    >>> gloss, matt = {"whiting": 50, "silica": 50}, {"whiting": 70, "kaolin": 30}
    >>> for mix in line(("gloss", gloss), ("matt", matt), steps=2):
    ...     print(mix.title, mix.recipe)
    100 % gloss {'whiting': 50.0, 'silica': 50.0}
    50 % gloss, 50 % matt {'whiting': 60.0, 'silica': 25.0, 'kaolin': 15.0}
    100 % matt {'whiting': 70.0, 'kaolin': 30.0}
    """
    _check_count(steps, "steps", 1)
    shares = [((steps - step) / steps, step / steps) for step in range(steps + 1)]
    return _mixes([first, second], shares, tuple(own))


def triaxial(
    first: Corner, second: Corner, third: Corner, steps: int, *, own: Iterable[Material] = ()
) -> list[Mix]:
    """A triaxial blend: every mixture of three recipes in equal steps, row by row from the first.

    Parameters
    ----------
    first, second, third : (str, recipe)
        Name and recipe of each corner.
    steps : int
        Steps along a side; n steps make (n + 1)(n + 2) / 2 mixtures.
    own : iterable of Material
        The user's own materials.

    Returns
    -------
    list of Mix

    Raises
    ------
    InvalidValue
        As `line`, or more than `MOST_MIXES` mixtures.

    Examples
    --------
    >>> corners = [("A", {"whiting": 1}), ("B", {"kaolin": 1}), ("C", {"silica": 1})]
    >>> [mix.title for mix in triaxial(*corners, steps=1)]
    ['100 % A', '100 % B', '100 % C']
    >>> len(triaxial(*corners, steps=4))
    15
    """
    _check_count(steps, "steps", 1)
    shares = [
        ((steps - row) / steps, (row - place) / steps, place / steps)
        for row in range(steps + 1)
        for place in range(row + 1)
    ]
    return _mixes([first, second, third], shares, tuple(own))


def grid(
    top_left: Corner,
    top_right: Corner,
    bottom_left: Corner,
    bottom_right: Corner,
    columns: int,
    rows: int,
    *,
    own: Iterable[Material] = (),
) -> list[Mix]:
    """A grid (biaxial) blend of four corners, row by row from the top left.

    Parameters
    ----------
    top_left, top_right, bottom_left, bottom_right : (str, recipe)
        Name and recipe of each corner.
    columns, rows : int
        Mixtures across and down, each 2 or more.
    own : iterable of Material
        The user's own materials.

    Returns
    -------
    list of Mix

    Raises
    ------
    InvalidValue
        As `line`, or more than `MOST_MIXES` mixtures.

    Examples
    --------
    >>> names = {"A": "whiting", "B": "kaolin", "C": "silica", "D": "talc"}
    >>> corners = [(name, {material: 1}) for name, material in names.items()]
    >>> grid(*corners, columns=3, rows=3)[4].title
    '25 % A, 25 % B, 25 % C, 25 % D'
    """
    for count, what in ((columns, "columns"), (rows, "rows")):
        _check_count(count, what, 2)
    shares = [
        ((1 - across) * (1 - down), across * (1 - down), (1 - across) * down, across * down)
        for down, across in product(_fractions(rows), _fractions(columns))
    ]
    return _mixes([top_left, top_right, bottom_left, bottom_right], shares, tuple(own))


def _fractions(count: int) -> list[float]:
    return [place / (count - 1) for place in range(count)]


def _check_count(count: int, what: str, least: int) -> None:
    is_whole = isinstance(count, int) and not isinstance(count, bool)
    if not is_whole or not least <= count <= MOST_MIXES:
        raise InvalidValue(
            f"{what} {count!r} cannot be right.",
            f"a whole number from {least} to {MOST_MIXES}.",
            field=what,
            value=count,
        )


def _mixes(
    corners: Sequence[Corner], shares: Sequence[tuple[float, ...]], own: Iterable[Material]
) -> list[Mix]:
    if len(shares) > MOST_MIXES:
        raise InvalidValue(
            f"That makes {len(shares)} mixtures.", f"fewer steps: {MOST_MIXES} mixtures at most."
        )
    names = [name for name, _ in corners]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise InvalidValue(
            f"Two corners of the blend are named {twice!r}.", "a name for each.", value=twice
        )
    recipes = [_per_100(recipe, own) for _, recipe in corners]
    return [
        Mix(number, dict(zip(names, each, strict=True)), _merged(recipes, each))
        for number, each in enumerate(shares, start=1)
    ]


def _per_100(recipe: Recipe, own: Iterable[Material]) -> dict[str, float]:
    # By its usual name, so that flint in one corner and silica in another become one line.
    return percent({line.title: line.parts for line in read_recipe(recipe, own=own)})


def _merged(recipes: Sequence[dict[str, float]], shares: Sequence[float]) -> dict[str, float]:
    merged: dict[str, float] = {}
    for recipe, share in zip(recipes, shares, strict=True):
        for material, parts in recipe.items() if share else ():
            merged[material] = merged.get(material, 0.0) + share * parts
    return merged

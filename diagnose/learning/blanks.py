"""Plausible values for blanks, drawn from what this studio has recorded elsewhere.

A blank is neither "usual" nor "no". Each gets ``DRAWS`` values that are equally likely as far as
the studio's own records go: values of the same glaze (body, firing ...) first, the more of them the
more, and values of all tiles for the rest. A recipe's figures come as one whole from one of the
studio's recipes. The draws are quantiles in a fixed shuffled order, so that the same row always
gets the same values, whatever stands beside it.

Some things are written down only where they are so: that the bisque was dusty, that the jar had
dried out. As far as one word is all that was recorded of a measure, it tells nothing of the blanks
of other glazes (bodies, firings ...): these stay blank. How the dry coat looked is no such thing:
it comes of the glaze and the coat, and cracks noted on a few would take from these what they do.
"""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any
from zlib import crc32

from diagnose.vocabulary import holds_word, recipe_measures
from tiles.chemistry.cones import step

if TYPE_CHECKING:
    import numpy as np

    from diagnose.learning.table import Table

DRAWS = 16
FEWEST = 3
"""Recorded values below which nothing is drawn: the blank stays blank and counts nowhere."""
OF_THE_COAT = ("raw_coat_cracked", "raw_coat_powdery", "raw_coat_pitted", "thick_at_edges")
"""Clues that come of the glaze and how thick it went on."""
BOTH_NOTED = 3.0
"""So many tiles with another word than the commonest fill half of the blanks (estimate)."""
PER_COAT, FIRED_RATIO = "mm_per_coat", "fired_per_dry_mm"

_GLAZE, _BODY, _BISQUE, _FIRING = ("glaze",), ("body",), ("bisque",), ("firing", "kiln")
KEYS: dict[str, tuple[str, ...]] = (
    dict.fromkeys(
        "coats mm_per_coat fired_per_dry_mm glazes_on_area colour_coats_beneath method applied_on "
        "finish role glaze_kind supplied_as specific_gravity sieve_mesh dry_portion revived "
        "glaze_colour set_over_label".split(),
        _GLAZE,
    )
    | dict.fromkeys("body_kind body_colour absorption_pct body_expansion_ppm_per_k".split(), _BODY)
    | dict.fromkeys("bisque_step bisque_rate_c_per_h bisque_hold_min".split(), _BISQUE)
    | dict.fromkeys("cones_over_target hold_min rate_c_per_h opened_c atmosphere".split(), _FIRING)
)
"""What a measure goes with, the closest first; others are drawn from all tiles."""


@dataclass
class Drawn:
    """The table with its blanks filled ``DRAWS`` times.

    ``numbers`` and ``words`` : arrays of shape (draws, n), NaN / None where nothing could be
    drawn; ``recorded`` : for each measure where it was recorded, shape (n,); ``label_known`` :
    where the glaze's label range is on record, shape (n,).
    """

    n: int
    numbers: "dict[str, np.ndarray]"
    words: "dict[str, np.ndarray]"
    recorded: "dict[str, np.ndarray]"
    setting: "np.ndarray"
    label_known: "np.ndarray"
    _coded: dict[str, tuple] = field(default_factory=dict)

    def coded(self, name: str) -> "tuple[list[str], np.ndarray]":
        """The different words of a measure, and the place of each draw's word among them.

        The place after the last one means blank. shape (draws, n).
        """
        import numpy as np

        if name not in self._coded:
            flat = self.words[name].ravel().tolist()
            values = sorted(set(flat) - {None})
            place = {value: at for at, value in enumerate(values)} | {None: len(values)}
            codes = np.array([place[value] for value in flat], int)
            self._coded[name] = values, codes.reshape(self.words[name].shape)
        return self._coded[name]

    def worth(self, name: str, of: "Callable[[str], float]") -> "np.ndarray":
        """What each draw's word is worth, 0 where the measure is blank. shape (draws, n)."""
        import numpy as np

        values, codes = self.coded(name)
        return np.array([*(float(of(value)) for value in values), 0.0])[codes]

    def holds(self, name: str, words: tuple[str, ...]) -> "np.ndarray":
        """1 where a draw is, or holds, one of the words. shape (draws, n)."""
        return self.worth(name, lambda value: holds_word(value, words))


@dataclass
class Blanks:
    """What the studio has recorded of each measure: over all tiles, and by what it goes with.

    ``pools[name][key]`` holds up to ``DRAWS`` values with the count they stand for; ``key`` is ""
    for all tiles, else ``"glaze:pond green"``; the value None leaves the blank as it is.
    ``recipes`` are whole rows of recipe figures.
    """

    pools: dict[str, dict[str, tuple[int, list]]] = field(default_factory=dict)
    recipes: dict[str, list] = field(default_factory=dict)

    def draw(self, table: "Table") -> Drawn:
        """Fill the blanks of a table."""
        import numpy as np

        recorded = {
            name: np.array([v is not None for v in column], bool)
            for name, column in table.words.items()
        } | {name: ~np.isnan(column) for name, column in table.numbers.items()}
        words = {}
        for name in sorted(table.words.keys() | self._names(are_words=True)):
            column = table.words.get(name, np.full(table.n, None, dtype=object))
            words[name] = self.filled(name, column, table)
        numbers = {}
        extra = _extra(table)
        for name in sorted(table.numbers.keys() | extra.keys() | self._names(are_words=False)):
            column = table.numbers.get(name, extra.get(name, np.full(table.n, np.nan)))
            numbers[name] = self.filled(name, column, table)
        _leave_bare(words, numbers, recorded)
        self._fill_recipes(numbers, table)
        _follow(numbers, recorded, table)
        label = np.isfinite(table.steps["label_low"]) | np.isfinite(table.steps["label_high"])
        return Drawn(table.n, numbers, words, recorded, table.setting, label)

    def _names(self, *, are_words: bool) -> set[str]:
        return {
            name
            for name, pool in self.pools.items()
            if pool and isinstance(pool[""][1][0], float) is not are_words
        }

    def filled(self, name: str, column: "np.ndarray", table: "Table") -> "np.ndarray":
        """The draws of one measure. shape (draws, n)."""
        import numpy as np

        drawn = np.repeat(column[None, :], DRAWS, axis=0)
        pools = self.pools.get(name)
        is_blank = np.array([v is None or v != v for v in column], bool)
        if not pools or not is_blank.any():
            return drawn
        order = np.random.default_rng(crc32(name.encode())).permutation(DRAWS)
        keys = [table.groups[key] for key in KEYS.get(name, ())]
        made: dict[tuple, Any] = {}
        for at in np.flatnonzero(is_blank):
            which = tuple(group[at] for group in keys)
            if which not in made:
                made[which] = self._mixed(pools, KEYS.get(name, ()), which)[order]
            drawn[:, at] = made[which]
        return drawn

    def _mixed(self, pools: dict, keys: tuple[str, ...], which: tuple) -> "np.ndarray":
        """The draws for one group: its own values in the measure that there are of them."""
        import numpy as np

        values = pools[""][1]
        for key, name in reversed(list(zip(keys, which, strict=True))):
            own = pools.get(f"{key}:{name}") if name else None
            if own:
                share = round(DRAWS * own[0] / (own[0] + 1))
                values = spread(own[1], share) + spread(values, DRAWS - share)
        drawn = spread(values, DRAWS)
        return np.array(drawn, dtype=float if isinstance(drawn[0], float) else object)

    def _fill_recipes(self, numbers: "dict[str, np.ndarray]", table: "Table") -> None:
        """Each glaze without a known recipe gets the figures of one recipe a draw."""
        import numpy as np

        if not self.recipes:
            return
        columns = [table.numbers.get(name) for name in self.recipes]
        known = [~np.isnan(column) for column in columns if column is not None]
        blank = ~np.any(known, axis=0) if known else np.ones(table.n, bool)
        if not blank.any():
            return
        count = len(next(iter(self.recipes.values())))
        names = table.groups["glaze"][blank]
        first = np.array([crc32(name.encode()) % count for name in names])
        pick = (first[None, :] + np.arange(DRAWS)[:, None] * max(1, count // DRAWS)) % count
        for name, values in self.recipes.items():
            drawn = numbers.setdefault(name, np.full((DRAWS, table.n), np.nan))
            drawn[:, blank] = np.array(values, float)[pick]


def fit(table: "Table") -> Blanks:
    """Gather what is recorded; nothing here looks at an outcome."""
    import numpy as np

    recipe = recipe_measures()
    found = Blanks()
    columns = table.words | table.numbers | _extra(table)
    for name, column in columns.items():
        known = np.array([v is not None and v == v for v in column], bool)
        if name in recipe or known.sum() < FEWEST:
            continue
        many, values = _pool(column[known])
        if isinstance(values[0], str) and name not in OF_THE_COAT:
            values = _as_far_as_both_are_noted(column[known], values)
        pools = {"": (many, values)}
        for key in KEYS.get(name, ()):
            groups = table.groups[key][known]
            for group in set(groups) - {""}:
                pools[f"{key}:{group}"] = _pool(column[known][groups == group])
        found.pools[name] = pools
    found.recipes = _whole_recipes(table, recipe)
    return found


def spread(values: list, count: int) -> list:
    """As many values as asked for, evenly over the sorted ones.

    Examples
    --------
    >>> spread([1, 2, 3, 4], 2), spread([5], 3)
    ([2, 4], [5, 5, 5])
    """
    return [values[int((at + 0.5) * len(values) / count)] for at in range(count)]


def _pool(values: "np.ndarray") -> tuple[int, list]:
    ordered = sorted(values.tolist())
    kept = ordered if len(ordered) <= DRAWS else spread(ordered, DRAWS)
    return len(ordered), kept


def _as_far_as_both_are_noted(words: "np.ndarray", values: list) -> list:
    """Draws for the blanks: a single word leaves them blank, and so do most where it has company.

    One "not dusty" among twenty "dusty" does not show that all other tiles were dusty.
    """
    commonest = max(Counter(words.tolist()).values())
    others = len(words) - commonest
    share = round(DRAWS * others / (others + BOTH_NOTED))
    return spread(values, share) + [None] * (DRAWS - share)


def _whole_recipes(table: "Table", recipe: set[str]) -> dict[str, list]:
    """The recipe figures of each recipe glaze, once, in the order of the glazes' names.

    Rows of a glaze differ by what else is recorded (no melt without a cone): the fullest count,
    and of these the middle one.
    """
    import numpy as np

    names = sorted(recipe & table.numbers.keys())
    if not names:
        return {}
    figures = np.column_stack([table.numbers[name] for name in names])
    known = np.isfinite(figures).sum(axis=1)
    of_glaze: dict[str, list[int]] = {}
    for at in np.flatnonzero(known):
        of_glaze.setdefault(table.groups["glaze"][at], []).append(int(at))
    if len(of_glaze) < FEWEST:
        return {}
    rows = []
    for _, places in sorted(of_glaze.items()):
        most = known[places].max()
        fullest = [at for at in places if known[at] == most]
        ordered = sorted(fullest, key=lambda at: np.nan_to_num(figures[at], nan=np.inf).tolist())
        rows.append(ordered[len(ordered) // 2])
    return {name: table.numbers[name][rows].tolist() for name in names}


def _extra(table: "Table") -> "dict[str, np.ndarray]":
    """Measures that only serve to fill others: coat per brushing, shrinkage of the coat, bisque."""
    import numpy as np

    blank = np.full(table.n, np.nan)

    def number(name: str) -> "np.ndarray":
        return table.numbers.get(name, blank)

    with np.errstate(divide="ignore", invalid="ignore"):
        extra = {
            PER_COAT: number("thickness_mm") / number("coats"),
            FIRED_RATIO: number("fired_thickness_mm") / number("thickness_mm"),
        }
    extra = {name: np.where(np.isfinite(values), values, np.nan) for name, values in extra.items()}
    return extra | {"bisque_step": table.steps["bisque"]}


def _leave_bare(words: dict, numbers: dict, recorded: dict) -> None:
    """Nothing beneath the glaze has no kind: that is no blank to be filled."""
    import numpy as np

    kind, coats = "colour_beneath", "colour_coats_beneath"
    if kind in words and coats in numbers:
        is_bare = (numbers[coats] == 0) & ~recorded.get(kind, np.zeros(1, bool))
        words[kind] = np.where(is_bare, None, words[kind])


def _follow(numbers: "dict[str, np.ndarray]", recorded: dict, table: "Table") -> None:
    """Measures that follow from drawn ones: coat thickness, and cones against one another."""
    import numpy as np

    def put(name: str, values: "np.ndarray") -> None:
        known = recorded.get(name, np.zeros(table.n, bool))
        now = numbers.get(name, np.full((DRAWS, table.n), np.nan))
        numbers[name] = np.where(known[None, :] | np.isnan(values), now, values)

    blank = np.full((DRAWS, table.n), np.nan)

    def number(name: str) -> "np.ndarray":
        return numbers.get(name, blank)

    put("thickness_mm", number(PER_COAT) * number("coats"))
    put("fired_thickness_mm", number(FIRED_RATIO) * number("thickness_mm"))
    steps = table.steps
    drawn = steps["target"] + number("cones_over_target")
    reached = np.where(np.isnan(steps["reached"]), drawn, steps["reached"])
    middle = (steps["label_low"] + steps["label_high"]) / 2
    put("cones_from_label_middle", reached - middle)
    bisque = number("bisque_step")
    put("bisque_minus_glaze_cones", bisque - reached)
    put("bisque_cones_below_04", step("04") - bisque)
    put("cones_over_label", outside(reached, steps["label_low"], steps["label_high"]))
    hottest = np.fmax(reached, bisque)
    put("cones_over_body", outside(hottest, steps["body_low"], steps["body_high"]))


def outside(place: "np.ndarray", low: "np.ndarray", high: "np.ndarray") -> "np.ndarray":
    """Steps outside a range: above 0 too hot, below 0 too cool; NaN where no range is known."""
    import numpy as np

    below = np.where(np.isnan(low), 0.0, np.minimum(place - low, 0))
    above = np.where(np.isnan(high), 0.0, np.maximum(place - high, 0))
    return np.where(np.isnan(low) & np.isnan(high), np.nan, below + above)

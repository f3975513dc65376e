"""The columns of the flat form of a tile: one row for each of its areas.

One place for every header: the template, the importer, the exporter and the data frames that
the learner reads all take their columns from here.
"""

from dataclasses import dataclass
from functools import cache

from tiles.records import words
from tiles.records.clues import clues

MAIN, PLACES = "", ("over", "under", "under2")
"""The main layer has no prefix; the others lie directly over it, under it, and under that."""

NONE, SEEN = "none", "seen"
SEVERITY_WORDS = (NONE, *words.SEVERITIES, SEEN)
"""What a defect column holds; ``seen`` is a defect whose severity was not recorded."""

NOT_RECORDED = "not recorded"
"""In the column of a recipe: which version it was is not known, and none is to be filled in."""
NO_LINES = (NOT_RECORDED,)
"""What such a cell is read as."""

FAULT_WORDS = "fault_words"
"""The heading of a column that an export adds where words about faults are on record."""
REASON = "refused_because"
"""A column the importer adds to rows it hands back, and overlooks when it reads them again."""


@dataclass(frozen=True)
class Column:
    """One column of the flat form.

    ``part`` and ``field`` name the place in a record, ``place`` the layer. ``of_tile`` marks what
    must be the same on every row of a tile. ``unit`` is a unit, or what kind of text it is.
    """

    name: str
    unit: str
    says: str
    part: str
    field: str
    of_tile: bool
    place: str = MAIN

    @property
    def is_number(self) -> bool:
        """Whether the cell holds a number."""
        return self.unit in _NUMBER_UNITS


_NUMBER_UNITS = {
    "number", "coats", "mm", "%", "1e-6/K", "C", "C/h", "min", "g/mL", "mesh",
}  # fmt: skip
_DATE, _TEXT, _CONE, _YES_NO = "YYYY-MM-DD", "text", "cone", "yes / no"


def _any_of(choices: tuple[str, ...]) -> str:
    return " | ".join(choices)


# Each line: column, field, unit, what it says.
_TILE = (
    ("mark", "mark", _TEXT, "what is written on the tile's back; the rows of one tile share it"),
    ("made_on", "made_on", _DATE, "day the tile was made"),
    ("glazed_on", "glazed_on", _DATE, "day it was glazed"),
    ("form", "form", _any_of(words.TILE_FORMS), "form of the tile"),
    ("stood", "stood", _any_of(words.STOOD), "how it stood in the glaze firing"),
    ("shelf", "shelf", _TEXT, "its place in the kiln"),
    ("cone_reached", "cone_reached", _CONE, "the tile's own reading; never the target"),
    ("bisque_cone", "bisque_cone", _CONE, "cone the bisque reached"),
    ("note", "note", _TEXT, "anything else about the tile"),
    ("trial_of", "trial_of", _TEXT, "mark of the failed tile this one was made for, as a trial"),
    ("trial_defect", "trial_defect", _any_of(words.DEFECTS), "the fault that the trial is about"),
    ("trial_change", "trial_change", _TEXT, "the one thing changed in the trial"),
)
_AREA = (
    ("area", "number", "number", "number of the area, 1 on most tiles"),
    ("area_label", "label", _TEXT, "name of the area"),
    ("surface", "surface", _any_of(words.SURFACES), "surface of the clay"),
)
_BODY = (
    ("body", "name", _TEXT, "clay body"),
    ("body_kind", "kind", _any_of(words.BODY_KINDS), "kind of body"),
    ("body_colour", "colour", _TEXT, "colour of the fired clay"),
    ("body_cone_low", "cone_low", _CONE, "cooler end of the range on the bag"),
    ("body_cone_high", "cone_high", _CONE, "hotter end of the range on the bag"),
    ("body_absorption_pct", "absorption_pct", "%", "water the fired body takes up"),
    ("body_shrinkage_pct", "shrinkage_pct", "%", "shrinkage, wet to fired"),
    ("body_expansion_ppm_per_k", "expansion_ppm_per_k", "1e-6/K", "measured expansion"),
    ("body_remark", "remark", _TEXT, "anything else about the body"),
)
_KIND_SAYS = "bought or mixed; blank: jar, or recipe where one is given"
_GLAZE = (
    ("glaze", "name", _TEXT, "the topmost glaze on the area, or what is topmost without one"),
    ("glaze_kind", "kind", _any_of(words.GLAZE_KINDS), _KIND_SAYS),
    ("glaze_role", "role", _any_of(words.GLAZE_ROLES), "its role; blank: glaze"),
    ("glaze_finish", "finish", _any_of(words.FINISHES), "finish"),
    ("glaze_colour", "colour", _TEXT, "colour"),
    ("glaze_maker", "maker", _TEXT, "who makes it"),
    ("glaze_cone_low", "cone_low", _CONE, "cooler end of the range on the label"),
    ("glaze_cone_high", "cone_high", _CONE, "hotter end of the range on the label"),
    ("glaze_supplied_as", "supplied_as", _any_of(words.SUPPLIED_AS), "how it is bought"),
    ("glaze_food_label", "food_label", _TEXT, "what the label says about food"),
    ("glaze_remark", "remark", _TEXT, "anything else about the glaze"),
)
_LAYER = (
    ("coats", "coats", "coats", "number of coats"),
    ("thickness_mm", "thickness_mm", "mm", "dry coat, as applied"),
    ("fired_thickness_mm", "fired_thickness_mm", "mm", "coat after firing"),
    ("method", "method", _any_of(words.METHODS), "how it was put on"),
    ("applied_on", "applied_on", _any_of(words.APPLIED_ON), "what it was put on"),
    ("beneath", "beneath", _any_of(words.BENEATH), "state of the layer beneath at that time"),
)
_RECIPE = (
    (
        "recipe",
        "lines",
        "parts",
        "whiting=14; silica=20; +tin oxide=4 (+ for an addition); or: not recorded",
    ),
    ("recipe_version", "version", "number", "version of the recipe"),
    ("recipe_note", "note", _TEXT, "anything else about the recipe"),
)
_BATCH = (
    ("batch", "name", _TEXT, "the mixed or revived bucket"),
    ("batch_mixed_on", "mixed_on", _DATE, "day it was mixed"),
    ("batch_specific_gravity", "specific_gravity", "g/mL", "specific gravity"),
    ("batch_sieve_mesh", "sieve_mesh", "mesh", "sieve used"),
    ("batch_dry_portion", "dry_portion", _any_of(words.DRY_PORTIONS), "mixed from"),
    ("batch_is_revived", "is_revived", _YES_NO, "whether it had dried out and was revived"),
    ("batch_note", "note", _TEXT, "anything else about the batch"),
)
_FIRING = (
    ("kiln", "kiln", _TEXT, "kiln"),
    ("fired_on", "fired_on", _DATE, "day of the firing"),
    ("target_cone", "target_cone", _CONE, "cone the kiln was set for"),
    ("rate_c_per_h", "rate_c_per_h", "C/h", "heating rate near the top"),
    ("hold_min", "hold_min", "min", "hold at the top"),
    ("atmosphere", "atmosphere", _any_of(words.ATMOSPHERES), "kiln atmosphere"),
    ("peak_c", "peak_c", "C", "hottest reading"),
    ("opened_c", "opened_c", "C", "reading when the kiln was opened"),
    ("witness_cones", "witness_cones", "cones", "top=05; 06 (no shelf: for the whole load)"),
)
_LOOK = (
    (
        "inspected_on",
        "inspected_on",
        _DATE,
        "day of the look; blank: never inspected; a later look is a further row of its mark and "
        "area, all else on it blank or the same",
    ),
    ("inspection_note", "note", _TEXT, "anything else about that look"),
)


@cache
def columns() -> tuple[Column, ...]:
    """Every column of the flat form, those most used first.

    Returns
    -------
    tuple of Column
        With a one-line description and a unit, or the words the column takes.

    Examples
    --------
    >>> [column.name for column in columns()][:4]
    ['mark', 'area', 'area_label', 'surface']
    """
    mark, *tile = _table(_TILE, "tile", of_tile=True)
    glaze, *about_glaze = _table(_GLAZE, "glaze")
    return (
        mark,
        *_table(_AREA, "area"),
        *_table(_BODY, "body", of_tile=True),
        *(glaze, *_table(_LAYER, "layer"), *about_glaze),
        *(*_table(_RECIPE, "recipe"), *_table(_BATCH, "batch")),
        *_firing("firing", "", "the glaze firing"),
        *tile,
        *_look_and_defects(),
        *_firing("bisque_firing", "bisque_", "the bisque firing"),
        *(column for place in PLACES for column in _layer_at(place)),
        *_clue_columns(),
    )


@cache
def by_name() -> dict[str, Column]:
    """The columns by their header."""
    return {column.name: column for column in columns()}


@cache
def fields_of(part: str, place: str = MAIN) -> tuple[tuple[str, str], ...]:
    """Header and field of every column of one part of the record; its name first, if it has one.

    Examples
    --------
    >>> fields_of("glaze", "under")[:2]
    (('under_glaze', 'name'), ('under_glaze_kind', 'kind'))
    """
    return tuple(
        (each.name, each.field) for each in columns() if (each.part, each.place) == (part, place)
    )


@cache
def header_of(part: str, field: str, place: str = MAIN) -> str:
    """The header of one field of a part of the record.

    Examples
    --------
    >>> header_of("glaze", "name", "under"), header_of("recipe", "lines")
    ('under_glaze', 'recipe')
    """
    return next(header for header, name in fields_of(part, place) if name == field)


def _table(lines, part: str, *, of_tile: bool = False) -> list[Column]:
    return [Column(name, unit, says, part, field, of_tile) for name, field, unit, says in lines]


def _firing(part: str, prefix: str, what: str) -> list[Column]:
    remark = "firing_remark" if not prefix else f"{prefix}remark"
    first = Column(part, _TEXT, f"name of {what}", part, "name", True)
    rest = [
        Column(prefix + name, unit, f"{what}: {says}", part, field, True)
        for name, field, unit, says in _FIRING
    ]
    last = Column(remark, _TEXT, f"anything else about {what}", part, "remark", True)
    return [first, *rest, last]


_WHERE = {
    "over": "layer on top of the glaze",
    "under": "layer directly under the glaze",
    "under2": "layer under that one",
}


def _layer_at(place: str) -> list[Column]:
    tables = (("glaze", _GLAZE), ("layer", _LAYER), ("recipe", _RECIPE), ("batch", _BATCH))
    return [
        Column(
            f"{place}_{name}",
            unit,
            f"{_WHERE[place]}: {'its name' if (part, field) == ('glaze', 'name') else says}",
            part,
            field,
            False,
            place,
        )
        for part, lines in tables
        for name, field, unit, says in lines
    ]


def _look_and_defects() -> list[Column]:
    day, note = _table(_LOOK, "look", of_tile=True)
    defects = [
        Column(
            defect_column(defect),
            _any_of(SEVERITY_WORDS),
            f"{defect}: its worst severity here; blank where nobody looked",
            "defect",
            defect,
            False,
        )
        for defect in words.DEFECTS
    ]
    return [day, *defects, note]


def defect_column(defect: str) -> str:
    """The header of a defect.

    Examples
    --------
    >>> defect_column("colour shift")
    'defect_colour_shift'
    """
    return f"defect_{defect.replace(' ', '_')}"


def _clue_columns() -> list[Column]:
    return [
        Column(f"clue_{clue.name}", _YES_NO, clue.question, "clue", clue.name, False)
        for clue in clues().values()
    ]

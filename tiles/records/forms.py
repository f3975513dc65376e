"""The shape of a record: the one door for values from outside, and the shape that travels.

A :class:`TileRecord` holds all that is known of one tile, nested and without database keys. The
command line, the importer, the sample builder and diagnosis all speak it; ``tiles show MARK
--json`` prints it and ``tiles import`` reads it back. None always means *not recorded*.
"""

import re
from datetime import date
from typing import TYPE_CHECKING, Annotated, Any, TypeVar

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
    model_validator,
)

from tiles.chemistry.cones import HOTTEST_C, read_cone, step
from tiles.chemistry.slip import HIGHEST_SLOP_SG
from tiles.errors import InvalidValue
from tiles.records import words
from tiles.records.clues import read_clue
from tiles.records.number_text import no_opening
from tiles.records.problems import one_line

if TYPE_CHECKING:
    from tiles.chemistry.materials import Material


def _word(choices: tuple[str, ...], what: str) -> BeforeValidator:
    return BeforeValidator(lambda v: None if v is None else words.read_word(v, choices, what))


def _cone(value: Any) -> Any:
    return None if value is None else read_cone(value)


def _tidy(value: Any) -> Any:
    return words.tidy_name(value) if isinstance(value, str) else value


_COMMAND_SIGN = re.compile("[\x01-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
"""A terminal obeys it: it moves, colours, rings or turns the text round (U+202E)."""


def _without_commands(text: str) -> str:
    if "\0" in text:
        raise ValueError(r"it holds the sign NUL (\0), which no text can; leave that sign out")
    if found := _COMMAND_SIGN.search(text):
        sign = f"U+{ord(found[0]):04X}"
        raise ValueError(f"it holds {sign}, a command to a screen and no text; leave that sign out")
    return text


Form = TypeVar("Form", bound=BaseModel)

Name = Annotated[
    str,
    BeforeValidator(_tidy),
    Field(min_length=1, max_length=120),
    AfterValidator(_without_commands),
]
Text = Annotated[str, Field(max_length=10_000), AfterValidator(_without_commands)]
Cone = Annotated[str, BeforeValidator(_cone)]
Percent = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]
Positive = Annotated[float, Field(gt=0, allow_inf_nan=False)]


class _Form(BaseModel):
    """Unknown keys are refused, so that a mistyped one is never lost in silence."""

    model_config = ConfigDict(extra="forbid")


class _Named(_Form):
    """A thing that may be given by its bare name."""

    @model_validator(mode="before")
    @classmethod
    def _from_bare_name(cls, value: Any) -> Any:
        return {"name": value} if isinstance(value, str) else value


class _WithConeRange(_Named):
    """A thing whose label gives a cone range, cooler end first."""

    @model_validator(mode="after")
    def _range_runs_upwards(self) -> "_WithConeRange":
        low, high = self.cone_low, self.cone_high
        if low and high and step(low) > step(high):
            raise _backwards(self.name, low, high)
        return self


def _backwards(name: str, low: str, high: str) -> InvalidValue:
    """The error; never to turn round 6 to 4, which a spreadsheet has made of 06 to 04."""
    said = f"the cone range of {name!r} runs from {low} down to {high}"
    zeros = [end if end.startswith("0") else f"0{end}" for end in (low, high)]
    if zeros != [low, high] and step(zeros[0]) <= step(zeros[1]):
        hint = (
            f"^{zeros[0]} and ^{zeros[1]} if the 0 was lost (a spreadsheet leaves those as they "
            "are), else the cooler cone first."
        )
    else:
        hint = f"{high} to {low}: cone {high} is the cooler one."
    return InvalidValue(f"{said}.", hint, field="cone_low", value=low)


def _check_ppm_per_k(value: float) -> float:
    """An expansion as data sheets print it, 5.5e-6 per K, is not in 1e-6/K."""
    if value < LEAST_PPM_PER_K:
        raise InvalidValue(
            f"an expansion of {value:g} is far below that of any clay; it is given in 1e-6/K.",
            f"{value * 1e6:g}, if the data sheet says {value:g} per K.",
            field="expansion_ppm_per_k",
            value=value,
        )
    return value


LEAST_PPM_PER_K = 0.1
_in_ppm_per_k = AfterValidator(_check_ppm_per_k)


class BodyRecord(_WithConeRange):
    """A clay body."""

    name: Name
    kind: Annotated[str, _word(words.BODY_KINDS, "body kind")] | None = None
    colour: Name | None = None
    cone_low: Cone | None = None
    cone_high: Cone | None = None
    absorption_pct: Percent | None = None
    shrinkage_pct: Percent | None = None
    expansion_ppm_per_k: Annotated[float, Field(gt=0, lt=30), _in_ppm_per_k] | None = None
    remark: Text | None = None
    is_retired: bool = False


class KilnRecord(_Named):
    """A kiln."""

    name: Name
    remark: Text | None = None


class RecipeLine(_Form):
    """One material of a recipe, in parts by dry weight."""

    material: Name
    parts: Positive
    is_addition: bool = False


class RecipeRecord(_Form):
    """One version of a recipe; additions stand above the 100 parts of the base."""

    version: Annotated[int, Field(ge=1)] | None = None
    lines: Annotated[list[RecipeLine], Field(min_length=1)]
    note: Text | None = None
    _own: "tuple[Material, ...]" = ()

    @property
    def base(self) -> list[tuple[str, float]]:
        """Material and parts of each line of the base."""
        return [(line.material, line.parts) for line in self.lines if not line.is_addition]

    @property
    def extras(self) -> list[tuple[str, float]]:
        """Material and parts of each addition."""
        return [(line.material, line.parts) for line in self.lines if line.is_addition]

    @property
    def own(self) -> "tuple[Material, ...]":
        """The user's own analyses, where it was read from a database that has some.

        They are looked up beside it and no part of the record that travels.
        """
        return self._own

    def analysed(self, own: "tuple[Material, ...]") -> "RecipeRecord":
        """The recipe itself, from now on with the user's own analyses before the shipped ones."""
        self._own = own
        return self


class GlazeRecord(_WithConeRange):
    """A glaze, underglaze, slip, wash or stain, from a jar or a recipe."""

    name: Name
    kind: Annotated[str, _word(words.GLAZE_KINDS, "glaze kind")] | None = None
    role: Annotated[str, _word(words.GLAZE_ROLES, "role")] | None = None
    finish: Annotated[str, _word(words.FINISHES, "finish")] | None = None
    colour: Name | None = None
    maker: Name | None = None
    cone_low: Cone | None = None
    cone_high: Cone | None = None
    supplied_as: Annotated[str, _word(words.SUPPLIED_AS, "supplied-as")] | None = None
    food_label: Text | None = None
    remark: Text | None = None
    is_retired: bool = False


class BatchRecord(_Named):
    """One mixed or revived bucket of a glaze."""

    name: Name
    mixed_on: date | None = None
    specific_gravity: Annotated[float, Field(gt=1, lt=HIGHEST_SLOP_SG)] | None = None
    sieve_mesh: Annotated[int, BeforeValidator(no_opening), Field(gt=0, le=400)] | None = None
    dry_portion: Annotated[str, _word(words.DRY_PORTIONS, "dry portion")] | None = None
    is_revived: bool | None = None
    note: Text | None = None
    is_retired: bool = False


class WitnessCone(_Form):
    """The cone a witness pack showed, on one shelf or (shelf blank) for the whole load."""

    shelf: Name | None = None
    cone: Cone


class FiringRecord(_Named):
    """One firing. Given by its bare label where only that is known."""

    name: Name
    kind: Annotated[str, _word(words.FIRING_KINDS, "firing kind")] | None = None
    kiln: Name | None = None
    fired_on: date | None = None
    target_cone: Cone | None = None
    rate_c_per_h: Annotated[float, Field(gt=0, le=1000)] | None = None
    hold_min: Annotated[float, Field(ge=0, le=2880)] | None = None
    atmosphere: Annotated[str, _word(words.ATMOSPHERES, "atmosphere")] | None = None
    peak_c: Annotated[float, Field(gt=400, le=HOTTEST_C)] | None = None
    opened_c: Annotated[float, Field(ge=0, le=1000)] | None = None
    witness_cones: list[WitnessCone] = []
    remark: Text | None = None


class LayerRecord(_Form):
    """One layer on an area; layers are listed from the clay upwards.

    ``thickness_mm`` is the dry coat as applied, ``fired_thickness_mm`` the coat after firing
    (about half): never the one for the other.
    """

    glaze: GlazeRecord
    recipe: RecipeRecord | None = None
    batch: BatchRecord | None = None
    coats: Annotated[int, Field(ge=1, le=20)] | None = None
    thickness_mm: Annotated[float, Field(gt=0, le=10)] | None = None
    fired_thickness_mm: Annotated[float, Field(gt=0, le=10)] | None = None
    method: Annotated[str, _word(words.METHODS, "method")] | None = None
    applied_on: Annotated[str, _word(words.APPLIED_ON, "applied-on")] | None = None
    beneath: Annotated[str, _word(words.BENEATH, "state beneath")] | None = None


def _read_clues(value: Any) -> Any:
    if not isinstance(value, dict):
        return value
    return dict(read_clue(name, answer) for name, answer in value.items() if answer is not None)


Clues = Annotated[dict[str, str], BeforeValidator(_read_clues)]


class AreaRecord(_Form):
    """One area of a tile with its own layers; most tiles have just area 1."""

    number: Annotated[int, Field(ge=1, le=50)]
    label: Name | None = None
    surface: Annotated[str, _word(words.SURFACES, "surface")] | None = None
    layers: list[LayerRecord] = []
    clues: Clues = {}


class DefectSeen(_Form):
    """One defect seen at an inspection. ``area`` None means the whole tile."""

    defect: Annotated[str, BeforeValidator(words.read_fault)]
    severity: Annotated[str, _word(words.SEVERITIES, "severity")] | None = None
    area: Annotated[int, Field(ge=1)] | None = None
    place: Name | None = None
    note: Text | None = None


class InspectionRecord(_Form):
    """One look at the fired tile. No defects means: looked at, found clean."""

    inspected_on: date
    defects: list[DefectSeen] = []
    note: Text | None = None


class PhotoRecord(_Form):
    """A picture of the tile; ``file`` is the name of its copy in the folder of pictures."""

    file: Name
    caption: Name | None = None


BESIDE = ("confirmed", "derived")
"""What an export tells beside the fields of a tile: asked or worked out anew, never believed."""


class TileRecord(_Form):
    """All that is recorded of one tile.

    The ``trial_`` fields are filled where it was made to find out why another one failed: which,
    of what fault, and the one thing that was changed. What stands ``BESIDE`` them is left out.
    """

    mark: Name
    made_on: date | None = None
    glazed_on: date | None = None
    form: Annotated[str, _word(words.TILE_FORMS, "tile form")] | None = None
    stood: Annotated[str, _word(words.STOOD, "stood")] | None = None
    body: BodyRecord
    bisque_cone: Cone | None = None
    bisque_firing: FiringRecord | None = None
    firing: FiringRecord | None = None
    shelf: Name | None = None
    cone_reached: Cone | None = None
    areas: list[AreaRecord] = []
    clues: Clues = {}
    inspections: list[InspectionRecord] = []
    photos: list[PhotoRecord] = []
    note: Text | None = None
    trial_of: Name | None = None
    trial_defect: Annotated[str, _word(words.DEFECTS, "defect")] | None = None
    trial_change: Text | None = None

    @model_validator(mode="before")
    @classmethod
    def _without_what_stands_beside(cls, value: Any) -> Any:
        is_told = isinstance(value, dict)
        return {k: v for k, v in value.items() if k not in BESIDE} if is_told else value

    @model_validator(mode="after")
    def _trial_is_whole(self) -> "TileRecord":
        trial = (self.trial_of, self.trial_defect, self.trial_change)
        if any(trial) and not all(trial):
            raise InvalidValue(
                f"a trial ({self.mark}) needs all of trial_of (the tile it was made for), "
                "trial_defect (the fault) and trial_change (the one thing changed).",
                "all three, or none of them.",
                field="trial_of",
            )
        if words.same_name(self.trial_of, self.mark):
            raise ValueError(f"a tile ({self.mark}) cannot be a trial of itself")
        return self

    @model_validator(mode="after")
    def _areas_agree(self) -> "TileRecord":
        self.areas = self.areas or [AreaRecord(number=1)]
        numbers = [area.number for area in self.areas]
        if len(set(numbers)) != len(numbers):
            raise ValueError(f"two areas of {self.mark} have the same number: {sorted(numbers)}")
        for inspection in self.inspections:
            for seen in inspection.defects:
                if seen.area is not None and seen.area not in numbers:
                    raise InvalidValue(
                        f"{seen.defect} is on area {seen.area}, but the tile has "
                        f"area{'s' if len(numbers) > 1 else ''} "
                        f"{', '.join(str(n) for n in sorted(numbers))} only.",
                        words.areas_to_name(seen.defect, numbers),
                    )
        return self


def read(form: type[Form], values: Any, where: str = "") -> Form:
    """Check outside values against a form.

    Parameters
    ----------
    form : type
        One of the record classes above.
    values : mapping or str
        What came from outside; a tile also as an export has it.
    where : str
        Where it came from ("tiles.json, record 3"), for the error line.

    Raises
    ------
    InvalidValue
        One line for the first thing that is wrong: what, the value, where, what to do.
    """
    try:
        return form.model_validate(values)
    except ValidationError as error:
        raise one_line(error.errors(), where, form, BESIDE) from error

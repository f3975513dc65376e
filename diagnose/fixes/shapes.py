"""What a worked-out fix is made of; plain values, ready for the screen and for JSON."""

from dataclasses import asdict, dataclass, field
from math import floor
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagnose.own_tiles.load_or_make import LoadOrMake

CONTROL = "control"
UNCHANGED = "as it was"
"""The change of a control."""
NOT_RECORDED = "(before: not recorded)"
"""How a change ends where the record does not say how it was before."""
JAR = "jar"
"""A jar that is not on record yet; one that is goes by "batch"."""
OF_BUCKET = ("specific gravity", "dry glaze mixed", JAR)
"""A bucket changed in these is no longer the batch on record."""
KILN, SHELF, PLACE = "kiln", "shelf", "place in the kiln"
COATS, DRY_COAT = "coats", "dry coat"
BISQUE_CONE, WIPED = "bisque cone", "bisque wiped with a damp sponge"
CONE_REACHED, HOLD = "cone reached", "hold at the top"
AS_SET = " as set"
"""Behind the cone that a kiln was set for, where none was read."""
COOLING = "cooling from 1000 to 800 °C"
OPENED = "kiln opened at"
BENEATH = "coat beneath when the next goes on"
UNDER = "under the glaze"
COLOUR_ON = "colour beneath put on"
STIRRED, MARGIN = "stirred to the bottom", "bare margin above the foot"
ORDER = "order of the glazes"
OVER = "clear over the colour"
VERSION = "recipe version"
"""What is changed, where not its step alone knows it; `notices.sets_apart` reads the places."""
ADVISED = (COATS, BISQUE_CONE, WIPED, CONE_REACHED, HOLD, COOLING, BENEATH)
"""The changes that advice of the cause files may be marked with."""


@dataclass(frozen=True)
class Change:
    """One thing that is done otherwise: "coats 4 -> 2", "bisque cone 08 -> 04".

    ``before`` is None where the record does not say.
    """

    what: str
    before: float | str | None
    after: float | str
    unit: str = ""

    @property
    def said(self) -> str:
        """As it is printed."""
        unit = f" {self.unit}" if self.unit else ""
        if self.before is None:
            return f"{self.what}: {_plain(self.after)}{unit} {NOT_RECORDED}"
        return f"{self.what} {_plain(self.before)} -> {_plain(self.after)}{unit}"


@dataclass(frozen=True)
class Prediction:
    """One number of the recipe before and after, and the 90 % interval of its change.

    ``low`` and ``high`` are None for numbers that are plain arithmetic on the recipe.
    """

    quantity: str
    unit: str
    before: float
    after: float
    low: float | None = None
    high: float | None = None

    @property
    def change(self) -> float:
        """After less before."""
        return self.after - self.before


@dataclass(frozen=True)
class BlendPoint:
    """One mixture on the way from the recipe as it is to the change in full.

    ``share`` is 0 for the recipe as it is, 1 for the change in full; ``parts`` by material, in the
    words of the recipe; ``additions`` are those that stand on top of the base.
    """

    name: str
    share: float
    parts: dict[str, float]
    additions: list[str]


@dataclass(frozen=True)
class Trial:
    """One tile to fire: ``tile`` holds the values of its record, without a mark.

    ``recipe`` is that of a trial glaze not on record yet, None for a glaze that is. ``repeats`` is
    the mark of the sound trial that it is once more; empty where it is no repeat.
    """

    name: str
    change: str
    tile: dict
    recipe: dict | None = None
    repeats: str = ""

    @property
    def is_control(self) -> bool:
        """Whether nothing is changed on it."""
        return self.name == CONTROL


@dataclass(frozen=True)
class Fix:
    """One fix worked out for this tile.

    ``name`` is the letter it goes by, ``key`` the swaps or the step it comes from; ``generic``
    are materials reckoned with a generic analysis; ``reaches`` is false for a recipe change that
    goes only part of the way. ``tried`` tells what trials that were fired showed of it.
    """

    name: str
    key: str
    title: str
    changes: list[Change]
    spoils: list[str] = field(default_factory=list)
    cautions: list[str] = field(default_factory=list)
    predictions: list[Prediction] = field(default_factory=list)
    blend: list[BlendPoint] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    generic: list[str] = field(default_factory=list)
    trials: list[Trial] = field(default_factory=list)
    reaches: bool = True
    tried: list[str] = field(default_factory=list)

    @property
    def is_recipe(self) -> bool:
        """Whether it changes the recipe."""
        return bool(self.blend)

    @property
    def done(self) -> tuple[str, ...]:
        """What it does, whatever letter it goes by."""
        return (self.key, *(change.said for change in self.changes))


@dataclass(frozen=True)
class Worked:
    """One cause with its fixes; ``say`` is the aim, or why nothing could be worked out.

    ``acts_too`` names the fixes of earlier causes that act on this one as well; ``advice`` is what
    the rules say in words, for causes without any fix that mends; ``tried`` tells of fixes that are
    left out because they failed in a trial. ``confirm`` is what proves it where no tile does;
    ``against`` what own tiles say against it, ``twins`` which sound ones had its remedy.
    """

    cause: str
    title: str
    share: float
    say: list[str]
    fixes: list[Fix]
    acts_too: list[str]
    advice: list[str]
    cautions: list[str]
    tried: list[str] = field(default_factory=list)
    confirm: list[str] = field(default_factory=list)
    against: list[str] = field(default_factory=list)
    twins: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Outcome:
    """What a trial would tell: the causes by share now and then, the likeliest first.

    ``serves`` are the causes it is for, counted from 1.
    """

    trial: str
    serves: list[int]
    now: list[tuple[str, float]]
    if_again: list[tuple[str, float]]
    if_sound: list[tuple[str, float]]


@dataclass(frozen=True)
class Answer:
    """The fixes for one defect: the causes in order and the tiles that prove them.

    ``first`` is the tile to fire first where the record does not tell the cause, and what its
    outcome would mean; None where none would change much. ``stop`` says why no tile like
    this one is planned: glaze and clay have no firing in common. ``handling`` are the usual
    cautions for what the glazes of the tile and of its trials hold. ``proven`` are the changes
    that worked on trials already, also on those for a tile akin; ``mended``: one of its own, or
    where a recipe would be changed one of a tile akin, so that nothing untried goes before it.
    ``tried`` tells of the other trials with a change that no fix is told with, and of those for a
    tile akin. ``cautions`` are those of an answer that leaves nothing to mend; ``hot_shelf`` says
    that the shelf of the set often goes hotter than it stands. Before ``look_after_days`` no tile
    can be called sound; 0 for a fault that comes at once; ``came_between`` tells of the latest own
    tile between which of its looks it came. ``sisters`` are the tiles made alike, by mark: trials
    for them serve this one. ``load`` is the load of the tile where that failed as a whole;
    ``is_of_load``: that comes first, and its control is all that is fired. ``all_glazes`` is what
    else most tiles of all glazes fail by, where the tile is one of those.
    """

    defect: str
    enough_to_tell: bool
    say: str
    causes: list[Worked]
    trials: list[Trial]
    first: Outcome | None = None
    stop: str = ""
    handling: list[str] = field(default_factory=list)
    proven: list[str] = field(default_factory=list)
    mended: bool = False
    cautions: list[str] = field(default_factory=list)
    tried: list[str] = field(default_factory=list)
    hot_shelf: str = ""
    look_after_days: int = 0
    came_between: str = ""
    sisters: list[str] = field(default_factory=list)
    load: "LoadOrMake | None" = None
    is_of_load: bool = False
    all_glazes: str = ""

    def as_dict(self) -> dict:
        """Plain values for JSON, the keys being the fields of the classes in this file."""
        return asdict(self)


def brushed_mm(mm: float) -> float:
    """Millimetres as a coat can be brushed and measured: to a tenth, a half upwards.

    Examples
    --------
    >>> brushed_mm(1.4667), brushed_mm(0.55), brushed_mm(0.93)
    (1.5, 0.6, 0.9)
    """
    return floor(10 * mm + 0.5 + 1e-9) / 10


def _plain(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:.3g}"

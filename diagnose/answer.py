"""What ``tiles why`` answers with: one diagnosis for each defect, one report for each cause."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date

    from diagnose.case import Case
    from diagnose.own_tiles.lesson import Lesson
    from diagnose.own_tiles.twins import Twin


@dataclass(frozen=True)
class Said:
    """A sentence, with the counts and twins among own tiles that it tells, if any.

    ``more`` is what is told of them beside, in sentences of its own.
    """

    say: str
    of: "tuple[Lesson | Twin, ...]" = ()
    more: str = ""

    @property
    def in_full(self) -> str:
        """All of it."""
        return f"{self.say} {self.more}".rstrip()

    @property
    def is_bare(self) -> bool:
        """Whether it tells of one count or twin, and nothing beside."""
        return len(self.of) == 1 and not self.more


@dataclass(frozen=True)
class CauseReport:
    """One cause as the reader sees it; sentences carry the tile's own figures.

    A cause that the record rules out keeps its evidence, but no fix is advised for it.
    ``is_unspoken``: it would be plain to see, and nothing that is recorded speaks for it.
    ``tests`` prove it, some of them by what own tiles showed; ``of_own`` is what own tiles tell
    that bears on it, ``own_log_odds`` what that adds, and ``practice_share`` the share without.
    """

    name: str
    title: str
    share: float
    for_: list[str]
    against: list[str]
    not_recorded: list[str]
    tests: list[Said]
    fixes: list[str]
    cautions: list[str]
    basis: str
    is_ruled_out: bool = False
    is_unspoken: bool = False
    practice_share: float | None = None
    own_log_odds: float = 0.0
    of_own: list[Said] = field(default_factory=list)

    @property
    def confirm(self) -> list[str]:
        """The tests in words."""
        return [each.say for each in self.tests]

    @property
    def your_tiles(self) -> list[str]:
        """What own tiles tell, in words."""
        return [each.say for each in self.of_own]

    def as_dict(self) -> dict:
        """The documented JSON shape of one cause."""
        return {
            "title": self.title,
            "share": round(self.share, 3),
            "for": self.for_,
            "against": self.against,
            "not_recorded": self.not_recorded,
            "confirm": self.confirm,
            "fixes": self.fixes,
            "cautions": self.cautions,
            "basis": self.basis,
            "practice_share": round(
                self.share if (alone := self.practice_share) is None else alone, 3
            ),
            "own_log_odds": self.own_log_odds,
            "your_tiles": self.your_tiles,
        }


@dataclass(frozen=True)
class Diagnosis:
    """One defect of one tile, explained as far as the record allows.

    ``is_fault`` is False when the look is expected of this glaze. ``look_alike`` names the defect
    it really is when the evidence says that it was misnamed; ``instead_of`` the name it was logged
    under, on the diagnosis that then follows. ``also_explains`` lists the further defects of the
    tile that the first cause could explain. ``case`` is what it rests on. ``handling``
    are the usual cautions for what its glazes hold, ``leaching`` that for a colour of which this
    fault sets more free, ``twins`` what sound tiles tell that are alike
    but for one thing.
    """

    defect: str
    severity: str | None
    areas: list[int]
    first_seen: "date"
    enough_to_tell: bool
    say: str
    causes: list[CauseReport]
    case: "Case" = field(compare=False, repr=False)
    is_fault: bool = True
    look_alike: str | None = None
    instead_of: str | None = None
    from_notes: list[str] = field(default_factory=list)
    also_explains: list[str] = field(default_factory=list)
    handling: list[str] = field(default_factory=list)
    leaching: str = ""
    twins: list[str] = field(default_factory=list)

    def as_dict(self) -> dict:
        """The documented JSON shape of one diagnosis."""
        return {
            "defect": self.defect,
            "severity": self.severity,
            "areas": self.areas,
            "first_seen": self.first_seen.isoformat(),
            "enough_to_tell": self.enough_to_tell,
            "say": self.say,
            "causes": [cause.as_dict() for cause in self.causes],
            "is_fault": self.is_fault,
            "look_alike": self.look_alike,
            "instead_of": self.instead_of,
            "from_notes": self.from_notes,
            "also_explains": self.also_explains,
            "handling": self.handling,
            "twins": self.twins,
            "sister": self.case.sister or None,
            "since": self.case.since or None,
            "all_glazes": told.say if (told := self.case.studio or self.case.load) else None,
            "together": self.case.together or None,
            "leaching": self.leaching or None,
        }

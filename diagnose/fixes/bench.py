"""The tile on the bench: what a step may look at, and what a step is."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from diagnose.fixes.ranges import within_both
from diagnose.fixes.shapes import Change
from tiles.chemistry.cones import step
from tiles.records.derived import label_range

if TYPE_CHECKING:
    from diagnose.own_tiles.bodies import SoundBody
    from diagnose.view import View
    from tiles.records.forms import BatchRecord, BodyRecord, GlazeRecord, LayerRecord


@dataclass(frozen=True)
class Bench:
    """One area of a tile with a cause to act on.

    ``bodies`` and ``glazes`` are what else the user has on record, ``batches`` those of the
    uppermost glaze where it has several; ``sound_on`` is the clay on which own tiles of it are
    sound, ``failing_coats`` the numbers of coats with which they clearly fail, ``off_shelves`` the
    shelves that mostly miss their cone. ``is_fired``: it is asked what a fired trial changed.
    """

    view: "View"
    cause: str
    setting: str
    bodies: Sequence["BodyRecord"] = ()
    glazes: Sequence["GlazeRecord"] = ()
    batches: "Sequence[BatchRecord]" = ()
    sound_on: "SoundBody | None" = None
    failing_coats: frozenset[int] = frozenset()
    off_shelves: frozenset[str] = frozenset()
    is_fired: bool = False

    @property
    def record(self):
        """The tile."""
        return self.view.record

    @property
    def firing(self):
        """Its glaze firing, None when not recorded."""
        return self.view.record.firing

    @property
    def top(self) -> "LayerRecord | None":
        """The uppermost glaze."""
        return self.view.top

    @property
    def target(self) -> str | None:
        """The cone the firing was set for."""
        return self.view.target

    @property
    def label(self) -> tuple[str, str] | None:
        """Cooler and hotter end of what the label of the top glaze allows, None without one."""
        return self.view.label

    def within_both(self, cone: str) -> str | None:
        """The cone nearest to it that label and clay stand, None where there is none."""
        return within_both(self.record.body, self.view.glaze, cone)

    def within_body(self, cone: str) -> str:
        """The cone, or the hotter end of what the body stands."""
        known = label_range(self.record.body)
        return known[1] if known and step(cone) > step(known[1]) else cone


@dataclass(frozen=True)
class Step:
    """One thing to do otherwise on a tile like this one.

    ``changes`` begin with it; the others only say the same otherwise, as the millimetres of a coat.
    ``edit`` says what changes on the trial tile: ``coats``, ``colour_coats``, ``bisque_cone``,
    ``body``, ``kiln``, ``shelf``, ``batch``, ``recipe`` (another version), ``beneath``, ``under``
    (another colour), ``turned`` (which of two glazes lies on top), ``glaze`` (another one in its
    place), ``bare``, ``clear``, ``slop``, what is done to it, or ``cooled_slowly``; ``firing`` is
    how the trial is to be fired, where that is the change. ``place`` is where in the kiln, of the
    same firing.
    """

    key: str
    title: str
    changes: list[Change]
    spoils: str = ""
    edit: dict = field(default_factory=dict)
    firing: str = ""
    place: str = ""

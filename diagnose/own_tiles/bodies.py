"""The other clay on which own tiles of the same glaze stayed sound."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.comparing.exact_test import two_groups
from diagnose.own_tiles.areas import looked_at, under
from diagnose.own_tiles.cut import TELLING
from diagnose.own_tiles.late_looks import COMES_LATE, later_looks
from diagnose.own_tiles.lift import VERY_CLEAR
from diagnose.own_tiles.same_age import SameAge, same_age
from diagnose.view import View, area_of
from diagnose.wording import DID, listed
from tiles.records.derived import firing_key, shows
from tiles.records.quick import MOST_OTHERS
from tiles.records.words import OF_FIT, name_key, same_name

if TYPE_CHECKING:
    from diagnose.own_tiles.areas import Looked
    from tiles.records.forms import TileRecord

LEAST_SOUND = 3
"""So many tiles of the glaze there, all of them sound, before a clay is told (estimate)."""
ANSWERED_BY_SOUND_BODY = frozenset({"fails_on_every_body", "sound_on_other_body"})
"""What nobody needs to be asked where own tiles show such a clay."""


@dataclass(frozen=True)
class SoundBody:
    """A clay with so many tiles of the glaze, none with the fault, and how the tile's own clay did.

    ``did`` is the fault as a verb, such as "crazed"; ``until`` how late the tiles there were looked
    at, where that matters; ``left_out`` sound ones on either clay were looked at too early to tell;
    ``when`` all are counted, where that is the first look.
    """

    name: str
    glaze: str
    did: str
    tiles: int
    here: str
    here_failed: int
    here_tiles: int
    until: str = ""
    left_out: int = 0
    when: str = ""

    @property
    def there(self) -> str:
        """How the glaze did there."""
        none = f"none of your {self.tiles} tiles of {self.glaze} {self.did} there"
        return ", ".join(filter(None, (none, self.until)))

    @property
    def count(self) -> str:
        """Both clays as a count."""
        late = f" ({self.until})" if self.until else ""
        here = f"of {self.here_tiles} tiles of {self.glaze} on {self.here} {self.here_failed}"
        if self.here_tiles == 1:
            here = f"the one tile of {self.glaze} on {self.here}"
        when = f" {self.when}" if self.when else ""
        return f"{here} {self.did}{when}, of {self.tiles} on {self.name} none{late}."

    @property
    def say(self) -> str:
        """As a fix."""
        here = f"{self.here_failed} of {self.here_tiles} on {self.here}"
        here += f" {self.when}" if self.when else ""
        if self.left_out:
            here += f"; {self.left_out} sound so far, looked at too early to tell, not counted"
        return f"Use it on {self.name}: {self.there} ({here})."


def sound_body(
    others: "Sequence[TileRecord]", record: "TileRecord", area: int | None, defect: str
) -> SoundBody | None:
    """The clay with the most sound tiles, where the tile's own clay clearly fails more often.

    Parameters
    ----------
    others : sequence of TileRecord
        Own tiles, of which the inspected ones with the same uppermost glaze count, where they
        were looked at late enough to tell.
    record : TileRecord
        The failed tile; it counts for its own clay.
    area : int or None
        Which of its areas.
    defect : str
        One word of the defect list.
    """
    failed = area_of(record, area)
    view = View(record, failed)
    glaze = view.glaze_name
    if glaze is None or view.body_name is None:
        return None
    areas = under(glaze, others)
    at = same_age([*areas, (record, failed)], defect)
    telling = [each for each in areas if at.tells(*each) and View(*each).body_name]
    by_clay: dict[str, list[Looked]] = {}
    for each in telling:
        by_clay.setdefault(each[0].body.name, []).append(each)
    found = {name: at.by_mark(own) for name, own in by_clay.items()}
    here = found.pop(record.body.name, {}) | at.by_mark([(record, failed)])
    own = (sum(here.values()), len(here))
    ever = {other.body.name for other, each in areas if shows(other, each, defect)}
    sound = [(len(tiles), name) for name, tiles in found.items() if name not in ever]
    many, name = max(sound, default=(0, ""))
    if many < LEAST_SOUND or two_groups([[own, (0, many)]]) > TELLING:
        return None
    there = {other.mark: other for other, each in telling if other.body.name == name}
    until = later_looks(list(there.values())) if defect in COMES_LATE else ""
    either = {other.mark for other, _ in areas if other.body.name in (name, record.body.name)}
    left_out = 0 if at.by_day else len(either - {other.mark for other, _ in telling})
    did = DID.get(defect, "failed")
    return SoundBody(name, glaze, did, many, record.body.name, *own, until, left_out, at.when)


def clay_count(
    others: "Sequence[TileRecord]", record: "TileRecord", area: int | None, defect: str
) -> str:
    """How tiles of all glazes did on this clay and on all others, where these clearly do better.

    Of areas with as many layers as this one, one or several: what a clay does where glazes overlap
    need not show under one alone. They are those with a glaze of it and what was fired beside
    these, as all of those are at hand; none is told where there are more than are read. Where it is
    no more often without the glaze that failed most there, it is a matter of that one. It is told
    and not weighed.
    """
    failed = area_of(record, area)
    if failed is None or not failed.layers or len(others) >= MOST_OTHERS:
        return ""
    is_several = len(failed.layers) > 1
    if defect in OF_FIT:  # of which more tiles of its clay are read than of others
        others = _fired_beside(record, others)
    alike = [
        (other, each)
        for other, each in looked_at(others)
        if each.layers and (len(each.layers) > 1) is is_several
    ]
    at = same_age([*alike, (record, failed)], defect)
    sides: dict[bool, list[Looked]] = {True: [], False: []}
    for each in alike:
        sides[same_name(each[0].body.name, record.body.name)].append(each)
    here, there = (_failed_and_all(at, sides[side]) for side in (True, False))
    if View(record).body_name is None or not _is_worse(here, there, VERY_CLEAR):
        return ""
    failing = Counter(View(*each).glaze_name for each in sides[True] if at.failed(*each))
    most = failing.most_common(1)[0][0]
    rest = (
        _failed_and_all(at, [each for each in sides[side] if View(*each).glaze_name != most])
        for side in (True, False)
    )
    if not _is_worse(*rest, TELLING):
        return ""
    layers = "with several layers" if is_several else "with one layer"
    names = list(_glazes(record).values())
    them = f"{listed(names)}, and all fired beside {'it' if len(names) == 1 else 'them'}"
    when = f" ({at.when})" if at.by_day else ""
    return (
        f"of {here[1]} others {layers} on {record.body.name} ({them}) {here[0]} "
        f"{DID.get(defect, 'failed')}, of {there[1]} on other clays {there[0] or 'none'}{when}."
    )


def _failed_and_all(at: SameAge, areas: "Sequence[Looked]") -> tuple[int, int]:
    found = at.by_mark(areas)
    return sum(found.values()), len(found)


def _is_worse(here: tuple[int, int], there: tuple[int, int], chance: float) -> bool:
    """Whether a larger part failed here, by more than chance makes so often."""
    is_worse = here[0] * there[1] > there[0] * here[1]
    return is_worse and two_groups([[here, there]]) < chance


def _glazes(record: "TileRecord") -> dict[str, str]:
    """The names of what lies on any area of a tile, by how names are compared."""
    names = (layer.glaze.name for area in record.areas for layer in area.layers)
    return {name_key(each): each for each in names}


def _fired_beside(record: "TileRecord", others: "Sequence[TileRecord]") -> "list[TileRecord]":
    """The tiles with a glaze of this one, and those of the firings of any of them."""
    glazes = _glazes(record).keys()
    with_them = [each for each in (record, *others) if glazes & _glazes(each).keys()]
    marks = {each.mark for each in with_them}
    firings = {firing_key(each) for each in with_them} - {""}
    return [each for each in others if each.mark in marks or firing_key(each) in firings]

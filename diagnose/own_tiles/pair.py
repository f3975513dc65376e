"""Own tiles with the very layers of one that is to be fired, laid in this order or another.

The learner tells how a glaze does over *a* glaze; that just these two melt into each other, or
crawl over each other, only tiles of the pair tell. So their counts are told before its chance.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import comb
from typing import TYPE_CHECKING

from diagnose.own_tiles.areas import failed_by_mark, looked_at, under
from diagnose.own_tiles.known_apart import apart, bearing, handled
from diagnose.own_tiles.late_looks import COMES_LATE, LateLooks, late_looks
from diagnose.view import View
from diagnose.wording import DID
from tiles.chemistry.cones import steps_between
from tiles.records.derived import is_of_recipe
from tiles.records.words import OF_FIT, name_key, same_name

if TYPE_CHECKING:
    from diagnose.own_tiles.areas import Looked
    from tiles.records.forms import AreaRecord, LayerRecord, TileRecord

NEAR_CONES = 1
"""Tiles whose cones lie this far apart or further are not fired alike. [cone steps]"""
APART = 0.25
"""Where the shares that failed differ by so much, order or clay matters: not counted together."""
LEAST_SEEN = 2
"""One tile that failed may be luck."""
MOSTLY = 0.75
"""Where so large a part of tiles ran that were less hot or less thick, it is told (estimate)."""
UNLIKELY = 0.05
"""A chance under which own tiles would come out so no oftener is far from them (estimate)."""


@dataclass(frozen=True)
class PairCount:
    """How often a fault came on own tiles with the very same layers, fired about as hot or less.

    ``seen`` of ``tiles`` had it; ``how`` says in which order and on which clay they were, and how
    those in the other order did where these did otherwise. ``on_other_bodies``: none is of its own.
    Where there are none, ``near`` tells in words of those at another cone or in other coats, of
    which ``near_seen`` of ``near_tiles`` had it: they stand beside the chance, as no such tiles.
    """

    seen: int = 0
    tiles: int = 0
    how: str = ""
    on_other_bodies: bool = False
    near: str = ""
    near_seen: int = 0
    near_tiles: int = 0

    def is_far_from(self, chance: float) -> bool:
        """Whether tiles would hardly come out so were this the chance of the fault.

        Sound tiles on other clays say nothing against a fault on this one.
        """
        failed = self.seen
        if failed >= LEAST_SEEN and failed > chance * self.tiles:
            return _share_of(range(failed, self.tiles + 1), self.tiles, chance) <= UNLIKELY
        is_less = self.tiles and not self.on_other_bodies and failed < chance * self.tiles
        return bool(is_less) and _share_of(range(failed + 1), self.tiles, chance) <= UNLIKELY


def _share_of(failed: range, many: int, chance: float) -> float:
    """How often so many of some tiles fail, each with the same chance."""
    return sum(comb(many, k) * chance**k * (1 - chance) ** (many - k) for k in failed)


def is_less(nearer: tuple[int, int], count: tuple[int, int]) -> bool:
    """Whether a far smaller part of some tiles failed than of others; each failed and all."""
    return bool(nearer[1]) and nearer[0] / nearer[1] <= count[0] / max(count[1], 1) - APART


def is_oftener(
    alike: tuple[int, int], tiles: int, closest: tuple[int, int], chance: float, defect: str
) -> bool:
    """Whether a fault came far oftener on own tiles of a glaze on one clay than its chance says.

    Parameters
    ----------
    alike, closest : tuple of int
        Areas that failed and all, of the glaze on this clay, and of those made still more alike:
        they must have failed about as often. Where there are none, only a fault of fit is told of:
        it is the one that hangs on glaze and clay alone.
    tiles : int
        On so many tiles the areas of ``alike`` lie: areas of one are no tiles each.
    chance : float
        Of the fault.
    defect : str
        One word of the defect list.
    """
    failed, areas = alike
    if not areas or not (closest[1] or defect in OF_FIT):
        return False
    share = failed / areas
    if is_less(closest, alike):
        return False
    return share - chance >= APART and PairCount(round(share * tiles), tiles).is_far_from(chance)


@dataclass(frozen=True)
class OwnPair:
    """The own areas with the same layers: on its clay and others, in its order and turned.

    ``milder`` are those in no more coats and no hotter, on any clay and in any order; ``near``
    those at the nearest other cone or in the nearest other coats, by how they are said.
    ``clues`` say how it was glazed: tiles known to be glazed otherwise are none of them.
    """

    here: "Sequence[Looked]" = ()
    elsewhere: "Sequence[Looked]" = ()
    here_turned: "Sequence[Looked]" = ()
    elsewhere_turned: "Sequence[Looked]" = ()
    milder: "Sequence[Looked]" = ()
    near: "Mapping[str, Sequence[Looked]]" = field(default_factory=dict)
    late: "Mapping[str, LateLooks]" = field(default_factory=dict)
    clues: "Mapping[str, str]" = field(default_factory=dict)

    def count(self, defect: str) -> PairCount:
        """The tiles nearest to it, and with them those of other clays or order that did alike.

        What is told apart by its order stays so: white over blue may crawl, blue over white not.
        Where there are none, those count that ran though they were thinner or less hot.
        """
        found = self._alike(defect)
        if not found.tiles and defect == "running":
            found = self._ran_sooner()
        return found if found.tiles else self._nearest_did(defect)

    def _nearest_did(self, defect: str) -> PairCount:
        """What came of the nearest ones, each way by itself; one tile goes by its mark."""
        by_way = {said: _Did(self._failed(areas, defect)) for said, areas in self.near.items()}
        told = {said: sum(did.failed.values()) for said, did in by_way.items() if did.failed}
        marks = {said: [*by_way[said].failed] for said in told}
        many = {said: len(each) for said, each in marks.items()}
        one = {said: f" ({each[0]})" if len(each) == 1 else "" for said, each in marks.items()}
        near = "; ".join(
            f"{failed or 'none'} of {many[said]}{one[said]} {DID.get(defect, 'failed')} with {said}"
            for said, failed in told.items()
        )
        return PairCount(near=near, near_seen=sum(told.values()), near_tiles=sum(many.values()))

    def _ran_sooner(self) -> PairCount:
        """The milder ones, where most ran; sound ones tell nothing of more heat or coats."""
        did = _Did(self._failed(self.milder, "running"))
        if not did.failed or did.part < MOSTLY:
            return PairCount()
        return did.counted("in no more coats and no hotter than here")

    def _alike(self, defect: str) -> PairCount:
        laid_so = self._joined(self.here, self.elsewhere, defect)
        turned = self._joined(self.here_turned, self.elsewhere_turned, defect)
        if not laid_so.failed:
            return turned.counted("laid the other way round")
        if not turned.failed or (defect in OF_FIT and laid_so.is_here and not turned.is_here):
            return laid_so.counted()
        if defect in OF_FIT and turned.is_here and not laid_so.is_here:
            return turned.counted("laid the other way round")
        if laid_so.did_as(turned):
            return laid_so.with_those(turned).counted("in either order")
        failed = turned.failed
        other = f"the other way round {sum(failed.values()) or 'none'} of {len(failed)}"
        return laid_so.counted("laid so", other)

    def _joined(
        self, here: "Sequence[Looked]", elsewhere: "Sequence[Looked]", defect: str
    ) -> "_Did":
        """The tiles of its clay, and those of others where these did alike or there are no more.

        In a fault of fit the clay decides: those of others stand in only where there are no more.
        """
        own = _Did(self._failed(here, defect), is_here=True)
        away = _Did(self._failed(elsewhere, defect), is_away=True)
        if not own.failed or not away.failed:
            return own if own.failed else away
        return own.with_those(away) if defect not in OF_FIT and own.did_as(away) else own

    def _failed(self, areas: "Sequence[Looked]", defect: str) -> dict[str, bool]:
        """Each tile and whether it failed; one looked at too early tells nothing."""
        late, own = self.late.get(defect), bearing(self.clues, defect)
        alike = (each for each in areas if not apart(own, handled(View(*each))))
        return failed_by_mark((each for each in alike if not late or late.tells(*each)), defect)


@dataclass(frozen=True)
class _Did:
    """Some tiles by mark, each with whether it failed; on the clay asked about, or on others."""

    failed: dict[str, bool]
    is_here: bool = False
    is_away: bool = False

    @property
    def part(self) -> float:
        return sum(self.failed.values()) / len(self.failed)

    def did_as(self, other: "_Did") -> bool:
        return abs(self.part - other.part) < APART

    def with_those(self, other: "_Did") -> "_Did":
        places = (self.is_here or other.is_here, self.is_away or other.is_away)
        return _Did({**other.failed, **self.failed}, *places)

    def counted(self, order: str = "", also: str = "") -> PairCount:
        if not self.failed:
            return PairCount()
        place = "" if not self.is_away else "on any body" if self.is_here else "on other bodies"
        how = ", ".join(each for each in (order, place) if each)
        how = f"{how}; {also}" if also else how
        is_away_only = self.is_away and not self.is_here
        return PairCount(sum(self.failed.values()), len(self.failed), how, is_away_only)


def own_pair(others: "Sequence[TileRecord]", view: View) -> OwnPair:
    """The own areas with the layers of one, where it has two different ones or more.

    Parameters
    ----------
    others : sequence of TileRecord
        Own tiles.
    view : View
        The area that is to be fired. Where its coats, recipes or cone are known, theirs are the
        same.
    """
    layers = view.layers
    if len({name_key(each.glaze.name) for each in layers}) < 2:
        return OwnPair()
    so: dict[tuple[bool, bool], list[Looked]] = {}
    milder, apart, elsewhere = [], [], []
    for record, area in looked_at(others):
        other = View(record, area)
        if len(other.layers) != len(layers):
            continue
        if _is_no_hotter(view, other) and _are_no_thicker(layers, other.layers):
            milder.append((record, area))
        is_so = _are_alike(layers, other.layers)
        is_alike = is_so or _are_alike(_by_name(layers), _by_name(other.layers))
        if not _is_fired_alike(view, other):
            cones = abs(steps_between(view.cone, other.cone))
            elsewhere += [(cones, record, area)] if is_alike else []
            continue
        if steps := _coats_apart(layers, other.layers):
            apart.append((steps, record, area))
        if is_alike:
            is_here = same_name(record.body.name, view.record.body.name)
            so.setdefault((is_so, is_here), []).append((record, area))
    groups = (so.get(of, []) for of in ((True, True), (True, False), (False, True), (False, False)))
    alike = under(view.glaze_name, others) if view.glaze_name else []
    late = {each: late_looks(alike, each) for each in COMES_LATE}
    near = _nearest(elsewhere, apart, view.record.body.name)
    return OwnPair(*groups, milder=milder, near=near, late=late, clues=handled(view))


def _coats_apart(own: "Sequence[LayerRecord]", other: "Sequence[LayerRecord]") -> int:
    """How many coats the same layers differ by, in whatever order; 0 where nothing tells."""
    pairs = list(zip(_by_name(own), _by_name(other), strict=True))
    if not all(_are_of_one(one, its) and its.coats is not None for one, its in pairs):
        return 0
    return sum(abs(one.coats - its.coats) for one, its in pairs if one.coats is not None)


def _nearest(
    elsewhere: "list[tuple[int, TileRecord, AreaRecord]]",
    apart: "list[tuple[int, TileRecord, AreaRecord]]",
    body: str,
) -> "dict[str, list[Looked]]":
    """Those in its very coats, fired at the nearest other cone; and those in the nearest others.

    Of its own clay where any are. In other coats and on another clay a tile is no near one beside
    one that is its like but for the heat.
    """
    ways = dict[str, list]()
    for found, is_so in ((elsewhere, True), (apart, False)):
        for record, area in _least(found, body):
            is_here = same_name(record.body.name, body)
            if is_so or is_here or not elsewhere:
                said = _said(area) + (f" at cone {View(record, area).cone}" if is_so else "")
                where = "" if is_here else " on other bodies"
                ways.setdefault(f"{said}{where}", []).append((record, area))
    return ways


def _least(found: "list[tuple[int, TileRecord, AreaRecord]]", body: str) -> "list[Looked]":
    """Those with the least number, of its own clay where any are."""
    least = min((steps for steps, *_ in found), default=0)
    nearest = [(record, area) for steps, record, area in found if steps == least]
    return [each for each in nearest if same_name(each[0].body.name, body)] or nearest


def _said(area: "AreaRecord") -> str:
    return " + ".join(
        f"{each.glaze.name} x{each.coats}" if each.coats else each.glaze.name
        for each in area.layers
    )


def _is_fired_alike(own: View, other: View) -> bool:
    known = own.cone and other.cone
    return not known or abs(steps_between(own.cone, other.cone)) < NEAR_CONES


def _is_no_hotter(own: View, other: View) -> bool:
    return not (own.cone and other.cone) or steps_between(own.cone, other.cone) <= 0


def _are_no_thicker(own: "Sequence[LayerRecord]", other: "Sequence[LayerRecord]") -> bool:
    """Whether they are the same layers, in any order, of which none has more coats."""
    return all(
        _are_of_one(one, its)
        and (one.coats is None or its.coats is not None and its.coats <= one.coats)
        for one, its in zip(_by_name(own), _by_name(other), strict=True)
    )


def _are_alike(own: "Sequence[LayerRecord]", other: "Sequence[LayerRecord]") -> bool:
    return all(
        _are_of_one(one, its)
        and one.coats in (None, its.coats)
        and one.applied_on in (None, its.applied_on)
        for one, its in zip(own, other, strict=True)
    )


def _are_of_one(one: "LayerRecord", its: "LayerRecord") -> bool:
    """Whether two layers are of one glaze, by the same version of its recipe."""
    return same_name(one.glaze.name, its.glaze.name) and is_of_recipe(one.recipe, its.recipe)


def _by_name(layers: "Sequence[LayerRecord]") -> "list[LayerRecord]":
    return sorted(layers, key=lambda each: (name_key(each.glaze.name), each.coats or 0))

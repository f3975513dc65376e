"""Own inspected areas of the same glaze over the same on the same clay, beside a forecast."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from diagnose.own_tiles.areas import looked_at, under
from diagnose.own_tiles.known_apart import (
    apart,
    bearing,
    handled,
    is_of_another_colour,
    left_out_said,
)
from diagnose.own_tiles.late_looks import COMES_LATE, LateLooks, late_looks
from diagnose.own_tiles.pair import is_less
from diagnose.view import View, place_of, spoken_coats
from diagnose.wording import listed
from tiles.chemistry.cones import steps_between
from tiles.records.derived import defects_on, is_of_recipe
from tiles.records.words import OF_FIT, name_key, same_name

if TYPE_CHECKING:
    from tiles.records.forms import LayerRecord, TileRecord


OTHER_LAYERS = "other layers or none"
MOST_NAMED = 2
"""Of more other clays the names are not told."""


@dataclass(frozen=True)
class Area:
    """One inspected area: its tile, what it had; coats, cone and batch (None: not recorded).

    ``early`` are the faults it was looked at too early to tell of; ``is_of_recipe`` whether the
    recipe of its glaze is that of the tile asked about; ``clues`` say how it was glazed,
    ``is_here`` whether it is on the same clay; ``below`` names what lies beneath the glaze.
    """

    mark: str
    defects: frozenset[str]
    early: frozenset[str]
    coats: int | None
    cone: str | None
    batch: str | None
    is_of_recipe: bool
    clues: Mapping[str, str] = field(default_factory=dict)
    is_here: bool = True
    below: tuple[str, ...] = ()
    body: str = ""


HERE, ANYWHERE = "this body", "whatever body"


@dataclass(frozen=True)
class MadeSo:
    """Areas with the very same layers: ``seen`` of ``areas`` had a fault.

    ``early`` more are sound so far, looked at too early to tell; ``on`` says on which clay: a fault
    of fit hangs on it, so that there are none of others among them unless there are no more.
    """

    seen: int = 0
    areas: int = 0
    early: int = 0
    on: str = HERE

    @property
    def looked_at(self) -> int:
        """All of them."""
        return self.areas + self.early


@dataclass(frozen=True)
class MadeAlike:
    """Areas of this glaze over the same layer on the same clay, as ``view``, which is asked about.

    ``layers`` have the very same layers, with the coats and recipe versions that are known of this
    one, on any clay; ``layers_how`` says of which their coats or versions differ, as this one's are
    not known, and names the version where others are on record.
    ``over`` is what lies beneath ("an underglaze", "3 coats of an underglaze" where there are
    others of other coats or of none recorded, which are left out, "an underglaze (coats not
    recorded)" where there are none but these; "an underglaze put on greenware" likewise), "" for
    nothing; ``over_named`` the same by name. ``of_fit`` are those that tell of a fault of fit, and
    ``of_fit_over`` is what lies beneath them: raw clay or bisque under the colour does not matter.
    """

    view: View | None = None
    areas: list[Area] = field(default_factory=list)
    layers: list[Area] = field(default_factory=list)
    over: str = ""
    over_named: str = ""
    late: "Mapping[str, LateLooks]" = field(default_factory=dict)
    layers_how: str = ""
    of_fit: list[Area] = field(default_factory=list)
    of_fit_over: str = ""

    def counts(self, defect: str) -> dict[str, int | str | bool | MadeSo]:
        """How often a defect came on those that can tell, by the names that a forecast has.

        A fault of fit hangs on glaze and clay: where there are none over the same, those over
        something else are counted.
        """
        if self.view is None:
            return {}
        own = bearing(handled(self.view), defect)
        same = self.areas
        alike, over = (self.of_fit, self.of_fit_over) if defect in OF_FIT else (same, self.over)
        unlike = [name for each in (*alike, *self.layers) for name in apart(own, each.clues)]
        alike, same, layers = (
            [each for each in areas if not apart(own, each.clues)]
            for areas in (alike, same, self.layers)
        )
        below = names_below(self.view)
        came = [(each.below, defect in each.defects) for each in same]
        if defect not in OF_FIT and is_of_another_colour(below, came):
            alike = same = [each for each in same if each.below == below]
            over = self.over_named
        closest, how = _closest(self.view, same)
        of_others = same and not any(each.is_of_recipe for each in same)
        unit = "tile" if len(_marks(alike)) == len(alike) else "area"
        left_out = sum(defect in each.early for each in alike)
        made = made_so(layers, defect)
        alike, closest, layers = (
            [each for each in areas if defect not in each.early]
            for areas in (alike, closest, layers)
        )
        return {
            **_counted("alike", alike, defect),
            "alike_tiles": len(_marks(alike)),
            "alike_over": over,
            "alike_recipe": "all of other versions of its recipe" if of_others else "",
            "alike_early": left_out,
            "alike_left_out": self.late[defect].left_out(left_out, unit) if left_out else "",
            "clues_apart": left_out_said(unlike, own),
            **_counted("closest", closest, defect),
            "closest_how": how,
            **_counted("layers", layers, defect),
            "layers_how": self.layers_how,
            "made_so": made,
            "layers_gainsay": _gainsay(alike, layers, defect),
            "layers_are_alike": _marks(layers) in (_marks(alike), _marks(closest)),
        }


def made_alike(others: "Sequence[TileRecord]", view: View) -> MadeAlike:
    """The own areas made like one, whatever came of them."""
    own = _kind(view)
    if not own[1]:
        return MadeAlike()
    late = {each: late_looks(under(view.glaze_name, others), each) for each in COMES_LATE}
    views = [View(*each) for each in looked_at(others)]
    of_kind = [each for each in views if _kind(each) == own]
    roles = [f"{'an' if role[0] in 'aeiou' else 'a'} {role}" for role in own[2]]
    as_thick, of_fit_over = _as_thick_below(view, of_kind, roles)
    as_put_on, over = _as_put_on_below(view, as_thick, of_fit_over)
    _, named = _as_thick_below(view, of_kind, [each.glaze.name for each in _below(view)])
    _, named = _as_put_on_below(view, as_thick, named)
    found = [_area(each, late, view) for each in as_put_on]
    if not as_thick:
        as_thick, of_fit_over = [each for each in views if _kind(each)[:2] == own[:2]], OTHER_LAYERS
    same = [each for each in views if _has_coats_of(view, each)]
    of_recipe = [each for each in same if has_layers_of(view, each)]
    layers = [_area(each, late, view) for each in of_recipe]
    return MadeAlike(
        *(view, found, layers, over, named, late),
        layers_how=_layers_how(view, same, of_recipe),
        of_fit=[_area(each, late, view) for each in as_thick],
        of_fit_over=of_fit_over,
    )


def made_so(layers: list[Area], defect: str) -> MadeSo:
    """What came of the areas with the very same layers, and on which clay these are."""
    here = [each for each in layers if each.is_here]
    if here and (defect in OF_FIT or len(here) == len(layers)):
        layers, on = here, HERE
    elif here:
        on = ANYWHERE
    else:
        bodies = {name_key(each.body): each.body for each in layers}
        on = listed(sorted(bodies.values())) if len(bodies) <= MOST_NAMED else "other bodies"
    telling = [each for each in layers if defect not in each.early]
    return MadeSo(*_share(telling, defect), len(layers) - len(telling), on)


def _closest(view: View, found: list[Area]) -> tuple[list[Area], str]:
    """Those that share the version, coats, batch and cone, or at least the version; and what."""
    coats, cone, batch = view.top.coats, view.cone, view.batch
    version = _of_version(view.top) if not all(each.is_of_recipe for each in found) else ""
    of_recipe = [each for each in found if each.is_of_recipe]
    closest = [
        each
        for each in of_recipe
        if coats in (None, each.coats)
        and (batch is None or (each.batch and same_name(batch, each.batch)))
        and (cone is None or _is_same_cone(cone, each.cone))
    ]
    parts = (
        version,
        f"with {coats} coat{'s' * (coats > 1)}" if coats else "",
        f"from batch {batch}" if batch else "",
        f"at cone {cone}" if cone else "",
    )
    how = " ".join(part for part in parts if part)
    if version and not closest:
        return of_recipe, version
    return (closest if how else []), how


def _gainsay(alike: list[Area], layers: list[Area], defect: str) -> bool:
    """Whether a fault came far less often on the very same layers than on all made alike.

    Of a fault of fit those on other clays say nothing.
    """
    nearer = [each for each in layers if each.is_here or defect not in OF_FIT]
    return is_less(_share(nearer, defect), _share(alike, defect))


def _counted(name: str, areas: list[Area], defect: str) -> dict[str, int]:
    seen, many = _share(areas, defect)
    return {f"{name}_seen": seen, f"{name}_areas": many}


def _marks(areas: list[Area]) -> set[str]:
    return {each.mark for each in areas}


def _share(areas: list[Area], defect: str) -> tuple[int, int]:
    return sum(defect in each.defects for each in areas), len(areas)


def _of_version(layer: "LayerRecord") -> str:
    number = layer.recipe.version if layer.recipe else None
    return f"of version {number}" if number else "of its recipe"


def _kind(view: View) -> tuple[str, str, list[str]]:
    roles = [each.glaze.role or "glaze" for each in _below(view)]
    return name_key(view.record.body.name), name_key(view.glaze_name or ""), roles


def _below(view: View) -> "list[LayerRecord]":
    """What lies beneath the uppermost glaze, from the clay up."""
    return view.layers[: place_of(view.layers, view.top)] if view.top else []


def names_below(view: View) -> tuple[str, ...]:
    """The names of what lies beneath the uppermost glaze."""
    return tuple(name_key(each.glaze.name) for each in _below(view))


def _has_coats_of(view: View, other: View) -> bool:
    """Whether it has the layers of one, of whatever version of their recipes."""
    return len(view.layers) == len(other.layers) and all(
        same_name(own.glaze.name, its.glaze.name)
        and own.coats in (None, its.coats)
        and own.applied_on in (None, its.applied_on)
        for own, its in zip(view.layers, other.layers, strict=True)
    )


def has_layers_of(view: View, other: View) -> bool:
    """Whether it has the very same layers as one, with all that is known of these."""
    return _has_coats_of(view, other) and all(
        is_of_recipe(own.recipe, its.recipe)
        for own, its in zip(view.layers, other.layers, strict=True)
    )


def _layers_how(view: View, same: list[View], of_recipe: list[View]) -> str:
    """In what the very same layers may differ, and their versions where there are others."""
    told = (_any_coats(view, of_recipe), _any_version(view, of_recipe), _versions(view, same))
    return ", ".join(each for each in told if each)


def _any_version(view: View, others: list[View]) -> str:
    """Where the version of one is not recorded, and those of others differ."""
    for at, layer in enumerate(view.layers):
        known = [each.layers[at].recipe for each in others]
        versions = {each.version if each else None for each in known}
        if layer.recipe is None and len(versions) > 1:
            return f"of any version of {layer.glaze.name}"
    return ""


def _versions(view: View, same: list[View]) -> str:
    """The versions of one, of each layer of which others have another one."""
    apart = [
        layer
        for at, layer in enumerate(view.layers)
        if not all(is_of_recipe(layer.recipe, each.layers[at].recipe) for each in same)
    ]
    return ", ".join(f"{layer.glaze.name} {_of_version(layer)}" for layer in apart)


def _any_coats(view: View, others: list[View]) -> str:
    """Where coats of one are not recorded, and those of others with its layers differ: of which."""
    differ = [
        layer.glaze.name
        for at, layer in enumerate(view.layers)
        if layer.coats is None and len({other.layers[at].coats for other in others}) > 1
    ]
    if not differ:
        return ""
    is_all = len(differ) == len(view.layers)
    return "with any coats" if is_all else f"with any coats of {' and '.join(differ)}"


def _area(view: View, late: "Mapping[str, LateLooks]", own: View) -> Area:
    seen = frozenset(each.defect for each in defects_on(view.record, view.area))
    early = frozenset(name for name, of in late.items() if not of.tells(view.record, view.area))
    return Area(
        *(view.record.mark, seen, early, view.top.coats, view.cone_reached, view.batch),
        is_of_recipe(own.top.recipe, view.top.recipe),
        handled(view),
        same_name(own.record.body.name, view.record.body.name),
        names_below(view),
        view.record.body.name,
    )


def _is_same_cone(one: str, other: str | None) -> bool:
    return other is not None and steps_between(one, other) == 0


def _as_thick_below(view: View, of_kind: list[View], named: list[str]) -> tuple[list[View], str]:
    """Those with as many coats of each layer beneath, a glaze slides on three and not on one.

    With what lies there as it is said of them, each as it is ``named``. Where none has as
    many, those of which they are not recorded, which is said: they may have had any.
    """
    own = _coats_below(view)
    over = " over ".join(reversed(named))
    if None in own or not own:
        return of_kind, over
    alike = [each for each in of_kind if _coats_below(each) == own]
    if alike and len(alike) < len(of_kind):
        coats = (f"{spoken_coats(many)} of {each}" for many, each in zip(own, named, strict=True))
        over = " over ".join(reversed(list(coats)))
    blank = [each for each in of_kind if None in _coats_below(each)]
    if blank and not alike:
        return blank, f"{over} (coats not recorded)"
    return alike, over


def _as_put_on_below(view: View, found: list[View], over: str) -> tuple[list[View], str]:
    """Those whose layers beneath were put on the same, raw clay or bisque, as far as that is known.

    Where of none it is recorded, those of which it may have been so, which is said.
    """
    own = [each.applied_on for each in _below(view)]
    if not any(own):
        return found, over
    put_on = {id(each): [layer.applied_on for layer in _below(each)] for each in found}

    def is_so(other: View, blank: tuple) -> bool:
        pairs = zip(own, put_on[id(other)], strict=True)
        return all(one is None or its == one or its in blank for one, its in pairs)

    alike = [each for each in found if is_so(each, ())]
    if alike:
        said = " and ".join(dict.fromkeys(filter(None, own)))
        return alike, f"{over} put on {said}" if len(alike) < len(found) else over
    may_be = [each for each in found if is_so(each, (None,))]
    return may_be, f"{over} (what it was put on not recorded)" if may_be else over


def _coats_below(view: View) -> list[int | None]:
    return [each.coats for each in _below(view)]

"""The single changes a person can make with what they own, and the record that each would give."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from diagnose.bought_bisque import is_bought
from diagnose.fixes.aims import AIMS
from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.ranges import cones_of_trial, stands
from diagnose.fixes.shapes import (
    BISQUE_CONE,
    COATS,
    KILN,
    ORDER,
    OVER,
    SHELF,
    UNDER,
    VERSION,
    Change,
)
from diagnose.fixes.steps import STEPS, makers
from diagnose.fixes.steps_coat import (
    MOST_COATS,
    other_order,
)
from diagnose.fixes.steps_colour import (
    MOST_COLOUR_COATS,
    OTHER_CLEAR,
    nothing_beneath,
    other_colours,
    to_colour,
)
from diagnose.fixes.steps_jar import other_batch, other_batches
from diagnose.measures.names import finish_of, is_clear
from diagnose.next_tiles.choice import OF_WHAT_SHOWS
from diagnose.own_tiles.failing_coats import failing_coats
from diagnose.own_tiles.occasions import lies_in
from diagnose.own_tiles.other_areas import fails_alone
from tiles.chemistry.cones import step
from tiles.records.derived import is_of_recipe, label_range
from tiles.records.spoken import spoken_kiln
from tiles.records.words import TRIAL_GLAZE, same_name

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.own_tiles.lesson import Lesson
    from diagnose.view import View
    from tiles.records.forms import (
        BatchRecord,
        BodyRecord,
        GlazeRecord,
        RecipeRecord,
    )

MOST_OF_A_KIND = 2
"""So many other bodies, glazes or batches are thought of: the most used, or newest, go first."""
FROM_OWN = ("other_body", "batch")
"""Steps of `tiles fix` that are thought of here for all that is owned."""
NOT_IN_LIST = frozenset({""})
DULL = ("matt", "satin")
LOST_ITS_MATT = ("went_glossy", "looks_glossy")
"""Finishes that are meant to be dull, and what a note says of one that came out glossy."""
OF_BATCH = frozenset(cause for cause, steps in STEPS.items() if other_batch in steps)
"""The causes that do not come from another jar or batch."""


@dataclass(frozen=True)
class Owned:
    """What is on record to choose from, the most used first.

    ``recipes`` holds the newest recipe of a glaze by the glaze's name, ``batches`` those of a
    glaze that has several, the newest first, ``versions`` all its recipes, the newest first;
    ``bisque_cones`` are those fired so far.
    ``is_fired``: a tile was made of it and fired, so no label need say that it stands the cone;
    ``kiln`` and ``shelf`` are where.
    """

    bodies: Sequence["BodyRecord"] = ()
    glazes: Sequence["GlazeRecord"] = ()
    recipes: "dict[str, RecipeRecord]" = field(default_factory=dict)
    bisque_cones: Sequence[str] = ()
    batches: "dict[str, list[BatchRecord]]" = field(default_factory=dict)
    is_fired: bool = False
    kiln: str | None = None
    shelf: str | None = None
    versions: "dict[str, list[RecipeRecord]]" = field(default_factory=dict)

    def is_for(self, one: "BodyRecord | GlazeRecord", view: "View") -> bool:
        """Whether a clay or glaze can be fired as a trial of a tile, by its label."""
        return self.is_fired or stands(one, cones_of_trial(view))

    def batches_on(self, view: "View") -> "Sequence[BatchRecord]":
        """The batches of its uppermost glaze."""
        return self.batches.get(view.glaze_name or "", ())


@dataclass(frozen=True)
class Candidate:
    """One change: the step, the causes it acts on, and the clues its outcome would answer.

    ``kind`` groups changes of the same thing. ``acts_on`` are causes whose first remedy it is,
    ``eases`` those for which another one goes first. ``if_repeats`` and ``if_sound`` are clues.
    """

    kind: str
    step: Step
    acts_on: frozenset[str] = frozenset()
    eases: frozenset[str] = frozenset()
    if_repeats: dict[str, str] = field(default_factory=dict)
    if_sound: dict[str, str] = field(default_factory=dict)


def candidates(view: "View", case: "Case", owned: Owned) -> list[Candidate]:
    """Every single change thought of, each different one once."""
    found: dict[tuple, Candidate] = {}
    for each in (*_steps(view, case, owned), *_own(view, case, owned)):
        first = each.step.changes[0]
        if _is_so_already(view, each.step):
            continue
        key = (first.what, first.after)
        known = found.get(key)
        found[key] = _joined(known, each) if known else each
    return list(found.values())


def _joined(one: Candidate, other: Candidate) -> Candidate:
    """One change that was thought of twice, with all that is known of it."""
    return replace(
        one,
        acts_on=one.acts_on | other.acts_on,
        eases=one.eases | other.eases,
        if_repeats=one.if_repeats | other.if_repeats,
        if_sound=one.if_sound | other.if_sound,
    )


def _steps(view: "View", case: "Case", owned: Owned) -> Iterator[Candidate]:
    """The steps of `tiles fix`, with all causes that each acts on."""
    for row in case.rows:
        if row.cause is None or not row.is_in_question:
            continue
        stock = {"bodies": owned.bodies, "glazes": owned.glazes, "batches": owned.batches_on(view)}
        stock |= {"failing_coats": failing_coats(case), "off_shelves": case.off_shelves}
        stock["is_fired"] = owned.is_fired
        bench = Bench(view, row.cause.name, case.setting, **stock)
        is_of_recipe = (case.defect, row.cause.name) in AIMS  # which alone is mended by no step
        for place, make in enumerate(makers(bench)):
            made = make(bench)
            if made is not None and made.key not in FROM_OWN:
                does = "acts_on" if _mends(made, place) and not is_of_recipe else "eases"
                one, causes = _one_change(made), frozenset({row.cause.name})
                kind = OVER if made.key == OTHER_CLEAR else one.changes[0].what
                yield Candidate(kind, one, **{does: causes})


def _mends(made: Step, place: int) -> bool:
    """Whether a step takes a cause away, as its first remedy does, and does not ease it alone."""
    if made.key == "fewer_colour_coats":
        return made.changes[0].before > MOST_COLOUR_COATS  # fewer than is usual: colour still
    return place == 0 or made.key == "nothing_beneath"


def _is_so_already(view: "View", made: Step) -> bool:
    """Whether the tile was made that way, as far as is recorded."""
    first = made.changes[0]
    if made.key == "bisque_first":
        return view.top is None or view.top.applied_on != "greenware"
    after = str(first.after)  # "yes" is there already in "yes, then dried overnight"
    return isinstance(first.before, str) and f"{after},".startswith(f"{first.before},")


def _one_change(made: Step) -> Step:
    return replace(made, changes=made.changes[:1])


def _own(view: "View", case: "Case", owned: Owned) -> Iterator[Candidate]:
    yield from _bodies(view, case, owned)
    yield from _bisques(view, owned)
    yield from _coats(view)
    yield from _glazes(view, case, owned)
    yield from _batches(view, case, owned)
    yield from _versions(view, owned)
    yield from _places(view, case, owned)
    yield from _beneath(view, case, owned)
    yield from _order(view, case)


def _bodies(view: "View", case: "Case", owned: Owned) -> Iterator[Candidate]:
    now = view.record.body
    others = [each for each in owned.bodies if not same_name(each.name, now.name)]
    if case.sound_on:  # where own tiles of the glaze are sound goes before what is used most
        others.sort(key=lambda each: each.name != case.sound_on.name)
    for body in [each for each in others if owned.is_for(each, view)][:MOST_OF_A_KIND]:
        changes = [Change("body", now.name, body.name)]
        made = Step("other_body", "Another body", changes, edit={"body": body.name})
        yield Candidate(
            "body",
            made,
            if_repeats={"fails_on_every_body": "yes", "sound_on_other_body": "no"},
            if_sound={"fails_on_every_body": "no", "sound_on_other_body": "yes"},
        )


def _bisques(view: "View", owned: Owned) -> Iterator[Candidate]:
    if is_bought(view.record):
        return
    now = view.bisque_cone
    stands = None if owned.is_fired else label_range(view.record.body)
    for cone in owned.bisque_cones:
        if now and cone != now and not (stands and step(cone) > step(stands[1])):
            changes = [Change(BISQUE_CONE, now, cone)]
            made = Step("bisque", "Another bisque", changes, edit={"bisque_cone": cone})
            yield Candidate("bisque cone", made)


def _coats(view: "View") -> Iterator[Candidate]:
    coats = view.top.coats if view.top else None
    if coats is None:
        return
    for after in (coats - 1, coats + 1):
        if 1 <= after <= MOST_COATS:
            made = Step("coats", "Coats", [Change(COATS, coats, after)], edit={"coats": after})
            yield Candidate("coats", made)


def _glazes(view: "View", case: "Case", owned: Owned) -> Iterator[Candidate]:
    """Another glaze for the same cone in place of the uppermost one, if it can show the fault."""
    if view.top is None or not view.glazes:
        return
    now = view.top.glaze
    fitting = [
        each
        for each in owned.glazes
        if not same_name(each.name, now.name)
        and (each.role or "glaze") == "glaze"
        and not (each.remark or "").startswith(TRIAL_GLAZE)
        and owned.is_for(each, view)
        and _can_show(case, each)
    ]
    for glaze in fitting:
        changes = [Change("glaze", now.name, glaze.name)]
        made = Step("other_glaze", "Another glaze", changes, edit={"glaze": glaze.name})
        yield Candidate(
            "glaze",
            made,
            if_repeats={"other_glazes_fail_too": "yes"},
            if_sound={"other_glazes_fail_too": "no"},
        )


def _can_show(case: "Case", glaze: "GlazeRecord") -> bool:
    """Whether its finish lets a glaze show the fault: a gloss cannot lose its matt.

    Nor does what hides the colour beneath tell of that colour.
    """
    now = case.view.glaze
    if case.defect in OF_WHAT_SHOWS and case.view.colours and now and is_clear(now):
        return is_clear(glaze)
    if case.defect == "unwanted matt":
        return finish_of(glaze) not in DULL
    return finish_of(glaze) in DULL or not any(name in case.facts for name in LOST_ITS_MATT)


def _batches(view: "View", case: "Case", owned: Owned) -> Iterator[Candidate]:
    """The same glaze from another jar or batch, first from one of which own tiles are sound."""
    bench = Bench(view, "", "", batches=owned.batches_on(view))
    told, comes_with = _clear(case, "batch")
    others = other_batches(bench)
    others.sort(key=lambda made: told is None or made.edit["batch"] != told.instead)
    for made in others[:MOST_OF_A_KIND]:
        if_repeats, if_sound = {"new_batch_only": "no"}, {"new_batch_only": "yes"}
        causes = OF_BATCH | comes_with
        yield Candidate("batch", made, causes, if_repeats=if_repeats, if_sound=if_sound)


def _versions(view: "View", owned: Owned) -> Iterator[Candidate]:
    """The same glaze by another version of its recipe."""
    now = view.top.recipe if view.top else None
    if now is None or now.version is None:
        return
    others = owned.versions.get(view.glaze_name or "", ())
    others = [each for each in others if not is_of_recipe(now, each)]
    for recipe in others[:MOST_OF_A_KIND]:
        changes = [Change(VERSION, now.version, recipe.version)]
        made = Step("version", "Another version", changes, edit={"recipe": recipe})
        yield Candidate(VERSION, made)


def _beneath(view: "View", case: "Case", owned: Owned) -> Iterator[Candidate]:
    """Nothing under the glaze, and each other colour of the kind."""
    bare = nothing_beneath(Bench(view, "", ""))
    if bare is None:
        return
    told, comes_with = _clear(case, "under")
    does = {"acts_on" if told else "eases": comes_with}
    if_repeats, if_sound = {"only_over_colour": "no"}, {"only_over_colour": "yes"}
    yield Candidate(UNDER, bare, **(does if told else {}), if_repeats=if_repeats, if_sound=if_sound)
    for each in other_colours(view, owned.glazes, is_fired=owned.is_fired):
        yield Candidate(UNDER, to_colour(view, each.name), **does)


def _order(view: "View", case: "Case") -> Iterator[Candidate]:
    """Two glazes the other way round, where the fault lies between them.

    Where they run, they do so whichever lies on top. It mends what no cause of the list accounts
    for, but where it is the step of one.
    """
    made = other_order(Bench(view, "", ""))
    if made is None or case.defect == "running" or fails_alone(view):
        return
    is_step = any(row.cause and other_order in STEPS.get(row.name, ()) for row in case.rows)
    yield Candidate(ORDER, made, frozenset() if is_step else NOT_IN_LIST)


def _places(view: "View", case: "Case", owned: Owned) -> Iterator[Candidate]:
    """The same in another kiln or on another shelf, where own tiles point there."""
    for what, now, fired in (
        (KILN, view.kiln, owned.kiln),
        (SHELF, view.record.shelf, owned.shelf),
    ):
        told, comes_with = _clear(case, what)
        after = fired or (told.instead if told else "")
        if not now or not after or same_name(now, after):
            continue
        own_firing, place = (
            (f"in {spoken_kiln(after)}", "") if what == KILN else ("", f"on shelf {after}")
        )
        changes = [Change(what, now, after)]
        made = Step(what, "", changes, edit={what: after}, firing=own_firing, place=place)
        yield Candidate(what, made, comes_with)


def _clear(case: "Case", occasion: str) -> "tuple[Lesson | None, frozenset[str]]":
    """The count of own tiles by kiln, shelf or batch, and the causes that come with such a thing.

    Where own tiles tell nothing, no count and the causes of the list.
    """
    for lesson in case.own.lessons if case.own else ():
        if lesson.measure == occasion and lesson.instead:
            return lesson, case.own.causes_of(lesson, case)
    return None, frozenset(
        row.name for row in case.rows if row.cause and lies_in(occasion, row.cause)
    )

"""What trials for one tile tell of others: of its control, its other trials, the same glaze."""

from datetime import date

import pytest

from diagnose.fixes.kin import kin_had, kin_of, kin_says, with_kin
from diagnose.fixes.of_tile import fix
from diagnose.fixes.shapes import UNCHANGED
from diagnose.report import why
from diagnose.trials.tried import MOST_OF_A_CHANGE, by_change, in_short, said
from diagnose.trials.worked import proven
from tests.unit.diagnose.test_next_tiles import OTHER, WHITE, tile
from tests.unit.diagnose.test_tried import looked_at
from tiles.cli import why_screen
from tiles.records import forms

FAILED = tile("crawling", coats=4)
PLANNED = {each.tile["trial_change"]: each.tile for each in fix(FAILED)[0].trials}
COATS = next(change for change in PLANNED if change.startswith("coats 4 -> "))


def trials(*, control=("crawling",), sound="N-2"):
    return [
        looked_at(PLANNED[UNCHANGED], "N-1", control),
        looked_at(PLANNED[COATS], sound),
    ]


def weighed(record, others):
    return why(record, None, others)[0].case


def test_a_control_that_failed_is_weighed_with_the_trials_of_the_tile_it_repeats():
    control, thinner = trials()
    alone = weighed(control, [FAILED])
    told = weighed(control, [FAILED, thinner])
    assert [each.mark for each in told.tried] == ["N-2"]
    of = "coat_too_thick"
    assert next(r.share for r in told.rows if r.name == of) > next(
        r.share for r in alone.rows if r.name == of
    )
    second = looked_at(PLANNED[UNCHANGED], "N-3")  # beside this very tile, which failed
    (tried,) = [each for each in weighed(control, [FAILED, thinner, second]).tried
                if each.change != UNCHANGED]  # fmt: skip
    assert tried.beside == ()
    of_parent = weighed(FAILED, [control, thinner])
    assert kin_says(told, of_parent, "On") == ([], []), "it was weighed with them itself"


def test_trials_tell_of_their_siblings_and_of_the_same_glaze_on_the_same_clay_alone():
    control, thinner = trials()
    others = [FAILED, control, thinner]
    failed_too = thinner.model_copy(update={"mark": "N-4", "inspections": FAILED.inspections})
    assert kin_of(failed_too, "crawling", others) == {"T-1": "On the other trials for T-1"}
    assert kin_of(SECOND, "crawling", others) == {}, "made alike: its trials are one's own"
    alike = tile("crawling", coats=4, bisque="04").model_copy(update={"mark": "K-1"})
    start = "On trials for T-1, the same glaze on the same clay"
    assert kin_of(alike, "crawling", others) == {"T-1": start}
    assert kin_of(alike, "crazing", others) == {}
    other = tile("crawling", coats=4, glaze=OTHER).model_copy(update={"mark": "K-2"})
    assert kin_of(other, "crawling", others) == {}
    bare = FAILED.areas[0].model_copy(update={"number": 2, "layers": []})
    both_bare, it = (each.model_copy(update={"areas": [each.areas[0], bare]})
                     for each in (FAILED, other))  # fmt: skip
    assert kin_of(it, "crawling", [both_bare, control, thinner]) == {}, "only bare clay in common"
    kin = weighed(FAILED, [control, thinner])
    worked, tried = kin_says(weighed(alike, others), kin, start)
    assert weighed(alike, others).tried == ()
    assert (worked, tried) == ([], [f"{start}. Did not come: {COATS} (N-2). Came again: as it was "
                                    "(N-1)."])  # fmt: skip
    (answer,) = fix(alike, others=others, akin=[(kin, start)])
    assert answer.tried == tried
    told = with_kin(why(alike, None, others), [(kin, start)])
    for show_all in (False, True):
        screen = " ".join(" ".join(why_screen.lines(alike, told, show_all=show_all)).split())
        assert tried[0] in screen
    of_first = with_kin(why(FAILED, None, others), [(kin, start)])
    assert of_first[0].case.of_kin == (), "it was weighed with them itself"
    assert kin_had([kin], COATS.upper()) == "trial N-2: the fault did not come"
    failed = weighed(FAILED, [control, failed_too])
    assert kin_had([kin, failed, failed], COATS) == (
        "trial N-2: the fault did not come; trial N-4: the fault came again"
    )
    assert kin_had([kin], COATS, ("N-2",)) == kin_had([kin], "body red -> white") == ""


SECOND = FAILED.model_copy(update={"mark": "K-1"})
BISQUED_HOTTER = SECOND.model_copy(update={"bisque_cone": "04"})

HOTTER = {"trial_change": "bisque cone 06 -> 04", "bisque_cone": "04", "areas": FAILED.areas}


def of_second(trial, mark, **values):
    """A trial for the second tile, like one for the first."""
    return trial.model_copy(update={"trial_of": "K-1", "mark": mark} | values)


def share(case, cause="coat_too_thick"):
    return next(row.share for row in case.rows if row.name == cause)


def test_trials_of_one_change_on_two_tiles_made_alike_count_for_both():
    control, thinner = trials()
    set_of_second = [of_second(control, "K-2"), of_second(thinner, "K-3")]
    alone = weighed(FAILED, [control, thinner])
    others = [FAILED, SECOND, control, thinner, *set_of_second]
    of_first, of_other = (weighed(each, others) for each in (FAILED, SECOND))
    assert share(of_first) == share(of_other) > share(alone) + 0.03
    assert [(each.mark, each.of) for each in of_first.tried if each.change == COATS] == [
        ("K-3", "K-1"), ("N-2", "")]  # fmt: skip
    alike = by_change(of_first.tried)
    told = f"trials N-2 and K-3 (for K-1, made alike), {COATS}: the fault did not come."
    assert told in map(said, alike)
    assert f"{COATS} on 2 of 2 (N-2, K-3 for K-1)" in in_short(of_first.tried)
    assert kin_says(of_first, of_other, "On") == ([], [])


def test_many_trials_on_tiles_made_alike_are_capped_with_its_own():
    control, thinner = trials()
    more = [of_second(thinner, f"K-{at}") for at in range(3, 40)]
    of = weighed(FAILED, [FAILED, SECOND, control, thinner, *more])
    assert len(of.tried) == 39
    moves = [sum(each.move(row.name) for each in of.tried) for row in of.rows]
    assert max(moves) - min(moves) == pytest.approx(MOST_OF_A_CHANGE)


@pytest.mark.parametrize(
    ("second", "made", "besides"),
    [
        (SECOND, {}, ()),
        (SECOND, {"bisque_cone": "04"}, ("bisque cone: 06 -> 04",)),
        (SECOND, {"trial_change": "as it was"}, ("coats: 4 -> 3",)),
        (SECOND, {"trial_change": "thinner"}, ()),
        (SECOND, HOTTER, ()),
        (BISQUED_HOTTER, {}, ()),
        (BISQUED_HOTTER, HOTTER, None),
        (SECOND, {"trial_defect": "crazing"}, None),
        (SECOND, {"inspections": []}, None),
        (SECOND.model_copy(update={"body": forms.BodyRecord(**WHITE)}), {}, None),
        (tile("crawling", coats=4, glaze=OTHER).model_copy(update={"mark": "K-1"}), {}, None),
    ],
)
def test_trials_for_a_tile_made_alike_count_and_for_another_one_those_of_a_change_tried_already(
    second, made, besides
):
    _, thinner = trials()
    of = weighed(FAILED, [FAILED, second, thinner, of_second(thinner, "K-3", **made)])
    found = {each.mark: each.besides for each in of.tried}
    assert found == {"N-2": ()} | ({} if besides is None else {"K-3": besides})
    alone = weighed(FAILED, [FAILED, second, of_second(thinner, "K-3", **made)])
    is_counted = second is SECOND and besides is not None
    assert [each.mark for each in alone.tried] == (["K-3"] if is_counted else [])


def test_a_trial_on_a_tile_made_alike_tells_nothing_beside_its_own_sound_control():
    control, thinner = trials()
    sound = of_second(control, "K-2", inspections=thinner.inspections)
    of = weighed(FAILED, [FAILED, SECOND, control, thinner, sound, of_second(thinner, "K-3")])
    assert {each.mark: each.beside for each in of.tried if each.change == COATS} == {
        "N-2": (), "K-3": ("K-2",)}  # fmt: skip


@pytest.mark.parametrize(
    ("made", "on", "many"),
    [
        ({}, "2024-07-01", 2),
        ({"inspections": FAILED.inspections}, "2024-07-01", 2),
        ({}, "2024-06-01", 1),
        ({"bisque_cone": "04"}, "2024-07-01", 1),
        ({"bisque_cone": None}, "2024-07-01", 1),
        ({"cone_reached": None}, "2024-07-01", 1),
        ({"areas": FAILED.areas}, "2024-07-01", 1),
    ],
)
def test_a_tile_made_and_fired_like_a_trial_later_repeats_it_whoever_planned_it(made, on, many):
    _, thinner = trials()
    plain = dict.fromkeys(("trial_of", "trial_defect", "trial_change"))
    again = thinner.model_copy(update={"mark": "P-1"} | plain | made)
    looks = [each.model_copy(update={"inspected_on": date.fromisoformat(on)})
             for each in again.inspections]  # fmt: skip
    again = again.model_copy(update={"inspections": looks})
    case = weighed(FAILED, [FAILED, thinner, again])
    found = [each for each in case.tried if each.change == COATS]
    assert [each.mark for each in found] == ["P-1", "N-2"][-many:]
    failed = bool(made.get("inspections"))
    if many == 2:
        assert [each.is_planned for each in found] == [False, True]
        assert "N-2 and P-1 (made like it)" in said(by_change(case.tried)[0])
    assert len(proven(case.tried)) == (many == 2 and not failed)


def test_a_sound_twin_stands_with_the_cause_that_it_speaks_for():
    thick, thin = tile("crawling", coats=2, mm=1.7), tile("crawling", mm=0.9)
    thin = thin.model_copy(update={"mark": "S-1", "inspections": trials()[1].inspections})
    (answer,) = fix(thick, others=[thin])
    (cause, *_) = answer.causes
    assert cause.cause == "coat_too_thick"
    said = "S-1 is alike but for the coat, 3 coats of 0.9 mm in all, and came out clean."
    assert cause.twins == [said]

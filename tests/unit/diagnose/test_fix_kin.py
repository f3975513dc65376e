"""What trials for one tile tell of others: of its control, its other trials, the same glaze."""

from diagnose.fixes.kin import kin_of, kin_says
from diagnose.fixes.of_tile import fix
from diagnose.fixes.shapes import UNCHANGED
from diagnose.report import why
from tests.unit.diagnose.test_next_tiles import OTHER, tile
from tests.unit.diagnose.test_tried import looked_at

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
    alike = FAILED.model_copy(update={"mark": "K-1"})
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
    assert (worked, tried) == ([], [f"{start}. Did not come: {COATS} (N-2). Came again: as it was "
                                    "(N-1)."])  # fmt: skip
    (answer,) = fix(alike, others=others, akin=[(kin, start)])
    assert answer.tried == tried


def test_a_sound_twin_stands_with_the_cause_that_it_speaks_for():
    thick, thin = tile("crawling", coats=2, mm=1.7), tile("crawling", mm=0.9)
    thin = thin.model_copy(update={"mark": "S-1", "inspections": trials()[1].inspections})
    (answer,) = fix(thick, others=[thin])
    (cause, *_) = answer.causes
    assert cause.cause == "coat_too_thick"
    said = "S-1 is alike but for the coat, 3 coats of 0.9 mm in all, and came out clean."
    assert cause.twins == [said]

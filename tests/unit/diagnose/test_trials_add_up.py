"""Several trials for one tile: all count, and what they answer is not asked again."""

import pytest

from diagnose.asking import questions
from diagnose.fixes.bench import Step
from diagnose.fixes.of_tile import fix
from diagnose.fixes.shapes import Change
from diagnose.next_tiles.changes import Candidate, candidates
from diagnose.report import why
from diagnose.trials.changes import differences
from diagnose.trials.outcome import _made_otherwise, _of_no_one_change
from diagnose.trials.tried import (
    MOST_OF_A_CHANGE,
    Tried,
    by_change,
    in_short,
    said,
)
from diagnose.unrecorded import most_telling
from diagnose.view import View
from tests.unit.diagnose.test_next_tiles import OTHER, OWNED, POND, RED, WHITE, tile
from tests.unit.diagnose.test_tried import FAILED, looked_at, proposed, shares
from tiles.cli import fix_text, next_text, why_screen
from tiles.cli.fix_plan import Marked

TO_WHITE = "body red clay -> white clay"
THICK = "the coat was too thick"


def trial(change, mark, defects=(), record=FAILED, **values):
    """A trial for the record as it is planned, but for the values, fired and looked at."""
    control = proposed(record=record).control.tile
    told = {"trial_change": change, **values}
    return looked_at(control | told, mark, defects)


def thinner(mark, defects=()):
    found = next(e for e in proposed().tiles if e.trial.change == "coats 4 -> 3")
    return looked_at(found.trial.tile, mark, defects)


def case(others, record=FAILED):
    return why(record, None, others)[0].case


@pytest.mark.parametrize("defects", [[], ["crawling"]])
def test_a_second_trial_of_the_same_change_counts_as_well_but_less(defects):
    none, one, two, three = (
        shares([thinner(f"N-{n}", defects) for n in range(many)])[THICK] for many in range(4)
    )
    steps = [abs(one - none), abs(two - one), abs(three - two)]
    assert steps == sorted(steps, reverse=True) and min(steps) > 0.005
    assert (three > two > one > none) is (not defects)


def soft_bisque(others):
    """By how much the soft bisque gained on the thick coat. [log-odds]."""
    before, after = ({row.name: row.log_odds for row in case(some).rows} for some in ((), others))
    thick, soft = "coat_too_thick", "bisque_too_cool"
    return after[soft] - after[thick] - before[soft] + before[thick]


def hotter(many, defects=()):
    return [trial("bisque 06 -> 04", f"N-{n}", defects, bisque_cone="04") for n in range(many)]


def as_it_was(many, defects=("crawling",)):
    return [trial("as it was", f"C-{n}", defects) for n in range(many)]


def test_two_sound_trials_tell_the_more_the_oftener_the_tile_fails_as_it_was():
    by = [soft_bisque([*hotter(2), *as_it_was(many)]) for many in (0, 1, 4)]
    assert by == sorted(by) and by[0] > 2 and by[2] - by[0] > 0.5


def test_of_a_fault_that_comes_by_luck_one_sound_trial_tells_little():
    luck = [*as_it_was(1), *[each.model_copy(update={"mark": f"S-{n}"})
                             for n, each in enumerate(as_it_was(9, ()))]]  # fmt: skip
    assert 0 < soft_bisque([*hotter(1), *luck]) < 0.4 < soft_bisque(hotter(1))


def test_however_many_trials_of_one_change_there_are_they_tell_no_more_than_the_surest():
    by = [soft_bisque([*hotter(many), *as_it_was(9)]) for many in (2, 9)]
    assert by == pytest.approx([MOST_OF_A_CHANGE] * 2)


def test_outcomes_count_alike_in_any_order():
    fired = [thinner("N-1"), thinner("N-2", ["crawling"]), thinner("N-3")]
    assert shares(fired) == pytest.approx(shares(fired[::-1]))


def test_other_glazes_that_are_sound_on_the_clay_speak_against_a_fault_of_the_clay():
    crazed = tile("crazing", coats=4)
    glaze = {"areas": [{"number": 1, "layers": [{"glaze": OTHER, "coats": 4}]}]}
    before = {row.name: row.share for row in case([], crazed).rows}
    for defects, is_less in (([], True), (["crazing"], False)):
        fired = trial("glaze pond -> other jar", "N-1", defects, crazed, **glaze)
        after = {row.name: row.share for row in case([fired], crazed).rows}
        for of_clay in ("raku_body", "body_underfired"):
            assert (after[of_clay] < before[of_clay]) is is_less
        assert (after["poor_fit"] > before["poor_fit"]) is is_less


def test_a_lesser_remedy_that_did_not_help_hardly_clears_a_cause():
    crazed = tile("crazing", coats=4)
    fired = trial("bisque cone 06 -> 03", "N-1", ["crazing"], crazed, bisque_cone="03")
    (told,) = case([fired], crazed).tried
    assert told.move("moisture_expansion") < told.move("poor_fit") < 0 < told.move("raku_body")


def test_what_a_trial_answers_is_not_asked_again():
    fired = trial(TO_WHITE, "N-1", body={"name": "white clay"})
    asked = {"fails_on_every_body", "sound_on_other_body"}
    for others, are_open in (([], True), ([fired], False)):
        now = case(others)
        names = {each.name for each in questions(now)}
        names |= set(most_telling(now.rows, now.facts, how_many=99))
        assert bool(asked & names) is are_open
        missing = " ".join(t for c in why(FAILED, None, others)[0].causes for t in c.not_recorded)
        assert ("on every body" in missing) is are_open


@pytest.mark.parametrize("text", ["on white clay", "clay red clay -> white clay (expansion 5)"])
def test_a_trial_described_in_own_words_counts_for_what_its_record_shows(text):
    told = trial(TO_WHITE, "N-1", body={"name": "white clay"})
    own = trial(text, "N-1", body={"name": "white clay"})
    assert shares([own]) == pytest.approx(shares([told]))
    assert proposed([own]).tried[0].change == TO_WHITE
    assert TO_WHITE not in [each.trial.change for each in proposed([own]).tiles]


@pytest.mark.parametrize("text", ["on white clay", "red -> on white clay"])
def test_a_tile_in_which_two_things_differ_is_told_and_moves_nothing(text):
    two = {"body": {"name": "white clay"}, "bisque_cone": "04"}
    fired = trial(text, "N-1", **two)
    assert shares([fired]) == pytest.approx(shares([]))
    said = "more than one thing differs (body: red clay -> white clay; bisque cone: 06 -> 04)"
    (tried,) = proposed([fired]).tried
    assert (tried.change, tried.is_as_planned) == (
        f"{text}, but {said}, so it counts for no cause",
        False,
    )


def test_a_trial_as_planned_but_for_its_clay_says_so():
    plain, other = thinner("N-1"), thinner("N-2")
    other.body = other.body.model_copy(update={"name": "white clay"})
    tried = proposed([plain, other]).tried
    more = "body: red clay -> white clay"
    assert [each.besides for each in tried] == [(), (more,)]
    less = f"the fault did not come, but N-2 differs in more ({more}) and counts for less."
    assert said(tried).endswith(less)
    assert f"(N-2 [also {more}], N-1)" in in_short(tried)


def _over_leaf(values, put_on):
    """The same over a colour, put on bisque or on the raw clay."""
    leaf = {"glaze": {"name": "leaf", "role": "underglaze"}, "coats": 2, "applied_on": put_on}
    (area,) = values["areas"]
    top = {"glaze": POND, "coats": 4}
    return values | {"areas": [area | {"layers": [leaf, top]}]}


@pytest.mark.parametrize("put_on", ["greenware", "bisque"])
def test_what_a_colour_was_put_on_is_read_of_a_trial_in_own_words(put_on):
    failed = type(FAILED).model_validate(_over_leaf(FAILED.model_dump(), "bisque"))
    values = _over_leaf(proposed(record=failed).control.tile, put_on)
    written = "colour beneath put on bisque -> greenware"
    own, told = (looked_at(values | {"trial_change": text}, "N-1")
                 for text in ("leaf on the raw clay", written))  # fmt: skip
    is_so = put_on == "greenware"
    assert (proposed([own], failed).tried[0].change == written) is is_so
    assert shares([own], failed) == pytest.approx(shares([told], failed))
    assert (shares([own], failed) != pytest.approx(shares([], failed))) is is_so


def test_a_cone_hotter_in_own_words_is_the_cone_reached():
    cool = tile("underfired", cone="07")
    hotter = trial("a bit hotter", "N-1", record=cool)
    assert hotter.cone_reached == "05"
    assert proposed([hotter], cool).tried[0].change.startswith("cone reached 07 -> 0")


def test_the_longer_change_of_fix_is_the_one_that_next_proposes():
    short = thinner("N-1")
    longer = f"{short.trial_change}; each coat 0.5 -> 0.3 mm; dry coat 2 -> 0.9 mm"
    of_fix = short.model_copy(update={"trial_change": longer})
    assert shares([of_fix]) == pytest.approx(shares([short])) != pytest.approx(shares([]))


def test_a_trial_recipe_is_no_other_glaze():
    name = f"pond {FAILED.mark} A 1/3"
    layers = [{"glaze": OTHER | {"name": name, "kind": "recipe"}, "coats": 4}]
    fired = trial("1/3 of the way to A", "N-1", areas=[{"number": 1, "layers": layers}])
    assert shares([fired]) == pytest.approx(shares([]))


@pytest.mark.parametrize(
    ("outcomes", "told"),
    [([True], "trial N-0, coats 4 -> 3: the fault came again."),
     ([True, True], "trials N-0 and N-1, coats 4 -> 3: the fault came again on both."),
     ([True] * 3, "trials N-0, N-1 and N-2, coats 4 -> 3: the fault came again on all."),
     ([True, False], "trials N-0 and N-1, coats 4 -> 3: the fault came again on 1 of 2."),
     ([False] * 2, "trials N-0 and N-1, coats 4 -> 3: the fault did not come.")],
)  # fmt: skip
def test_trials_of_one_change_are_told_in_one_sentence(outcomes, told):
    tried = [Tried(f"N-{at}", "coats 4 -> 3", again) for at, again in enumerate(outcomes)]
    alike, _ = by_change([Tried("X-1", "as it was", True), *reversed(tried)])
    assert said(alike) == told


def test_all_trials_are_told_in_two_sentences():
    tried = [
        Tried("N-4", "bisque cone 06 -> 04", False, ("crazing",)),
        Tried("N-3", "coats 4 -> 3", False),
        Tried("N-2", "coats 4 -> 3", True),
        Tried("N-1", "hold at the top: 15 min (before: not recorded)", True),
    ]
    assert in_short(tried) == (
        "Did not come: coats 4 -> 3 on 1 of 2 (N-3); bisque cone 06 -> 04 (N-4 but crazing). "
        "Came again: hold at the top: 15 min (N-1); coats 4 -> 3 on 1 of 2 (N-2)."
    )


@pytest.mark.parametrize(
    ("others", "told"),
    [(hotter(2), "it worked on 2 of 2 of your tiles (N-1 and N-0)."),
     ([*hotter(2), *as_it_was(1)],
      "it worked on 2 of 2 of your tiles (N-1 and N-0); as it was, C-0 failed again."),
     ([*hotter(2), trial("bisque 06 -> 04", "N-9", ["crawling"], bisque_cone="04")],
      "it worked on 2 of 3 of your tiles (N-1 and N-0)."),
     (hotter(1), None),
     ([*hotter(2), *as_it_was(1, ())], None),
     (hotter(2, ["crazing"]), None)],
)  # fmt: skip
def test_a_change_that_worked_twice_is_the_first_fix(others, told):
    fixes = why(FAILED, None, others)[0].causes[0].fixes
    said = f"Bisque cone 06 -> 04: {told}"
    assert fixes[0] == said if told else "it worked on" not in " ".join(fixes)
    answers = fix(FAILED, others=others)
    once = "Bisque cone 06 -> 04 (N-0) came out sound: make the next ones so. One tile may be luck"
    assert [each for each in answers[0].proven if not each.startswith(once)] == (
        [said] if told else []
    )
    assert any(each.startswith(once) for each in answers[0].proven) is (len(others) == 1)
    marked = [Marked("T-1", "crawling", each) for each in answers[0].trials]
    screen = " ".join(" ".join(fix_text.screen(FAILED, answers, marked, is_planned=False)).split())
    assert (f" worked {said} " in screen) is bool(told)
    chosen = proposed(others)
    marked = [Marked(f"M-{n}", "crawling", each) for n, each in enumerate(chosen.trials)]
    screen = " ".join(" ".join(next_text.screen(chosen, marked, is_planned=False)).split())
    assert (f". {said} " in screen) is bool(told)


def test_what_a_sound_trial_of_another_change_shows_is_no_luck_of_the_tile():
    chosen = proposed([*as_it_was(2), *hotter(2)])
    now = dict(chosen.causes)[THICK]
    for each in chosen.tiles:
        is_thinner = each.trial.change == "coats 4 -> 3"
        assert is_thinner or dict(each.if_sound)[THICK] <= now + 0.02
    assert chosen.tiles


def test_no_trial_is_among_the_counts_of_own_tiles_and_the_screen_says_so():
    others = [tile("crawling", coats=4 - n % 2).model_copy(update={"mark": f"K-{n}"})
              for n in range(16)]  # fmt: skip
    for each in others[1::2]:
        each.inspections = looked_at(
            each.model_dump(exclude={"mark", "inspections"}), "x"
        ).inspections
    apart = "The trials for it are not among them."
    for trials, is_said in (([], False), ([*as_it_was(2), *hotter(2)], True)):
        (told, *_) = why(FAILED, None, [*trials, *others])
        assert told.case.own.areas == 16
        screen = " ".join(" ".join(why_screen.lines(FAILED, [told])).split())
        assert (apart in screen) is is_said


def test_a_trial_that_failed_points_to_the_tile_it_was_made_for():
    (control,) = as_it_was(1)
    told = " ".join(why_screen.lines(control, why(control)))
    assert "A trial for T-1: 'tiles why T-1' weighs the whole set." in told
    assert "A trial for" not in " ".join(why_screen.lines(FAILED, why(FAILED)))


def test_a_sound_tile_of_another_glaze_speaks_for_the_glaze_and_a_failed_one_of_another_clay_too():
    failed = tile("pinholes")
    swaps = [
        trial("glaze pond green -> other jar", "N-1", record=failed, **layer_of(OTHER)),
        trial(TO_WHITE, "N-2", ["pinholes"], record=failed, body="white clay"),
    ]
    before, after = ({row.name: row.log_odds for row in case(s, failed).rows} for s in ([], swaps))
    gained = {name: after[name] - before[name] for name in before}
    assert gained["gassy_recipe"] > gained["coat_too_thick"] > gained["gassy_body"]
    assert gained["gassy_recipe"] > gained["bisque_fast_airless"] > gained["gassy_body"]


@pytest.mark.parametrize("swap", ["glaze", "body"])
def test_a_fired_swap_counts_the_same_where_no_label_says_that_it_stands_the_cone(swap):
    failed, moved = tile("pinholes"), []
    for cones in ({}, {"cone_low": "06", "cone_high": "03"}):
        new = {"name": "unlabelled", "kind": "jar" if swap == "glaze" else "earthenware", **cones}
        made = layer_of(new) if swap == "glaze" else {"body": new}
        was = POND["name"] if swap == "glaze" else RED["name"]
        fired = trial(f"{swap} {was} -> unlabelled", "N-1", record=failed, **made)
        (told,) = case([fired], failed).tried
        moved.append(told.moves)
    assert moved[0] and moved[0] == pytest.approx(moved[1])


@pytest.mark.parametrize("defect", ["crawling", "pinholes", "shivering"])
def test_dust_on_the_bisque_lies_neither_in_the_glaze_nor_in_the_clay(defect):
    failed = tile(defect)
    before = {row.name: row.log_odds for row in case([], failed).rows}

    def gained(change, seen, **made):
        of = case([trial(change, "N-1", seen, failed, **made)], failed)
        return {row.name: row.log_odds - before[row.name] for row in of.rows}

    sound = gained("glaze pond -> other jar", [], **layer_of(OTHER))
    again = gained(TO_WHITE, [defect], body=WHITE)
    assert sound["dirty_bisque"] < sound["coat_too_thick"]
    assert again["dirty_bisque"] == pytest.approx(max(again.values()), abs=0.15)


def test_a_glaze_fired_past_its_label_is_rid_of_it_by_another_glaze():
    failed = tile("blisters")
    (sound,) = case(
        [trial("glaze pond -> other jar", "N-1", record=failed, **layer_of(OTHER))], failed
    ).tried
    assert sound.move("above_its_range") == pytest.approx(sound.move("gassy_recipe"))
    assert sound.move("overfired") > sound.move("fast_or_no_hold")


def layer_of(glaze):
    return {"areas": [{"number": 1, "layers": [{"glaze": glaze, "coats": 3}]}]}


def test_a_hold_only_eases_what_lies_in_the_recipe():
    failed = tile("pinholes")
    of = case([], failed)
    hold = next(e for e in candidates(view_of(of), of, OWNED) if e.step.key == "hold")
    assert "gassy_recipe" in hold.eases - hold.acts_on
    assert "fast_or_no_hold" in hold.acts_on


def view_of(of):
    return View(of.record, of.area, of.defect)


def made_with(batch=None, recipe=None, kiln=None, cone="05", bisque="06"):
    record = tile("crawling", cone=cone, bisque=bisque)
    layer = record.areas[0].layers[0].model_dump() | {"batch": batch and {"name": batch}}
    layer["recipe"] = recipe and {"version": recipe, "lines": [
        {"material": "silica", "parts": recipe}, {"material": "kaolin", "parts": 50}]}  # fmt: skip
    areas = [{"number": 1, "layers": [layer]}]
    firing = kiln and {"name": f"F of {kiln}", "kiln": kiln}
    return type(record).model_validate(record.model_dump() | {"areas": areas, "firing": firing})


@pytest.mark.parametrize(
    ("one", "other", "said"),
    [
        ({"batch": "old", "recipe": 1}, {"batch": "new", "recipe": 2}, ["batch: old -> new"]),
        ({"recipe": 1}, {"batch": "new", "recipe": 2}, ["recipe"]),
        ({"kiln": "big", "cone": "06"}, {"kiln": "small", "cone": "05"}, ["kiln: big -> small"]),
        ({"kiln": "big", "cone": "06"}, {"kiln": "Big", "cone": "05"}, ["cone"]),
        ({"cone": "05"}, {"cone": "05 1/2"}, []),
        ({"bisque": "05"}, {"bisque": "05 1/2"}, ["bisque cone"]),
        ({"bisque": None}, {"bisque": "04"}, []),
    ],
)
def test_what_follows_from_a_difference_is_no_second_one(one, other, said):
    record = made_with(**one)
    found = differences(made_with(**other), View(record, record.areas[0]))
    assert len(found) == len(said) and all(map(str.startswith, found, said)), found


@pytest.mark.parametrize(("what", "said"), [("specific gravity", ()), ("coats", ("batch: ",))])
def test_a_bucket_that_was_changed_is_no_second_thing_beside_its_change(what, said):
    record = made_with(batch="old", recipe=1)
    change = Candidate(what, Step(what, what, [Change(what, 1, 2)]))
    trial = made_with(batch="new", recipe=2)
    found = _made_otherwise(trial, change, View(record, record.areas[0]))
    assert len(found) == len(said) and all(map(str.startswith, found, said))


def test_where_one_thing_differs_that_is_not_several():
    told = Tried("N-1", "fired again", False)
    assert _of_no_one_change(told, ["coats: 3 -> 2"]) is told
    several = _of_no_one_change(told, ["coats: 3 -> 2", "body: red -> white"])
    assert "more than one thing differs (coats: 3 -> 2; body: red -> white)" in several.change

import re
from functools import cache
from itertools import product

import pytest

from diagnose.fixes.bench import Bench
from diagnose.fixes.steps import makers
from diagnose.measures.names import COLOURS
from diagnose.rules import _advice, load
from diagnose.view import View
from diagnose.vocabulary import _table, clue_said, how_to_get, measure_words
from tests.unit.diagnose.many import check_each
from tests.unit.diagnose.test_causes_plain import KINDS_OF_FIRING, ordinary_tile
from tiles.chemistry.cones import BAND_LIMITS
from tiles.records import words
from tiles.records.clues import clues

ACTORS = {
    "recipe",
    "slip",
    "application",
    "body",
    "bisque",
    "firing",
    "cooling",
    "use",
    "record",
}
TO_THE_LABEL = re.compile(r"\brefire|\bfull cone\b|\bcone on (?:the|its) label", re.IGNORECASE)
TAGS = {"read", "memory", "common practice", "estimate"}
BODY_COLOURS = ("red", "brown", "black", "dark", "white", "buff", "terracotta")
# Words each text measure can have; a rule that waits for another word would never count.
CHOICES = {
    "applied_on": words.APPLIED_ON,
    "colour_applied_on": words.APPLIED_ON,
    "slip_applied_on": words.APPLIED_ON,
    "beneath": words.BENEATH,
    "finish": words.FINISHES,
    "form": words.TILE_FORMS,
    "surface": words.SURFACES,
    "method": words.METHODS,
    "role": words.GLAZE_ROLES,
    "glaze_kind": words.GLAZE_KINDS,
    "supplied_as": words.SUPPLIED_AS,
    "dry_portion": words.DRY_PORTIONS,
    "body_kind": words.BODY_KINDS,
    "colour_beneath": words.COLOUR_ROLES,
    "severity": words.SEVERITIES,
    "setting": KINDS_OF_FIRING,
    "revived": words.ANSWERS,
    "wrong_band": words.ANSWERS,
    "missed_alone": words.ANSWERS,
    "had_its_heat": words.ANSWERS,
    "every_glaze_failed": words.ANSWERS,
    "atmosphere": words.ATMOSPHERES,
    "stood": words.STOOD,
    "firing_band": tuple(name for name, _ in BAND_LIMITS),
    "speckled_body": words.ANSWERS,
    "flux_beneath": words.ANSWERS,
    "usual_coat_fails_too": words.ANSWERS,
    "sound_on_this_clay": words.ANSWERS,
    "label_cone_fails_too": words.ANSWERS,
    "sound_as_hot": words.ANSWERS,
    "cooler_fails_too": words.ANSWERS,
    "speckled_glaze": words.ANSWERS,
    "named_for_crawling": words.ANSWERS,
    "named_for_bubbles": words.ANSWERS,
    "holds_chromium": words.ANSWERS,
    "holds_tin": words.ANSWERS,
    "holds_chrome_tin": words.ANSWERS,
    "holds_zinc": words.ANSWERS,
    "holds_cobalt": words.ANSWERS,
    "holds_umber": words.ANSWERS,
    "went_glossy": words.ANSWERS,
    "looks_glossy": words.ANSWERS,
    "told_stuck": words.ANSWERS,
    "told_crack": words.ANSWERS,
    "told_bare": words.ANSWERS,
    "told_scratched": words.ANSWERS,
    "told_chip": words.ANSWERS,
    "told_streaky": words.ANSWERS,
    "told_powder": words.ANSWERS,
    "told_sharp": words.ANSWERS,
    "told_exploded": words.ANSWERS,
    "told_knocked": words.ANSWERS,
    "told_smeared": words.ANSWERS,
    "holds_lithium": words.ANSWERS,
    "holds_silicon_carbide": words.ANSWERS,
}
FREE_TEXT = {"body_colour": BODY_COLOURS, "glaze_colour": COLOURS}
"""Measures in the owner's own words: a rule may wait for any of the colours we know."""


def causes():
    return [(defect, cause) for defect in words.DEFECTS for cause in load(defect).causes]


def causes_of(defect):
    return [(f"{defect}/{cause.name}", cause) for cause in load(defect).causes]


def signs_of(defect):
    """Every sign with a name that leads to it: defect/cause, place in its file, measure."""
    return [
        (f"{name}, sign {number} ({sign.measure})", sign)
        for name, cause in causes_of(defect)
        for number, sign in enumerate(cause.signs, start=1)
    ]


def signs():
    return [sign for _, cause in causes() for sign in cause.signs]


def test_the_four_first_defects_have_at_least_five_causes_each():
    for defect in ("crazing", "crawling", "pinholes", "running"):
        assert len(load(defect).causes) >= 5


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_a_file_names_a_defect_of_the_list_and_its_priors_add_up_to_100(defect):
    book = load(defect)
    assert book.defect == defect
    for setting in KINDS_OF_FIRING:
        priors = [cause.prior[setting] for cause in book.causes]
        assert min([*priors, book.other_prior[setting]]) > 0
        assert sum(priors) + book.other_prior[setting] == pytest.approx(100)
    names = [cause.name for cause in book.causes]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_a_cause_says_all_a_reader_needs(defect):
    check_each(causes_of(defect), says_all_a_reader_needs)


def says_all_a_reader_needs(cause):
    assert set(cause.prior) == set(KINDS_OF_FIRING)
    assert cause.title[0].islower() or cause.title[0].isdigit()
    assert not cause.title.endswith(".")
    assert cause.mechanism.endswith(".")
    assert cause.confirm
    assert cause.fixes
    assert cause.signs
    assert set(cause.who_can_act) <= ACTORS
    assert set(cause.lies_in) <= {*ACTORS, "handling"}
    for text in (*said(cause), *cause.cautions, *cause.looks_like):
        assert text[0].isupper()
        assert text[-1] in ".?"
    assert any(sign.weight_for > 0 for sign in cause.signs), "nothing could ever speak for it"


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_advice_is_marked_where_it_must_be_left_out(defect):
    check_each(causes_of(defect), has_the_marks_it_needs)


def has_the_marks_it_needs(cause):
    for each in (*cause.confirm, *cause.fixes):
        # Unmarked, it would send a clay to a cone at which it melts.
        assert each.to_the_label or not TO_THE_LABEL.search(each.say), each.say
        changed = changes_of(cause.name) if each in cause.fixes else set()
        assert set(each.changes) <= changed, f"no trial of this cause changes that: {each.say}"


ONE_THING = {
    "hold": r"\bhold \d|min hold|\b(?:no|the|long) holds?\b",
    "cone": r"\bcones? (?:cooler|hotter)|cone on (?:the|its) label|\b(?:cool|hot) end",
    "coat": r"\bcoats?\b|\blayers\b|specific gravity",
    "rate": r"°C an hour|\bslow",
    "gum": r"\bgum\b",
    "vent": r"\bvent\b",
}
"""What a trial changes, by words that tell of it."""


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_a_piece_of_advice_changes_one_thing_so_that_a_trial_of_it_tells(defect):
    check_each(causes_of(defect), gives_one_change_a_piece)


def gives_one_change_a_piece(cause):
    for each in cause.fixes:
        assert len(each.changes) <= 1, each.say
        if " or " in each.say:  # two ways, of which one is taken
            continue
        told = [
            what for what, said in ONE_THING.items() if re.search(said, each.say, re.IGNORECASE)
        ]
        assert len(told) <= 1, f"{each.say} changes {' and '.join(told)}"


@cache
def changes_of(cause):
    """What the trials of a cause change, on tiles that leave every step something to do."""
    found = set()
    for setting, cones in (("low_fire", ("08", "02")), ("mid_range", ("4", "8"))):
        for coats, cone, held in product((1, 4), cones, (0, 60)):
            tile = ordinary_tile(setting)
            tile.firing.hold_min, tile.cone_reached, tile.bisque_cone = held, cone, cone
            tile.areas[0].layers[0].coats = coats
            tile.areas[0].layers[0].thickness_mm = None
            for defect in ("crawling", "crazing"):
                bench = Bench(View(tile, tile.areas[0], defect), cause, setting)
                steps = filter(None, (make(bench) for make in makers(bench)))
                found |= {step.changes[0].what for step in steps}
    return found


def test_a_mark_that_no_trial_could_bear_is_refused():
    with pytest.raises(ValueError, match="'coat' is no change .* One coat less"):
        _advice({"say": "One coat less.", "changes": ["coat"]})
    with pytest.raises(TypeError, match="to_label"):
        _advice({"say": "Refire it.", "to_label": True})


def said(cause):
    return [each.say for each in (*cause.confirm, *cause.fixes)]


def test_most_fixes_give_an_amount():
    texts = [fix.say for _, cause in causes() for fix in cause.fixes]
    with_number = [fix for fix in texts if re.search(r"\d|one |two |half", fix.casefold())]
    assert len(with_number) >= 0.75 * len(texts)


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_a_sign_uses_known_measures_and_a_sound_ramp(defect):
    check_each(signs_of(defect), uses_known_measures_and_a_sound_ramp)


def uses_known_measures_and_a_sound_ramp(sign):
    assert sign.measure in measure_words() or sign.measure in clues()
    for name in (*sign.against_unless, *(key.removeprefix("not_") for key in sign.only)):
        assert name in measure_words() or name in clues() or name == "setting"
    assert sign.tag in TAGS
    assert sign.source
    assert 0 <= sign.weight_for <= 5
    assert 0 <= sign.weight_against <= 5
    has_for = bool(sign.counts_if) or sign.counts_from is not None
    has_against = bool(sign.against_if) or sign.against_from is not None
    assert has_for == (sign.weight_for > 0)
    assert has_against == (sign.weight_against > 0)
    assert has_against or not sign.against_unless
    assert has_for or has_against
    assert (sign.counts_from is None) == (sign.counts_fully is None)
    assert (sign.against_from is None) == (sign.against_fully is None)
    assert sign.counts_from is None or sign.counts_from != sign.counts_fully
    if None not in (sign.counts_from, sign.against_from):
        rising = sign.counts_fully > sign.counts_from
        assert (sign.against_fully < sign.against_from) == rising, "both sides point one way"
        apart = sign.counts_from - sign.against_from
        assert apart == 0 or (apart > 0) == rising, "a value would speak for and against at once"


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_a_sign_waits_only_for_words_its_measure_can_have(defect):
    check_each(signs_of(defect), waits_only_for_words_its_measure_can_have)


def waits_only_for_words_its_measure_can_have(sign):
    tests = [(sign.measure, (*sign.counts_if, *sign.against_if))]
    tests += [(key.removeprefix("not_"), value) for key, value in sign.only.items()]
    for name, used in tests:
        choices = words.ANSWERS if name in clues() else CHOICES.get(name)
        if choices is not None:
            assert set(used) <= set(choices)
        elif used:
            assert set(used) <= set(FREE_TEXT[name])


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_a_figure_said_to_be_read_names_its_page(defect):
    check_each(signs_of(defect), names_its_page_if_read)


def names_its_page_if_read(sign):
    if sign.tag in ("read", "memory"):
        assert sign.source != "common practice"
    if sign.tag == "memory":
        assert "(memory)" in sign.source, "say that the book was not at hand"
    assert (sign.tag != "read") or "(memory)" not in sign.source or ";" in sign.source


def test_a_clue_has_a_question_and_both_statements():
    check_each([(name, name) for name in clues()], asks_and_states_both)


def asks_and_states_both(name):
    clue = clues()[name]
    assert clue.question.endswith("?")
    assert clue.about in ("tile", "area")
    assert clue.group in ("bisque", "application", "glaze", "body", "firing", "look", "use")
    assert clue_said(name, "yes") != clue_said(name, "no")
    assert how_to_get(name) == clue.question


def test_a_clue_of_one_form_of_tile_names_a_form_of_the_list():
    asked_of = {name: said["asked_of"] for name, said in _table()["clue"].items()
                if "asked_of" in said}  # fmt: skip
    assert "lid_fired_in_place" in asked_of
    assert set(asked_of.values()) <= set(words.TILE_FORMS)


def test_the_clue_list_and_the_measure_list_share_no_name():
    assert not set(clues()) & set(measure_words())
    assert 25 <= len(clues()) <= 120


def test_every_clue_is_used_by_some_sign():
    assert set(clues()) - {sign.measure for sign in signs()} == set()


def test_every_measure_is_used_by_some_sign_or_condition():
    used = {sign.measure for sign in signs()}
    for sign in signs():
        used |= {key.removeprefix("not_") for key in sign.only} | set(sign.against_unless)
    # The cone reached is compared with label, target and body, never used by itself.
    assert set(measure_words()) - used == {"cone_reached"}


def test_no_rule_text_uses_unexplained_symbols():
    for _, cause in causes():
        for text in (cause.title, cause.mechanism, *said(cause), *cause.cautions):
            assert not re.search(r"\b(SG|LOI|CTE|COE|KNaO|SiO2|Al2O3|B2O3|mol)\b|\^\d", text), text

"""Fixes for one tile: which causes are acted on, what is said, which tiles prove it."""

import pytest

from diagnose.fixes.of_tile import fix
from diagnose.next_tiles.changes import Owned
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from tiles.errors import TilesError
from tiles.records import forms

CLEAR = {
    "name": "house clear",
    "kind": "recipe",
    "role": "glaze",
    "finish": "clear",
    "cone_low": "05",
    "cone_high": "04",
}
LINES = [
    {"material": "soda borate frit", "parts": 46},
    {"material": "calcium borate frit", "parts": 24},
    {"material": "china clay", "parts": 14},
    {"material": "flint", "parts": 16},
    {"material": "red iron oxide", "parts": 2, "is_addition": True},
]


def _tile(defect="crazing", *, glaze=CLEAR, lines=LINES, body_expansion=6.6, **changes):
    layer = {"glaze": glaze, "coats": 2, "thickness_mm": 0.5, "method": "brush"}
    if lines:
        layer["recipe"] = {"version": 1, "lines": lines}
    body = {"name": "red earthenware", "cone_low": "06", "cone_high": "02"}
    values = {
        "mark": "M-7",
        "body": body | {"expansion_ppm_per_k": body_expansion},
        "bisque_cone": "04",
        "cone_reached": "05",
        "areas": [{"number": 1, "layers": [layer]}],
        "clues": {"fails_on_every_body": "yes", "cracks_close_together": "yes"},
        "inspections": [{"inspected_on": "2026-05-01", "defects": [{"defect": defect}]}],
    }
    return forms.read(forms.TileRecord, values | changes)


def _first(record, **options):
    (answer,) = fix(record, **options)
    return answer, answer.causes[0]


def _number(each, start):
    return next(p for p in each.predictions if p.quantity.startswith(start))


def test_a_crazed_recipe_gets_changes_in_parts_with_numbers_and_error():
    answer, cause = _first(_tile())
    recipes = [each for each in cause.fixes if each.is_recipe]
    assert cause.cause == "poor_fit" and 2 <= len(recipes) <= 3
    for each in recipes:
        expansion = _number(each, "expansion")
        assert expansion.after <= 6.1 < expansion.before
        assert expansion.low < expansion.change < expansion.high
        assert _number(each, "melt viscosity at cone 05").low is not None
        assert each.spoils
        assert sum(change.after - change.before for change in each.changes) == pytest.approx(0)
    assert [each.name for each in answer.trials[:4]] == ["control", "A 1/3", "A 2/3", "A 1"]


def test_the_error_of_the_difference_is_smaller_than_that_of_the_estimate():
    from tiles.chemistry.expansion import estimate
    from tiles.chemistry.formula import analyse

    _answer, cause = _first(_tile())
    parts = [(line["material"], line["parts"]) for line in LINES]
    alone = estimate(analyse(parts).mole_percent)
    moved = _number(cause.fixes[0], "expansion")
    assert moved.high - moved.low < alone.high - alone.low


def test_the_recipe_is_told_in_its_own_words():
    _answer, cause = _first(_tile())
    blend = cause.fixes[0].blend
    assert blend[0].parts == {line["material"]: line["parts"] for line in LINES}
    assert "flint" in blend[-1].parts and "silica" not in blend[-1].parts
    assert blend[-1].additions == ["red iron oxide"]


def test_a_trial_recipe_keeps_additions_on_top_of_the_base():
    trial = fix(_tile())[0].trials[1]
    extras = [line["material"] for line in trial.recipe["lines"] if line["is_addition"]]
    assert extras == ["red iron oxide"]


def test_a_cone_too_cool_for_the_melt_leaves_it_out():
    _answer, cause = _first(_tile(cone_reached="022"))
    assert cause.fixes[0].is_recipe
    assert not any("melt" in each.quantity for each in cause.fixes[0].predictions)


@pytest.mark.parametrize(
    "lines",
    [
        [{"material": "red iron oxide", "parts": 60}],
        [{"material": "soda ash", "parts": 50}, {"material": "silica", "parts": 50}],
        [{"material": "soda borate frit", "parts": 100}],
        [{"material": "litharge", "parts": 60}, {"material": "silica", "parts": 40}],
    ],
    ids=lambda lines: lines[0]["material"],
)
def test_an_odd_recipe_is_answered_in_words(lines):
    _answer, cause = _first(_tile(lines=lines))
    assert cause.say


def test_a_leaded_recipe_gets_no_amounts():
    lines = [{"material": "litharge", "parts": 60}, {"material": "silica", "parts": 40}]
    _answer, cause = _first(_tile(lines=lines))
    assert "holds lead" in cause.say[0] and not any(each.is_recipe for each in cause.fixes)


def test_the_line_runs_evenly_from_the_recipe_to_the_change():
    _answer, cause = _first(_tile())
    first, third, _two, last = cause.fixes[0].blend
    for name in {**first.parts, **last.parts}:
        start, end = first.parts.get(name, 0), last.parts.get(name, 0)
        assert third.parts.get(name, 0) == pytest.approx(start + (end - start) / 3, abs=0.01)


def test_a_recipe_that_does_not_add_up_to_100_is_told_in_parts_per_100():
    doubled = [line | {"parts": 2 * line["parts"]} for line in LINES]
    one, two = (_first(_tile(lines=each))[1].fixes for each in (LINES, doubled))
    assert [each.title for each in one] == [each.title.partition(";")[0] for each in two]


def test_without_a_measured_body_only_a_relative_step_is_advised():
    _answer, cause = _first(_tile(body_expansion=None))
    assert "is not measured, so fit cannot be told" in cause.say[0]
    moved = _number(cause.fixes[0], "expansion")
    assert -0.6 < moved.change <= -0.5 + 1e-6


def test_a_limit_that_was_given_goes_before_the_body():
    _answer, cause = _first(_tile(), body_limit=6.4)
    assert "you put the limit" in cause.say[0].casefold()
    assert 6.2 < _number(cause.fixes[0], "expansion").after <= 6.4


def test_fit_is_never_promised():
    for expansion in (None, 6.6, 9.5):
        _answer, cause = _first(_tile(body_expansion=expansion))
        assert "Only tiles show whether it fits." in cause.say[0]


def test_a_calculated_fit_that_crazed_is_told_as_a_doubt_about_the_calculation():
    _answer, cause = _first(_tile(body_expansion=9.0))
    assert "yet it failed; the calculation can be off" in cause.say[0]


def test_a_recipe_not_understood_gets_no_amounts_but_says_why():
    lines = [*LINES[1:], {"material": "mystery frit", "parts": 46}]
    _answer, cause = _first(_tile(lines=lines))
    assert not any(each.is_recipe for each in cause.fixes)
    assert "not understood (mystery frit)" in cause.say[0]


def test_a_recipe_whose_version_is_not_recorded_says_so():
    _answer, cause = _first(_tile(lines=None))
    assert "is not recorded" in cause.say[0]


def test_a_jar_is_never_given_a_recipe():
    jar = CLEAR | {"kind": "jar"}
    answer, _cause = _first(_tile(glaze=jar, lines=None))
    assert not any(each.is_recipe for cause in answer.causes for each in cause.fixes)


def test_own_analyses_go_before_the_shipped_ones():
    from tiles.chemistry.materials import from_analysis

    own = from_analysis("soda borate frit", {"SiO2": 50, "B2O3": 26, "Na2O": 14, "CaO": 8})
    _answer, cause = _first(_tile(), own=[own])
    assert "soda borate frit" not in cause.fixes[0].generic
    plain = _first(_tile())[1]
    assert _number(plain.fixes[0], "expansion").before > _number(cause.fixes[0], "expansion").before


def test_a_wanted_crackle_is_not_put_right():
    crackle = CLEAR | {"finish": "crackle", "kind": "jar"}
    answer, *_rest = fix(_tile(glaze=crackle, lines=None, clues={}))
    assert answer.enough_to_tell and answer.causes == [] and answer.trials == []


def test_ruled_out_misnamed_and_unlisted_causes_are_skipped():
    for defect in ("crawling", "pinholes", "running", "crazing", "shivering", "blisters"):
        for answer in fix(_tile(defect, clues={})):
            for cause in answer.causes:
                assert not cause.cause.endswith("_misnamed") and cause.cause != "other"


def test_a_cause_already_served_by_an_earlier_fix_does_not_repeat_it():
    answer, *_rest = fix(_tile(clues={}, bisque_cone="08"))
    titles = [each.title for cause in answer.causes for each in cause.fixes]
    assert len(set(titles)) == len(titles)
    assert any(cause.acts_too for cause in answer.causes)


def _told_apart(answer):
    """The causes that each fix serves, counted again."""
    return {
        fix.name: [
            number
            for number, cause in enumerate(answer.causes, start=1)
            if fix in cause.fixes or fix.name in cause.acts_too
        ]
        for cause in answer.causes
        for fix in cause.fixes
    }


def _open_pinholes():
    bare = {"glaze": CLEAR | {"kind": "jar"}, "coats": 3, "method": "brush"}
    return _tile("pinholes", lines=None, clues={}, bisque_cone=None,
                 areas=[{"number": 1, "layers": [bare]}])  # fmt: skip


def test_when_it_cannot_be_told_one_tile_goes_first_that_splits_the_causes():
    answer, *_rest = fix(_open_pinholes())
    assert not answer.enough_to_tell and len(answer.causes) > 1
    serves = _told_apart(answer)[answer.first.trial.split()[0]]
    assert answer.first.serves == serves
    assert 0 < len(serves) < len(answer.causes)


def test_what_the_outcome_of_the_first_tile_means_is_what_next_says_of_it():
    for record in (_open_pinholes(), _tile("crawling", lines=None, clues={})):
        answer, *_rest = fix(record)
        first = next(each for each in answer.trials if each.name == answer.first.trial)
        change = first.change.partition("; ")[0]
        found = next_tiles(why(record)[0], Owned())
        (alike,) = [each for each in found.tiles if each.trial.change == change]
        assert (answer.first.if_again, answer.first.if_sound) == (alike.if_again, alike.if_sound)
        assert answer.first.now == found.causes


def test_when_it_can_be_told_no_tile_goes_first():
    answer, _cause = _first(_tile())
    assert answer.enough_to_tell and answer.first is None


def test_a_thick_jar_crawler_gets_a_control_and_one_thinner_tile():
    jar = CLEAR | {"kind": "jar", "finish": "gloss"}
    layer = {"glaze": jar, "coats": 4, "thickness_mm": 1.6, "method": "brush"}
    record = _tile("crawling", clues={}, areas=[{"number": 1, "layers": [layer]}])
    answer, cause = _first(record)
    assert cause.cause == "coat_too_thick"
    control, trial = answer.trials[:2]
    assert control.tile["areas"][0]["layers"][0]["coats"] == 4
    assert trial.tile["areas"][0]["layers"][0]["coats"] == 2
    assert trial.tile["body"] == control.tile["body"]
    assert trial.tile["bisque_cone"] == control.tile["bisque_cone"]


def test_a_planned_tile_claims_nothing_that_has_not_happened():
    from tiles.records.derived import stage

    for trial in fix(_tile())[0].trials:
        assert stage(forms.read(forms.TileRecord, trial.tile | {"mark": "T-1"})) == "planned"


def test_a_tile_without_a_look_or_a_fault_is_an_error():
    with pytest.raises(TilesError, match="not inspected"):
        fix(_tile(inspections=[]))
    with pytest.raises(TilesError, match="clean"):
        fix(_tile(inspections=[{"inspected_on": "2026-05-01"}]))


def test_amounts_load_no_heavy_library_at_import():
    import subprocess
    import sys

    code = (
        "import diagnose.fixes.of_tile, sys; "
        "print([m for m in ('numpy', 'pandas', 'sklearn', 'scipy') if m in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


def test_the_users_own_parts_are_told_beside_the_parts_per_100():
    doubled = [line | {"parts": 2 * line["parts"]} for line in LINES]
    once, twice = (_first(_tile(lines=each))[1].fixes[0].title for each in (LINES, doubled))
    assert ";" not in once
    per_hundred, _, own = twice.partition("; as you write it (base 200): ")
    assert per_hundred == once
    first = float(once.split()[0])
    assert float(own.split()[0]) == pytest.approx(2 * first)


def test_an_opacifier_is_told_on_one_scale():
    base = {"soda feldspar": 40, "whiting": 14, "kaolin": 14, "silica": 18}
    lines = [{"material": key, "parts": parts} for key, parts in base.items()]
    lines += [{"material": "zirconium silicate", "parts": 16, "is_addition": True}]
    glaze = CLEAR | {"finish": "gloss", "cone_low": "5", "cone_high": "6"}
    body = {"name": "buff", "cone_low": "5", "cone_high": "7"}
    record = _tile("metal marking", glaze=glaze, lines=lines, clues={}, cone_reached="6", body=body)
    (answer,) = fix(record)
    cause = next(each for each in answer.causes if each.cause == "zircon_rich")
    # 16 on a base of 86 is 18.6 on 100; 3 less of it is 2.58 in the parts it is written in.
    assert cause.say[0] == "Opacifier 18.6 -> 15.6 parts per 100 of the base."
    change = next(each for each in cause.fixes if each.is_recipe)
    out = float(change.title.split()[0])
    assert 3 <= out < 3.6
    assert f"as you write it (base 86): {round(out * 0.86, 2):g} zirconium silicate" in change.title


def test_a_glaze_that_fails_on_every_body_is_not_sent_to_another():
    bodies = [forms.BodyRecord(name="talc white", expansion_ppm_per_k=9.0)]
    for answer in fix(_tile(), bodies=bodies):
        assert not any(each.key == "other_body" for cause in answer.causes for each in cause.fixes)
    other = fix(_tile(clues={"cracks_close_together": "yes"}), bodies=bodies)
    assert any(each.key == "other_body" for a in other for c in a.causes for each in c.fixes)


def test_a_coat_left_powder_dry_is_told_as_recorded():
    record = _tile("crawling", clues={"coats_left_powder_dry": "yes"})
    (answer,) = fix(record)
    said = [change.said for c in answer.causes for each in c.fixes for change in each.changes]
    wanted = "coat beneath when the next goes on powder-dry -> still damp, its wet look just gone"
    assert wanted in said


def test_sharp_edges_are_rounded_and_not_given_another_recipe():
    (answer,) = fix(
        _tile(
            "shivering",
            clues={"ware_edges_sharp": "yes", "flakes_at_rims": "yes"},
            body_expansion=8.8,
        )
    )
    cause = next(each for each in answer.causes if each.cause == "sharp_edges")
    assert [each.key for each in cause.fixes] == ["round_rims"] and cause.acts_too == []

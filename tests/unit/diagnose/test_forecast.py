"""Forecasts of one tile, and the report on what was learned, on a simulated studio."""

from types import SimpleNamespace

import pandas as pd
import pytest

from diagnose.forecasts.by_cone import either
from diagnose.forecasts.drivers import said_of, was_met
from diagnose.forecasts.feared import causes_over_label
from diagnose.forecasts.of_tile import (
    NO_BETTER,
    Forecast,
    forecast,
    unlike,
)
from diagnose.forecasts.own_count import counted, own_count
from diagnose.learner import fit, fit_records
from diagnose.learning import report as learning_report
from diagnose.learning.explain import PAIR
from diagnose.learning.model import LEARNED, learn_seen
from diagnose.learning.pairs import COMPANY
from diagnose.learning.report import learned_defects, learning_curve, lessons, reliability
from diagnose.learning.rows import Row
from diagnose.measures.of_area import measures
from diagnose.view import seen_from
from tests.bench.flat_frame import row_records
from tests.bench.simulate import simulate
from tests.unit.diagnose.test_comparison import tile
from tiles.cli.forecast_text import _one
from tiles.records.forms import TileRecord


@pytest.fixture(scope="module")
def studio():
    frame = simulate(120, 11).frame  # some defects are no better forecast than by guessing there
    return fit(frame), row_records(frame)


def test_chances_and_states_are_those_of_the_learner(studio):
    model, records = studio
    record = records[5]
    own = {each.defect: each for each in model.forecast(record)}
    for each in forecast(model, record, record.areas[0].number):
        if each.state == LEARNED:
            assert each.chance == pytest.approx(own[each.defect].chance)
            assert each.low <= each.chance <= each.high
        else:
            assert each.chance is None


def test_what_only_the_finished_tile_tells_is_not_looked_at(studio):
    model, records = studio
    record = next(each for each in records if each.inspections and each.inspections[0].defects)
    bare = record.model_copy(deep=True, update={"inspections": []})
    for thick, none in zip(record.areas[0].layers, bare.areas[0].layers, strict=True):
        thick.fired_thickness_mm, none.fired_thickness_mm = 1.2, None
    number = record.areas[0].number
    assert forecast(model, record, number) == forecast(model, bare, number)


def _over(number, *names):
    layers = [{"glaze": {"name": name}} for name in names]
    return tile(number, areas=[{"number": 1, "layers": layers}])


def test_layers_that_were_never_together_are_said_to_be_unlike(studio):
    model, _records = studio
    others = [_over(1, "sky", "matt"), _over(2, "leaf", "matt"), _over(3, "matt", "ink")]
    said = [
        each for each in unlike(model, _over(9, "sky", "leaf", "matt"), 1, others) if "toge" in each
    ]
    assert said == ["leaf over sky: no inspected tile has them together"]
    for known in (("sky", "matt"), ("matt", "sky"), ("sky", "never met", "matt")):
        assert not any("together" in each for each in unlike(model, _over(9, *known), 1, others))


def test_likeliest_first_then_those_without_a_number(studio):
    model, records = studio
    chances = [each.chance or 0.0 for each in forecast(model, records[0], 1)]
    assert chances == sorted(chances, reverse=True)


def test_forecasts_no_better_than_guessing_get_no_number_each_judged_by_its_own_kind(studio):
    """A glaze that has tiles is judged by single tiles held back, a new one by whole glazes."""
    model, records = studio
    new = tile(1, mm=0.7, glaze="never met")
    for record, verdicts in ((records[0], model.tile_verdicts), (new, model.verdicts)):
        told = {each.defect: each for each in forecast(model, record, 1)}
        learned = [d for d, v in verdicts.items() if v.learned]
        assert {verdicts[d].beats_base_rate for d in learned} == {True, False}
        for defect in learned:
            useful = verdicts[defect].beats_base_rate
            assert told[defect].state == (LEARNED if useful else NO_BETTER)
            assert (told[defect].chance is not None) is useful


def test_own_tiles_of_this_glaze_on_this_body_are_counted_once_each():
    seen = [tile(n, mm=1.5, defects=["crawling"] * (n < 3)) for n in range(5)]
    two = [{"number": n, "layers": [{"glaze": "pond"}]} for n in (1, 2)]
    look = {"inspected_on": "2024-05-01", "defects": [{"defect": "crazing", "area": 2}]}
    others = [
        *seen,
        tile(10, areas=two, inspections=[look]),
        tile(11, mm=1.5, body="white clay", defects=["crawling"]),
        tile(12, mm=1.5, glaze="moss", defects=["crawling"]),
        tile(13, mm=1.5, inspections=[]),
    ]
    found = forecast(fit_records(others), tile(20, mm=1.5), 1, others=others)
    told = {each.defect: (each.alike_seen, each.alike_areas, each.alike_tiles) for each in found}
    assert (told["crawling"], told["crazing"], told["specks"]) == ((3, 7, 6), (1, 7, 6), (0, 7, 6))


def test_of_a_fault_that_comes_late_only_tiles_looked_at_late_are_counted():
    def looked(number, *days, crazed=False):
        looks = [{"inspected_on": day, "defects": []} for day in days]
        looks[-1]["defects"] = [{"defect": "crazing"}] if crazed else []
        fired = {"name": "F", "fired_on": "2024-01-01"}
        return tile(number, inspections=looks, firing=fired)

    early = [looked(n, "2024-01-02") for n in range(3)]
    late = [looked(9, "2024-01-02", "2024-07-01")]
    crazed = [looked(10 + n, "2024-01-02", "2024-07-01", crazed=True) for n in range(2)]
    others = [*early, *late, *crazed]
    of = {each.defect: each for each in forecast(fit_records(others), tile(20), 1, others=others)}
    assert (of["crazing"].alike_seen, of["crazing"].alike_areas) == (2, 3)
    assert "3 sound tiles, last looked at within 91 days, are left out" in (
        of["crazing"].alike_left_out
    )
    assert (of["specks"].alike_areas, of["specks"].alike_left_out) == (6, "")


def test_without_tiles_common_practice_alone_leans():
    model = fit_records([])
    thick = tile(1, mm=1.9)
    told = {each.defect: each for each in forecast(model, thick, 1)}
    assert all(each.chance is None for each in told.values())
    assert told["crawling"].leans == "more"
    assert "the coat was too thick" in told["crawling"].feared


@pytest.mark.parametrize(
    ("fact", "said"),
    [("coat", "coat 1.9 mm dry, as applied"), ("this glaze", "how pond does on your tiles"),
     ("this body", "how red clay does on your tiles"), ("no such fact", "the no such fact"),
     ("colour_beneath", "no underglaze, slip or oxide under the glaze"),
     ("label", "its label, cone 05 to 04")],
)  # fmt: skip
def test_facts_are_said_with_their_figures(fact, said):
    label = {"name": "pond", "cone_low": "05", "cone_high": "04"}
    # Set below its label and fired within it: what is good of that is not what it was set for.
    firing = {"name": "F1", "target_cone": "06"}
    record = tile(1, mm=1.9, glaze=label, firing=firing, cone_reached="05")
    assert said_of(fact, seen_from(record, 1), measures(record)) == said


def test_a_new_glaze_that_is_called_as_the_clay_is_new_all_the_same(studio):
    model, records = studio
    name = records[0].body.name
    assert (
        unlike(model, tile(1, glaze=name, body=name), 1)[0] == f"{name}: no inspected tile has it"
    )


@pytest.mark.parametrize("part", ["glaze", "body"])
def test_what_no_inspected_tile_has_drives_no_forecast(studio, part):
    """A forecast knows only that it is none of the others: nothing of how it does."""
    model, records = studio
    values = records[5].model_dump(exclude_none=True)
    glaze = values["areas"][0]["layers"][-1]["glaze"]
    {"glaze": glaze, "body": values["body"]}[part]["name"] = "never met"
    new = TileRecord.model_validate(values)
    facts = [f"this {part}"] + [f"{PAIR}{part}"] * (part in COMPANY)
    for record, met in ((records[5], True), (new, False)):
        table = model.learned.see([Row(record, 1)]).table
        assert [was_met(each, model.learned, table) for each in facts] == [met] * len(facts)


def test_far_values_and_new_glazes_are_unlike_and_usual_ones_are_not(studio):
    model, records = studio
    usual = next(
        each for each in records
        if each.areas[0].layers and each.areas[0].layers[-1].thickness_mm
    )  # fmt: skip
    number = usual.areas[0].number
    assert not any("thick" in each or "coat" in each for each in unlike(model, usual, number))
    odd = tile(1, mm=9.0, glaze="never met")
    told = unlike(model, odd, 1)
    assert told[:2] == [f"{name}: no inspected tile has it" for name in ("never met", "red clay")]
    assert any(each.startswith("coat 9 mm dry") for each in told)


def test_reliability_counts_every_held_back_area_once(studio):
    model, _ = studio
    defects = learned_defects(model)
    found = reliability(model, defects)
    inspected = sum(model.verdicts[defect].areas for defect in defects)
    assert sum(found.areas) == inspected
    assert found.forecast == sorted(found.forecast)
    assert all(0 <= share <= 1 for share in found.came)


@pytest.mark.slow
@pytest.mark.parametrize("split", ["glazes", "tiles"])
def test_the_last_point_of_the_curve_uses_all_other_tiles(studio, split, monkeypatch):
    # In whatever order the tiles come, the last point takes all of them: one order is enough.
    monkeypatch.setattr(learning_report, "ORDERS", 1)
    model, _ = studio
    defects = learned_defects(model)[:3]
    points = learning_curve(model, defects, split)
    assert [each.tiles for each in points][:2] == [20, 40]
    judged = [v for d, v in model.all_verdicts[split].items() if d in defects]
    base, own = (sum(v.log_loss[of] * v.areas for v in judged) for of in ("base rate", "model"))
    # Folds differ in size, so "most" leaves a few tiles of the larger training sides out.
    assert points[-1].yours == pytest.approx(1 - own / base, abs=0.08)


@pytest.mark.slow
def test_no_set_of_tiles_is_learned_from_twice_for_a_curve(studio, monkeypatch):
    model, _ = studio
    learned = []

    def learn(training, use, *how):
        learned.append(use.tobytes())
        return learn_seen(training, use, *how)

    monkeypatch.setattr(learning_report, "learn_seen", learn)
    assert learning_curve(model, learned_defects(model)[:1], "tiles")
    assert len(learned) == len(set(learned))


def test_a_handful_of_tiles_has_no_curve():
    assert learning_curve(fit_records([tile(n, mm=0.5) for n in range(12)]), ["crawling"]) == []


def test_lessons_are_said_once_and_none_is_small(studio):
    model, _ = studio
    for defect in learned_defects(model):
        told = lessons(model, defect)
        assert len({each.said for each in told}) == len(told) <= 3
        assert all(abs(each.move) >= 0.2 for each in told)


@pytest.mark.parametrize(("same_layers", "is_told"), [(0, True), (3, False)])
def test_what_came_over_another_colour_is_no_count_of_tiles_like_this_one(same_layers, is_told):
    """Honey crawled over moss and not over brick; only where brick was met is that known."""
    made = [("moss", "seen")] * 8 + [("brick", "none")] * 3 + [(None, "none")] * 5
    rows = [
        {"mark": f"U-{number}", "body": "red", "glaze": "honey", "coats": 2.0,
         "under_glaze": under, "under_glaze_role": "underglaze" if under else None,
         "under_coats": 2.0 if under else None, "inspected_on": "2026-03-02",
         "defect_crawling": seen} for number, (under, seen) in enumerate(made)
    ]  # fmt: skip
    others = row_records(pd.DataFrame(rows))
    over_brick = others[9].model_copy(update={"mark": "N", "inspections": []})
    over_brick = seen_from(over_brick, 1, "crawling")
    found = Forecast("crawling", LEARNED, 16, 8, "more", chance=0.3)
    told, likest = own_count([*others[:8], *others[11 - same_layers :]], over_brick)
    assert (told is not None and "like this one" in told.say) is is_told
    assert likest == (0, 0)
    assert counted(found, None) is found


def test_own_tiles_like_one_that_gainsay_its_chance_are_said_to():
    """Six of six did where the chance told was one in two; none of six where it was."""
    found = Forecast("colour shift", LEARNED, 40, 9, "more", chance=0.5, low=0.2, high=0.9)
    for failed, every, is_far in ((6, 6, True), (3, 6, False), (0, 4, False), (0, 6, True)):
        lesson = SimpleNamespace(here_failed=failed, here_all=every, say=f"{failed} of {every}",
                                 measure="shelf")  # fmt: skip
        told = counted(found, lesson)
        assert (told.own_count, told.own_count_is_far) == (lesson.say, is_far)
        likest = (0, 2) if failed else (2, 2)
        assert not counted(found, lesson, likest).own_count_is_far, "those nearest did otherwise"


@pytest.mark.parametrize(
    ("defect", "alike", "closest", "is_far"),
    [
        ("crazing", (7, 8, 8), (1, 1), True),
        ("crazing", (7, 8, 8), (0, 0), True),  # the fit of a glaze hangs on no coats
        ("crawling", (7, 8, 8), (0, 0), False),
        ("crawling", (7, 8, 8), (0, 4), False),  # in these coats it was sound
        ("crawling", (7, 8, 8), (4, 4), True),
        ("crawling", (9, 12, 3), (4, 4), False),  # on three tiles: no twelve
        ("crawling", (0, 40, 40), (0, 9), False),  # no danger: the chance stays
        ("crazing", (0, 0, 0), (0, 0), False),
        ("crazing", (16, 32, 32), (0, 0), False),  # about as often, as it is told
    ],
)
def test_own_tiles_of_a_glaze_and_clay_that_mostly_failed_go_before_a_low_chance(
    defect, alike, closest, is_far
):
    seen, areas, tiles = alike
    head = (defect, LEARNED, 40, 9, "more")
    made = {"alike_seen": seen, "alike_areas": areas, "alike_tiles": tiles}
    made |= {"closest_seen": closest[0], "closest_areas": closest[1]}
    found = Forecast(*head, chance=0.3, low=0.05, high=0.5, usual=0.1, **made)
    assert found.alike_is_far is is_far
    assert found.as_dict()["alike_is_far"] is is_far
    said = "\n".join(_one(found, 40))
    assert ("go by your tiles" in said) is is_far


def test_a_red_under_a_clear_set_over_its_own_label_is_feared_to_burn_out():
    red = {"name": "cherry red", "role": "underglaze", "colour": "red", "cone_high": "06"}
    clear = {"name": "clear", "finish": "clear", "cone_low": "06", "cone_high": "05"}
    layers = [{"glaze": red, "coats": 2}, {"glaze": clear, "coats": 1}]
    for cone, defect, first in (
        ("05", "colour shift", "cadmium-selenium"),
        ("06", "colour shift", None),
        ("05", "crazing", None),
    ):
        firing = {"name": "F", "kind": "glaze", "target_cone": cone}
        planned = tile(1, areas=[{"number": 1, "layers": layers}], firing=firing)
        planned = planned.model_copy(update={"inspections": []})
        rows = causes_over_label(seen_from(planned, 1, defect))
        assert bool(rows) is (first is not None)
        assert first is None or first in rows[0].cause.title


def test_a_tile_that_may_reach_one_cone_or_another_gets_the_mean_of_both_chances():
    head = ("underfired", LEARNED, 100, 15)
    cool = Forecast(*head, "more", 0.66, 0.16, 0.96, 0.15, closest_how="at cone 06")
    right = Forecast(*head, "less", 0.04, 0.0, 0.40, 0.15, closest_how="at cone 05")
    rare = Forecast("crazing", "seen too rarely", 100, 1, "as usual")
    feared = Forecast("crazing", "seen too rarely", 100, 1, "more", feared=["cold"])
    told = either([(0.5, "06", [cool, rare]), (0.5, "05", [right, feared])])
    assert [each.defect for each in told] == ["underfired", "crazing"]
    first = told[0]
    assert (first.chance, first.low, first.high) == pytest.approx((0.35, 0.08, 0.68))
    assert (first.leans, first.closest_how) == ("more", "at cone 06")
    assert first.by_cone == {"06": 0.66, "05": 0.04}
    assert told[1] == feared
    (mostly,) = either([(0.1, "06", [cool]), (0.9, "05", [right])])
    assert (mostly.chance, mostly.leans) == (pytest.approx(0.102), "less")
    (near,) = either([(0.2, "06", [cool]), (0.8, "05", [right])])
    assert near.leans == "as usual"
    assert either([(1.0, None, [right])]) == [right]

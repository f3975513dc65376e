import json
import re
import subprocess
import sys

import pytest

from diagnose import rules, wording
from diagnose.measures.usual_coat import usual_coats
from diagnose.report import why
from diagnose.unrecorded import most_telling
from tiles.errors import TilesError
from tiles.records import forms, words
from tiles.records.forms import TileRecord

JAR = {
    "name": "pond green",
    "kind": "jar",
    "role": "glaze",
    "finish": "gloss",
    "cone_low": "06",
    "cone_high": "04",
}


def tile(*defects, areas=(), days=("2025-03-03",), **fields):
    looks = [{"inspected_on": day} for day in days]
    if looks:
        looks[-1]["defects"] = list(defects)
    return TileRecord.model_validate(
        {"mark": "M-41", "body": "red", "areas": list(areas), "inspections": looks, **fields}
    )


def coat(number=1, **layer):
    return {"number": number, "layers": [{"glaze": JAR, **layer}]}


def test_a_thick_crawler_is_blamed_on_the_coat_with_its_own_figures():
    record = tile({"defect": "crawling", "severity": "severe"}, areas=[coat(thickness_mm=1.6)])
    (answer,) = why(record)
    first = answer.causes[0]
    assert answer.enough_to_tell
    assert first.name == "coat_too_thick"
    assert first.for_ == ["Coat 1.6 mm dry, as applied, usual 0.5 to 1.0 mm."]
    assert "the coat was too thick" in answer.say
    assert first.confirm
    assert first.fixes


def test_crazing_that_came_weeks_later_is_not_blamed_on_the_coat():
    record = tile(
        {"defect": "crazing"},
        areas=[coat(thickness_mm=1.4, coats=4)],
        days=("2025-03-03", "2025-06-03"),
        firing={"name": "F", "fired_on": "2025-03-02"},
        body={"name": "white", "absorption_pct": 14.5},
    )
    (answer,) = why(record)
    by_name = {cause.name: cause for cause in answer.causes}
    assert answer.causes[0].name == "moisture_expansion"
    thick = by_name["coat_too_thick"]
    assert thick.share < 0.05
    assert thick.is_ruled_out
    assert thick.fixes == []
    assert any("93 days after the firing" in text for text in thick.against)


def test_an_empty_record_is_not_enough_to_tell_and_says_what_to_find_out():
    for defect in words.DEFECTS:
        (answer,) = why(tile({"defect": defect}))
        assert not answer.enough_to_tell
        assert all(not cause.for_ and not cause.against for cause in answer.causes)
    (answer,) = why(tile({"defect": "crawling"}))
    assert answer.say.startswith("Not enough recorded to tell why it crawled. To find out:")


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_every_defect_of_the_list_has_causes_to_choose_from(defect):
    (answer, *_rest) = why(tile({"defect": defect}))
    assert len(answer.causes) > 5
    assert sum(cause.share for cause in answer.causes) == pytest.approx(1)


def test_the_json_has_just_the_documented_keys():
    record = tile({"defect": "crawling"}, areas=[coat(thickness_mm=1.6)])
    shown = json.loads(json.dumps(why(record)[0].as_dict()))
    assert list(shown) == [
        "defect",
        "severity",
        "areas",
        "first_seen",
        "enough_to_tell",
        "say",
        "causes",
        "is_fault",
        "look_alike",
        "instead_of",
        "from_notes",
        "also_explains",
        "handling",
        "twins",
        "sister",
        "since",
        "all_glazes",
        "together",
        "leaching",
    ]
    assert list(shown["causes"][0]) == [
        "title",
        "share",
        "for",
        "against",
        "not_recorded",
        "confirm",
        "fixes",
        "cautions",
        "basis",
        "practice_share",
        "own_log_odds",
        "your_tiles",
    ]
    assert shown["first_seen"] == "2025-03-03"
    assert shown["areas"] == [1]
    assert sum(cause["share"] for cause in shown["causes"]) == pytest.approx(1, abs=0.02)


def test_causes_come_in_order_of_their_share():
    shares = [c.share for c in why(tile({"defect": "crazing"}))[0].causes]
    assert shares == sorted(shares, reverse=True)


def test_the_worst_defect_is_explained_first_and_one_can_be_chosen():
    seen = (
        {"defect": "pinholes", "severity": "slight"},
        {"defect": "crawling", "severity": "severe"},
    )
    assert [each.defect for each in why(tile(*seen))] == ["crawling", "pinholes"]
    assert [each.defect for each in why(tile(*seen), "pinholes")] == ["pinholes"]


@pytest.mark.parametrize(
    ("record", "defect", "message"),
    [
        (tile(days=()), None, "M-41 is not inspected"),
        (tile(), None, "M-41 is clean"),
        (tile({"defect": "crazing"}), "crawling", "No inspection of M-41 saw crawling. Try: one "),
    ],
)
def test_what_cannot_be_explained_is_refused_with_a_remedy(record, defect, message):
    with pytest.raises(TilesError, match=message) as caught:
        why(record, defect)
    assert caught.value.hint


def test_a_jar_is_never_given_a_change_of_recipe():
    record = tile({"defect": "crazing"}, areas=[coat(coats=3)])
    texts = [fix for cause in why(record)[0].causes for fix in cause.fixes]
    assert not [text for text in texts if "feldspar" in text or text.startswith("Own recipe")]
    own = {**JAR, "kind": "recipe"}
    record = tile({"defect": "crazing"}, areas=[{"number": 1, "layers": [{"glaze": own}]}])
    texts = [fix for cause in why(record)[0].causes for fix in cause.fixes]
    assert [text for text in texts if "feldspar" in text]
    assert not [text for text in texts if text.startswith("Jar")]


def test_a_crackle_glaze_is_said_not_to_be_a_fault():
    glaze = {**JAR, "finish": "crackle"}
    record = tile({"defect": "crazing"}, areas=[{"number": 1, "layers": [{"glaze": glaze}]}])
    assert why(record)[0].say.startswith("Not a fault:")


def test_an_explanation_loads_no_heavy_library():
    code = (
        "import sys\n"
        "from tiles.records.forms import TileRecord\n"
        "from diagnose.report import why\n"
        "record = TileRecord.model_validate({'mark': 'T', 'body': 'b', 'inspections': "
        "[{'inspected_on': '2025-03-03', 'defects': [{'defect': 'crawling'}]}]})\n"
        "assert why(record)\n"
        "print(*sorted({'numpy', 'pandas', 'scipy', 'sklearn', 'sqlmodel'} & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""


def _shifted(reached, *, colour=None, **changes):
    glaze = {"name": "moss", "kind": "jar", "cone_low": "06", "cone_high": "04"}
    values = {
        "firing": {"name": "F", "target_cone": "05"},
        "cone_reached": reached,
        "bisque_cone": "04",
        "areas": [coat(glaze=glaze | ({"colour": colour} if colour else {}), coats=3)],
    }
    return values | changes


def test_a_colour_that_is_not_recorded_is_not_taken_for_red():
    for reached in ("03", "02", "1"):
        first = why(tile({"defect": "colour shift"}, **_shifted(reached)))[0].causes[0]
        assert first.name == "overfired", reached
    red = why(tile({"defect": "colour shift"}, **_shifted("02", colour="red")))[0].causes[0]
    assert red.name == "red_burnt_out"


def test_a_red_two_cones_over_is_burnt_out_before_it_is_starved_of_air():
    clues = {"label_sensitive_red": "yes", "glaze_kiln_unvented": "yes"}
    record = tile({"defect": "colour shift"}, **_shifted("03", colour="red", clues=clues))
    assert why(record)[0].causes[0].name == "red_burnt_out"


def test_a_kiln_over_its_cone_is_not_blamed_on_the_bisque():
    for reached, first in (("03", "overfired"), ("02", "overfired"), ("5", "cone_mix_up")):
        for defect in ("pinholes", "blisters"):
            (answer,) = why(tile({"defect": defect}, **_shifted(reached)))
            assert answer.causes[0].name == first, (defect, reached)


def test_a_copper_red_in_an_electric_kiln_is_no_cadmium_red():
    """Copper reds need reduction (Hamer, from memory)."""
    base = {"soda feldspar": 40, "whiting": 14, "silica": 28, "kaolin": 6, "high alkali frit": 12}
    lines = [{"material": key, "parts": parts} for key, parts in base.items()]
    lines += [{"material": "copper carbonate", "parts": 0.5, "is_addition": True}]
    glaze = {"name": "oxblood", "kind": "recipe", "colour": "red", "cone_high": "6"}
    area = coat(glaze=glaze, recipe={"lines": lines})
    firing = {"name": "F", "target_cone": "6", "atmosphere": "oxidation"}
    record = tile({"defect": "colour shift"}, areas=[area], firing=firing, cone_reached="6")
    causes = why(record)[0].causes
    assert causes[0].name == "copper_red_in_air"
    assert {"red_burnt_out", "red_unvented"}.isdisjoint(each.name for each in causes[:3])


def test_a_recipe_with_hardly_any_flux_is_blamed_whatever_its_silica_to_alumina():
    """Potash feldspar 45, kaolin 10, silica 28: near 15 silica to one of flux."""
    lines = [("potash feldspar", 45), ("kaolin", 10), ("silica", 28)]
    recipe = {"lines": [{"material": name, "parts": parts} for name, parts in lines]}
    glaze = {"name": "temmoku", "kind": "recipe", "finish": "gloss"}

    def diagnosed():
        areas = [coat(glaze=glaze, recipe=recipe)]
        firing = {"name": "F3", "target_cone": "6"}
        (answer,) = why(
            tile({"defect": "underfired"}, areas=areas, firing=firing, cone_reached="6")
        )
        return answer.causes

    first = diagnosed()[0]
    assert first.name == "refractory_recipe"
    assert "so little flux for its silica" in first.for_[0]
    assert not any("much alumina" in each for each in first.against)
    recipe["lines"].append({"material": "whiting", "parts": 17})
    whole = next(each for each in diagnosed() if each.name == first.name)
    assert whole.share < 0.2
    assert not any("Silica" in each for each in whole.for_)


def coat_too_thick(defect, layer):
    """The answer for a tile of one layer, and what it says of too thick a coat."""
    seen = {"inspected_on": "2024-05-01", "defects": [{"defect": defect}]}
    record = forms.TileRecord.model_validate(
        {"mark": "T-1", "body": "red", "areas": [{"number": 1, "layers": [layer]}],
         "inspections": [seen]}
    )  # fmt: skip
    (found,) = why(record)
    return found, next(each for each in found.causes if each.name == "coat_too_thick")


@pytest.mark.parametrize(
    ("method", "coats", "is_one_dip"),
    [("dip", None, True), ("pour", 1, True), ("dip", 2, False), ("brush", None, False)],
)
def test_of_a_tile_that_was_dipped_once_no_coats_are_counted(method, coats, is_one_dip):
    layer = {"glaze": "pond", "method": method, "coats": coats, "thickness_mm": 1.6}
    found, told = coat_too_thick("crawling", layer)
    said = " ".join((*told.fixes, *told.confirm))
    assert ("A thinner slop, or a shorter dip or pour" in said) == is_one_dip
    assert ("Dip or pour three bands of one tile" in said) == (method != "brush")
    assert ("one coat less" in said.casefold()) == (method == "brush")
    assert ("One dip or pour less" in said) == (method == "dip" and coats == 2)
    asked = most_telling(found.case.rows, found.case.facts, how_many=99)
    assert "coats" not in asked or not is_one_dip


@pytest.mark.parametrize(
    ("label", "usual"),
    [
        ({"name": "studio clear"}, 2),
        ({"name": "pool", "colour": "transparent"}, 2),
        ({"name": "pool", "finish": "clear"}, 2),
        ({"name": "studio clear", "finish": "matt"}, 3),
        ({"name": "clear matt"}, 3),
        ({"name": "pool"}, 3),
    ],
)
def test_a_clear_has_the_usual_coats_of_one_by_finish_or_by_name(label, usual):
    assert usual_coats(forms.GlazeRecord.model_validate(label)) == usual


@pytest.mark.parametrize(("method", "speaks"), [("dip", 1), ("pour", 1), ("brush", -1)])
def test_a_clear_dipped_twice_is_thick_and_brushed_twice_is_usual(method, speaks):
    layer = {"glaze": {"name": "pool", "finish": "clear"}, "coats": 2, "method": method}
    _found, told = coat_too_thick("cloudiness", layer)
    speaking = told.for_ if speaks > 0 else told.against
    assert any(each.startswith("2 coats, usual") for each in speaking)
    assert ("One short dip or pour of clear: 0.3" in " ".join(told.fixes)) == (speaks > 0)
    assert ("Two thin coats" in " ".join(told.fixes)) == (speaks < 0)


def test_the_usual_coats_of_the_signs_are_those_of_the_steps():
    for defect in words.DEFECTS:
        for cause in rules.load(defect).causes:
            for sign in cause.signs:
                if sign.measure == "coats" and sign.only.get("method") == ("dip", "pour"):
                    assert sign.usual.startswith(f"{usual_coats(None, 'dip')} ")
                    assert sign.against_fully == usual_coats(None, "dip") < sign.counts_from < 2


def test_whatever_counts_coats_less_or_more_is_worded_for_a_slop():
    counting = re.compile(
        r"\bcoats? (?:less|more)\b|\bmore coats?\b|one, two and three coats", re.I
    )
    told = [
        each.say.removeprefix("Jar: ")
        for defect in words.DEFECTS
        for cause in rules.load(defect).causes
        for each in (*cause.fixes, *cause.confirm)
        if "coats" in each.changes or "one, two and three" in each.say
    ]
    counted = [each for each in told if counting.search(each)]
    assert counted
    assert [each for each in map(wording.as_dipped, counted) if counting.search(each)] == []


@pytest.mark.parametrize(("kind", "is_asked"), [("jar", False), ("recipe", True)])
def test_of_a_bought_jar_no_recipe_is_asked(kind, is_asked):
    red = {"name": "coral", "kind": kind, "role": "glaze", "colour": "red"}
    record = tile({"defect": "colour shift"}, areas=[{"number": 1, "layers": [{"glaze": red}]}])
    (found,) = why(record)
    told = [each for cause in found.causes for each in cause.not_recorded]
    assert any("record the recipe" in each for each in told) is is_asked


def test_the_first_fix_of_a_jar_that_dried_out_puts_back_the_gum_it_lacks():
    """Common practice, no source: water alone leaves a revived glaze short of gum."""
    batch = {"name": "revived", "is_revived": True}
    (answer,) = why(tile({"defect": "crawling"}, areas=[coat(batch=batch)]))
    first = answer.causes[0]
    assert first.name == "revived_jar"
    assert "gum" in first.title and "% gum" in first.fixes[0]

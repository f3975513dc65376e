"""``tiles forecast`` on the sample: chances with ranges, and what drives them."""

import json
import re
import shutil
from dataclasses import replace

import pytest

from diagnose import learner
from diagnose.learning.validate import LEAST_GAIN
from tests.cli.records import assert_one_line_error
from tests.conftest import ROOT
from tiles.cli.main import run
from tiles.records.bare_clay import OF_A_GLAZE


@pytest.fixture(scope="module")
def learned_template(sample_template, tmp_path_factory):
    """The sample database with what was learned of it beside it."""
    file = tmp_path_factory.mktemp("learned") / "sample.db"
    shutil.copyfile(sample_template, file)
    with pytest.raises(SystemExit) as ended:
        run(["learn", "--db", str(file)])
    assert ended.value.code == 0
    return file


@pytest.fixture
def sample(learned_template, sample):
    """As everywhere, and already learned; what changes the records makes it learn anew."""
    kept = sample.with_name("sample-learned.json")
    shutil.copyfile(learned_template.with_name(kept.name), kept)
    return sample


def test_a_mark_of_two_words_needs_no_quotes_unless_each_is_a_tile_too(sample, tiles):
    made = ("--body", "red earthenware", "--glaze", "pond green", "--coats", "2", "--yes")
    assert tiles("log", "--mark", "mug 12", *made).code == 0
    ran = tiles("forecast", "mug", "12", "--all")
    assert (ran.code, ran.out) == (0, tiles("forecast", "mug 12", "--all").out)
    for mark in ("mug", "12"):
        assert tiles("log", "--mark", mark, *made).code == 0
    assert_one_line_error(tiles("forecast", "mug", "12"), "'mug 12' is on record, and so are")


def test_a_thick_coat_of_the_glaze_that_crawls_is_the_likelier_to_crawl(sample, tiles):
    def chance(thickness_mm):
        ran = tiles("forecast", "--body", "red earthenware", "--glaze", "pond green",
                    "--thickness-mm", thickness_mm, "--cone", "05")  # fmt: skip
        assert ran.code == 0, ran.err
        few, many = re.search(r"^crawling +(\d+) in (\d+)", ran.out, re.M).groups()
        return int(few) / int(many)

    assert chance("1.6") > 2 * chance("0.8")


def test_what_is_near_the_usual_is_told_without_the_usual_chance(sample, tiles):
    told = " ".join(tiles("forecast", "M-41").out.split())
    near = told.partition("About as likely as on your tiles in general: ")[2].partition(".")[0]
    assert re.fullmatch(r"([a-z ]+ \((under )?\d+ in \d+\)(, | and )?)+", near)


def test_what_is_near_the_usual_is_told_in_full_where_it_is_asked_for(sample, tiles):
    told = " ".join(tiles("forecast", "M-41").out.split())
    near = re.search(r"About as likely as on your tiles in general: ([a-z ]+) \(", told)[1]
    for asked in (("--defect", near), ("--all",)):
        ran = " ".join(tiles("forecast", "M-41", *asked).out.split())
        one = r"((?:under )?\d+ in \d+)"
        chance, usual = re.search(
            rf" {near} {one} \([^;]+; on your tiles in general {one}\)", ran
        ).groups()
        assert chance == usual


def test_every_driver_says_what_it_is_about(sample, tiles):
    for mark in ("M-41", "M-53", "M-17"):
        ran = tiles("forecast", mark)
        assert ran.code == 0, ran.err
        assert not re.search(r"^ +[-+] +:", ran.out, re.M)


def test_a_forecast_of_a_retired_glaze_says_that_it_is_retired(fresh, tiles):
    log = ("log", "--mark", "T-1", "--body", "red", "--glaze", "moss", "--add-missing", "--clean")
    assert tiles(*log).code == 0
    asked = ("forecast", "--body", "Red", "--glaze", "Moss")
    assert "retired" not in tiles(*asked).err
    assert tiles("glaze", "retire", "moss").code == 0
    told = "Note: 'moss' is retired.\n"
    assert tiles(*asked).err == tiles("forecast", "T-1").err == told
    assert tiles("body", "retire", "red").code == 0
    assert tiles(*asked).err == "Note: 'red', 'moss' are retired.\n"
    assert tiles(*asked, "--json").err == ""


def test_no_chance_is_invented_from_a_handful_of_tiles(fresh, tiles):
    assert tiles("body", "add", "red").code == 0
    assert tiles("glaze", "add", "moss").code == 0
    for number in range(4):
        tiles("log", "--mark", f"T-{number}", "--body", "red", "--glaze", "moss", "--clean")
    ran = tiles("forecast", "--body", "red", "--glaze", "moss")
    assert not re.search(r"\d in \d", ran.out)


def test_a_glaze_that_is_not_on_record_is_one_line(sample, tiles):
    assert_one_line_error(tiles("forecast", "--body", "red earthenware", "--glaze", "no such"))


def found(tiles, *options):
    ran = tiles("forecast", *options, "--json")
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


PLANNED = ("--body", "red earthenware", "--glaze", "pond green", "--coats", 3, "--cone", "05")


def test_every_chance_has_a_range_and_a_state(sample, tiles):
    for each in found(tiles, *PLANNED)["areas"][0]["forecasts"]:
        if each["state"] == "learned":
            assert each["low"] < each["chance"] < each["high"]
            assert 0 < each["usual"] < 1
        else:
            assert (each["chance"], each["low"], each["high"]) == (None, None, None)


def test_a_fault_no_better_forecast_than_by_guessing_for_a_new_glaze_is_told_of_known_ones(
    sample, tiles
):
    tiles("glaze", "add", "new moss")
    learned = json.loads(tiles("learn", "--json").out)["defects"]
    (crawling,) = [each for each in learned if each["defect"] == "crawling"]
    apart = crawling["glazes_kept_apart"]["log_loss"]
    assert apart["model"] > (1 - LEAST_GAIN) * apart["base rate"]
    of = ("--defect", "crawling", "--body", "red earthenware")
    (new,) = found(tiles, *of, "--glaze", "new moss")["areas"][0]["forecasts"]
    assert (new["state"], new["chance"]) == ("not clearly better than guessing", None)
    (known,) = found(tiles, *of, "--glaze", "pond green")["areas"][0]["forecasts"]
    assert known["state"] == "learned" and known["chance"] > 2 * known["usual"]
    own = json.loads(
        tiles("find", "--glaze", "pond green", "--body", "red earthenware", "--json").out
    )
    crawled = {each["mark"] for each in own if "crawling" in json.dumps(each)}
    assert known["alike_seen"] <= len(crawled)
    text = " ".join(tiles("forecast", *of, "--glaze", "pond green").out.split())
    unit = "tiles" if known["alike_areas"] == known["alike_tiles"] else "areas"
    assert f"on {known['alike_seen']} of your {known['alike_areas']} {unit} of this glaze" in text


def test_a_tile_on_record_is_not_learned_from_itself(sample, tiles):
    (all_tiles,) = json.loads(tiles("learn", "--defect", "crawling", "--json").out)["defects"]
    (without,) = found(tiles, "M-41", "--defect", "crawling")["areas"][0]["forecasts"]
    counted = (without["inspected"], without["seen"])
    assert counted == (all_tiles["inspected"] - 1, all_tiles["seen"] - 1)
    assert "M-41 itself was left out" in tiles("forecast", "M-41").out


def test_tiles_that_nobody_looked_at_share_what_is_learned_once(sample, tiles, monkeypatch):
    fits = []

    def counted(records, fit=learner.fit_records):
        fits.append(len(records))
        return fit(records)

    monkeypatch.setattr(learner, "fit_records", counted)
    plan = ("plan", "--body", "red earthenware", "--glaze", "pond green", "--yes", "--first-mark")
    for mark in ("Z-1", "Z-2"):
        assert tiles(*plan, mark).code == 0
    for marks, many in ((("Z-1", "Z-2"), 1), (("Z-1",), 0)):
        fits.clear()
        assert tiles("forecast", *marks, "--defect", "crawling").code == 0
        assert len(fits) == many, marks


def test_a_tile_with_areas_is_forecast_area_by_area(sample, tiles):
    areas = found(tiles, "M-19")["areas"]
    assert [each["area"] for each in areas] == [1, 2]


def test_three_areas_fit_a_screen_and_what_is_true_of_all_is_said_once(sample, tiles, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    lines = tiles("forecast", "M-102").out.splitlines()
    told = " ".join(" ".join(lines).split())
    assert len(lines) <= 30 and sum(f"M-102, area {at}: " in told for at in (1, 2, 3)) == 3
    assert told.count("other faults can come too") == 1
    assert "No forecast shows that a glaze is safe for food." in told
    assert len(re.findall(r"crawling \d in \d", told)) == told.count("; in general 1 in ") == 3


def test_what_was_never_met_is_said(sample, tiles):
    usual = found(tiles, *PLANNED, "--thickness-mm", "0.9")["areas"][0]
    odd = found(tiles, *PLANNED, "--thickness-mm", "4")["areas"][0]
    assert usual["unlike"] == []
    assert any(each.startswith("coat 4 mm dry") for each in odd["unlike"])
    tiles("glaze", "add", "new jar", "--kind", "jar", "--role", "glaze")
    new = found(tiles, "--body", "red earthenware", "--glaze", "new jar")["areas"][0]
    assert "new jar: no inspected tile has it" in new["unlike"]


def test_the_kept_model_gives_the_forecast_that_was_learned(sample, tiles):
    kept = sample.with_name("sample-learned.json")
    kept.unlink()
    first = tiles("forecast", *PLANNED, "--json").out
    assert kept.is_file()
    again = json.loads(tiles("forecast", *PLANNED, "--json").out)
    for one, other in zip(json.loads(first)["areas"][0]["forecasts"],
                          again["areas"][0]["forecasts"], strict=True):  # fmt: skip
        assert (one["defect"], one["state"]) == (other["defect"], other["state"])
        if one["chance"] is not None:
            assert one["chance"] == pytest.approx(other["chance"], abs=1e-3)


def test_a_tile_or_a_plan_is_needed_not_both(sample, tiles):
    assert_one_line_error(tiles("forecast"), "nothing was said of what to forecast")
    assert_one_line_error(tiles("forecast", "M-41", "--coats", 2), "not both")
    assert_one_line_error(tiles("forecast", "--coats", 2), "needs a body and a glaze")
    assert_one_line_error(tiles("forecast", *PLANNED, "--thickness-mm", "-1"), "thickness_mm")
    two = ("--body", "red earthenware", "--glaze", "pond green=3", "--coats", 2)
    assert_one_line_error(tiles("forecast", *two), "given 3 coats and 2")


def test_cloudiness_is_feared_of_a_clear_glaze_or_one_of_unknown_finish_alone(sample, tiles):
    tiles("glaze", "add", "new jar")
    of = ("--body", "red earthenware", "--coats", 4, "--thickness-mm", "1.6", "--cone", "05")
    feared = {}
    for glaze in ("studio clear", "new jar", "pond green"):
        asked = found(tiles, *of, "--glaze", glaze, "--defect", "cloudiness")
        feared[glaze] = asked["areas"][0]["forecasts"][0]["feared"]
    assert "the clear coat was too thick" in feared["studio clear"]
    assert feared["new jar"]
    assert feared["pond green"] == []


def test_asking_with_a_kept_model_loads_no_learning_library(sample, tiles):
    import subprocess
    import sys

    code = (
        "import sys\nfrom tiles.cli.main import run\ntry:\n    run(sys.argv[1:])\n"
        "except SystemExit:\n    pass\n"
        "print([m for m in ('sklearn', 'pandas', 'matplotlib') if m in sys.modules])"
    )
    asked = [sys.executable, "-c", code, "forecast", *map(str, PLANNED)]
    done = subprocess.run(asked, capture_output=True, text=True, cwd=ROOT, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_coat_and_coats_belong_to_the_glaze_and_not_to_a_wash_over_it(sample, tiles):
    of = ("--body", "red earthenware", "--glaze", "pond green", "--thickness-mm", "1.6",
          "--coats", 3, "--defect", "crawling", "--json")  # fmt: skip
    (bare,) = json.loads(tiles("forecast", *of).out)["areas"][0]["forecasts"]
    ran = tiles("forecast", *of, "--glaze", "iron wash")
    (washed,) = json.loads(ran.out)["areas"][0]["forecasts"]
    assert "coat 1.6 mm dry, as applied" in [each["said"] for each in washed["drivers"]]
    assert washed["chance"] == pytest.approx(bare["chance"], abs=0.15)


# What comes of it: common practice, no source.
@pytest.mark.parametrize(
    ("tile", "told"),
    [
        (("red earthenware", "rain blue", "5"), ["far above cone 04", "elements. Was 05 meant?"]),
        (("red earthenware", "rain blue", "9"), ["far above cone 04", "Is the cone right?"]),
        (("buff stoneware", "mid clear", "05"), ["far below cone 5", "food. Was 5 meant?"]),
    ],
)
def test_a_firing_for_another_band_is_stopped_and_gets_no_chances(sample, tiles, tile, told):
    body, glaze, cone = tile
    ran = tiles("forecast", "--body", body, "--glaze", glaze, "--cone", cone)
    said = " ".join(ran.out.split())
    for part in ("Stop: Target cone", *told, "No chances are told"):
        assert part in said
    assert not re.search(r"\d in \d", ran.out)
    as_json = json.loads(tiles("forecast", "--body", body, "--glaze", glaze, "--cone", cone,
                               "--json").out)  # fmt: skip
    assert as_json["areas"][0]["stop"] and not as_json["areas"][0]["forecasts"]


def test_a_cone_over_the_label_of_a_layer_is_said_as_load_says_it(sample, tiles):
    of = ("forecast", "--body", "red earthenware", "--glaze", "rain blue", "--cone")
    assert "Note: cone 03 is above the top of the label of rain blue (cone" in tiles(*of, "03").err
    for within_or_stopped in ("05", "5"):
        assert "above the top" not in tiles(*of, within_or_stopped).err


def test_a_glaze_and_a_clay_without_a_common_cone_are_stopped_without_one_given(sample, tiles):
    of = ("--body", "red earthenware", "--glaze", "mid clear")
    said = " ".join(tiles("forecast", *of).out.split())
    assert "Stop: Glaze 'mid clear' (cone 5 to 6) and body 'red earthenware' (cone" in said
    assert "mature far apart. Another glaze or another clay. No chances are told" in said
    assert "Stop" not in tiles("forecast", *of[:3], "rain blue").out


def test_a_peak_far_outside_a_label_is_stopped(sample, tiles):
    assert tiles("firing", "add", "P1", "--peak-c", "1040").code == 0
    log = ("log", "--mark", "Q-3", "--body", "buff stoneware", "--firing", "P1", "--yes")
    assert tiles(*log, "--glaze", "mid clear").code == 0
    said = " ".join(tiles("forecast", "Q-3").out.split())
    assert "Stop: Peak 1040 C / 1904 F of P1 is far below cone 4" in said
    assert "Is the peak right?" in said


def test_a_bisque_far_over_the_clay_is_stopped_too(sample, tiles):
    ran = tiles("forecast", "--body", "red earthenware", "--glaze", "rain blue", "--cone", "05",
                "--bisque-cone", "6")  # fmt: skip
    assert "Stop: Bisque cone 6" in ran.out


def test_a_firing_within_the_labels_is_not_stopped(sample, tiles):
    ran = tiles("forecast", "M-41", "--json")
    assert json.loads(ran.out)["areas"][0]["stop"] == []
    assert "Stop" not in tiles("forecast", "M-41").out


def test_which_tiles_could_not_tell_of_a_late_fault_is_said_with_what_the_chance_is_of():
    from diagnose.forecasts.of_tile import Forecast
    from tiles.cli.forecast_text import _one

    left_out = "Half of the crazing was seen by 180 days after the firing: 3 are left out."
    told = Forecast("crazing", "learned", 30, 5, "more", 0.2, 0.1, 0.3, 0.1)
    assert not any("mostly look" in line for line in _one(told, 30))
    text = " ".join(" ".join(_one(replace(told, alike_left_out=left_out), 30)).split())
    assert f"{left_out} The chance is that of seeing it by the time you mostly look" in text


def test_of_one_fault_that_was_asked_for_the_counts_are_told_even_where_it_never_came(
    sample, tiles
):
    given = ("--body", "red earthenware", "--glaze", "pond green=2", "--cone", "05")
    alone = tiles("forecast", *given, "--defect", "bloating").out
    assert "bloating: on none of your" in " ".join(alone.split())
    assert "bloating: on none" not in " ".join(tiles("forecast", *given).out.split())


@pytest.mark.parametrize(
    ("options", "what"),
    [
        (["--glaze", "pond green@2"], "glaze 'pond green@2'"),
        (["--glaze", "pond green", "--glaze", "studio clear=2@2"], "glaze 'studio clear=2@2'"),
        (["--glaze", "pond green", "--clue", "pools_only=yes@3"], "clue 'pools_only=yes@3'"),
    ],
)
def test_a_tile_that_is_described_has_one_area(sample, tiles, options, what):
    ran = tiles("forecast", "--body", "red earthenware", *options)
    assert_one_line_error(ran, what, "one area")


def test_of_several_tiles_each_has_a_line_with_what_stands_out_in_the_order_given(sample, tiles):
    marks = ["M-41", "M-1"]
    ran = tiles("forecast", "M-41", "M-1..M-1")
    assert ran.code == 0, ran.err
    assert re.findall(r"^(M-\d+) ", ran.out, re.M) == marks
    told = " ".join(ran.out.split())
    assert re.search(r"M-41 red earthenware, pond green x3, 1\.6 mm: crawling \d+ in \d+[;.]", told)
    assert "tiles forecast M-41. No forecast shows that a glaze is safe for food." in told
    alone = found(tiles, "M-41")
    first, last = found(tiles, *marks)
    assert (first["mark"], last["mark"]) == ("M-41", "M-1")
    assert first == alone
    ran = tiles("forecast", *marks, "--defect", "crazing")
    assert len(re.findall(r": crazing (?:under )?\d+ in \d+\.", " ".join(ran.out.split()))) == 2


def test_several_tiles_are_not_told_in_full_and_an_unknown_mark_is_named(sample, tiles):
    assert_one_line_error(tiles("forecast", "M-1", "M-2", "--all"), "--all is for one tile")
    assert_one_line_error(tiles("forecast", "M-1", "M-9999"), "M-9999")


def test_of_bare_clay_no_fault_is_forecast_that_only_a_glaze_can_have(sample, tiles):
    told = " ".join(tiles("forecast", "M-67", "--all").out.split())
    assert "No glaze is on record here: only faults that bare clay can have are told." in told
    assert "bloating" in told
    assert not [each for each in OF_A_GLAZE if each in told]
    told = " ".join(tiles("forecast", "M-67", "--defect", "crazing").out.split())
    assert "The one asked for is not among them." in told and " in 10" not in told
    told = tiles("forecast", "M-67", "M-172", "--defect", "crazing").out
    assert "M-67   red earthenware, no glaze: only a glaze can have it." in told
    assert "M-172  red earthenware, pond green x2, 0.6 mm: crazing 1 in" in told

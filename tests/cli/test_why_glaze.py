"""``tiles why --glaze`` on the sample: the failing tiles beside the sound ones."""

import json
import re
import shlex
from dataclasses import replace

import pytest

from diagnose.comparing.over_tiles import over_tiles
from diagnose.report import why
from tests.cli.records import assert_one_line_error
from tests.conftest import ROOT
from tests.unit.diagnose.test_over_tiles import tile
from tests.unit.diagnose.test_own_jar import BESIDE, DRY_JAR
from tiles.cli import why_counts, why_screen
from tiles.cli.why_glaze import _lines, _set_apart
from tiles.records.forms import LayerRecord


def test_the_failing_are_set_beside_the_sound_and_the_causes_pooled(sample, tiles):
    told = " ".join(tiles("why", "--glaze", "pond green", "--defect", "crawling").out.split())
    assert told.startswith("Crawling on ")
    assert re.search(
        r"coats( of pond green)? or fewer: 0 of \d+ tiles crawled; with 3 or more: \d+ of", told
    )
    assert "A tile with areas on both sides counts on both. Chance:" in told
    assert told.casefold().count("with a dry coat of") == 1
    assert "chance would do this less than 1 time in 1000" in told
    assert "By common practice and the first count above, on " in told
    assert "The coat was too thick, first on" in told


def test_a_fault_without_a_word_of_its_own_comes_last_and_is_told_by_its_words(fresh, tiles):
    for at, seen in enumerate(
        ["other (smeared)", "other (Smeared)", "other (chipped)", "crawling"]
    ):
        made = ("--body", "red", "--glaze", "toffee=2", "--add-missing")
        assert tiles("log", "--mark", f"Q-{at}", *made, "--defect", seen).code == 0
    told = " ".join(tiles("why", "--glaze", "toffee").out.split())
    assert told.startswith("Crawling on 1 of 4 tiles of toffee")
    assert told.endswith("Other faults of it, by tiles: other on 3 (--defect other). 'other' comes "
                         "last, as it may be several faults.")  # fmt: skip
    told = " ".join(tiles("why", "--glaze", "toffee", "--defect", "other").out.split())
    said = "These are several faults, so what parts them tells little: smeared on 2, chipped on 1."
    assert said in told
    assert "several faults" not in tiles("why", "--glaze", "toffee", "--defect", "crawling").out
    rows = json.loads(tiles("next", "--json").out)
    faults = [(each["defect"], each["words"]) for each in rows]
    assert faults[0] == ("crawling", None)
    assert {*faults[1:]} <= {("other", "smeared"), ("other", "chipped")}
    assert "toffee: another fault (smeared) on 2 of 4 tiles" in tiles("next").out


def test_all_tells_every_difference(sample, tiles):
    ask = ("why", "--glaze", "pond green", "--defect", "crawling")
    assert len(tiles(*ask, "--all").out) > len(tiles(*ask).out)


def test_the_json_has_the_documented_keys(sample, tiles):
    ran = tiles("why", "--glaze", "POND GREEN", "--defect", "crawling", "--json")
    told = json.loads(ran.out)
    assert told["glaze"] == "pond green"
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    keys = {*told, *told["differences"][0], *told["causes"][0]}
    assert not [key for key in keys if f"`{key}`" not in readme]


def of_batches(tiles, tmp_path, batches, defects):
    """Tiles of one glaze from some batches, each with its fault or none."""
    records = [
        {
            "mark": f"Q-{at}",
            "body": {"name": "red clay", "kind": "earthenware"},
            "stood": "flat" if at == 0 else None,
            "areas": [{"number": 1, "layers": [{"glaze": {"name": "toffee", "kind": "jar"},
                       **({"batch": {"name": batch}} if batch else {})}]}],
            "inspections": [{"inspected_on": "2026-01-01",
                             "defects": [{"defect": "colour shift"}] if failed else []}],
        }
        for at, (batch, failed) in enumerate(zip(batches, defects, strict=True))
    ]  # fmt: skip
    file = tmp_path / "toffee.json"
    file.write_text(json.dumps(records))
    ran = tiles("import", file)
    assert ran.code == 0, ran.err
    return " ".join(tiles("why", "--glaze", "toffee", "--defect", "colour shift").out.split())


def test_the_only_fault_of_a_glaze_need_not_be_named(tiles, fresh, tmp_path):
    of_batches(tiles, tmp_path, ["B2"] * 4, [1] * 4)
    told = " ".join(tiles("why", "--glaze", "toffee").out.split())
    assert told.startswith("Colour shift on 4 of 4 tiles of toffee that were looked at. There is")
    assert "differ" not in told
    assert "By common practice alone, on 4 failing tiles, each by itself:" in told


def test_of_several_faults_the_commonest_is_told_and_the_others_named(tiles, fresh, tmp_path):
    of_batches(tiles, tmp_path, ["B2"] * 4, [1, 1, 1, 0])
    for mark, fault in (("Q-0", "crazing"), ("Q-1", "specks")):
        ran = tiles("inspect", mark, "--defect", fault, "--inspected-on", "2026-01-01")
        assert ran.code == 0, ran.err
    told = " ".join(tiles("why", "--glaze", "toffee").out.split())
    assert told.startswith("Colour shift on 3 of 4 tiles of toffee")
    assert told.endswith("Other faults of it, by tiles: crazing on 1, specks on 1 "
                         "(--defect crazing).")  # fmt: skip
    assert "each by itself:" in told
    for mark in ("Q-2", "Q-3"):
        look = ("--defect", "crazing:severe", "--inspected-on", "2026-01-02")
        assert tiles("inspect", mark, *look).code == 0
    told = " ".join(tiles("why", "--glaze", "toffee").out.split())  # of equals the worst
    assert told.startswith("Crazing on 3 of 4 tiles of toffee")
    assert told.endswith('by tiles: colour shift on 3, specks on 1 (--defect "colour shift").')


def test_a_glaze_without_a_fault_is_told_as_one(tiles, fresh, tmp_path):
    of_batches(tiles, tmp_path, ["B2"] * 4, [0] * 4)
    ran = tiles("why", "--glaze", "toffee")
    assert_one_line_error(ran, "no fault is on record on a tile with toffee", "tiles find")


def test_a_glaze_that_nobody_looked_at_says_so_with_a_command_a_shell_reads(tiles, fresh):
    name = 'it\'s 50% "x"'
    assert tiles("glaze", "add", name, "--kind", "jar").code == 0
    for more in ((), ("--defect", "crawling")):
        ran = tiles("why", "--glaze", name, *more)
        assert_one_line_error(ran, f"no tile with {name} has been inspected yet")
        assert shlex.join(["tiles", "find", "--glaze", name]) in ran.err


def test_a_fault_is_judged_over_all_tiles_where_none_is_named(sample, tiles):
    told = " ".join(tiles("why", "--defect", "crawling").out.split())
    assert re.match(r"Crawling on \d+ of \d+ areas that were looked at\. ", told)
    assert ", beyond what the first difference tells, all 36 pairs taken together)." in told
    assert "cone, what lies beneath, which layers meet, and bisque first" in told
    assert json.loads(tiles("why", "--defect", "crawling", "--json").out)["glaze"] is None
    ran = tiles("why", "--defect", "crawling", "--ask")
    assert_one_line_error(ran, "--defect without a tile and --ask together")


def test_where_nothing_is_clear_the_batch_is_told_all_the_same(tiles, fresh, tmp_path):
    told = of_batches(tiles, tmp_path, ["B2"] * 4 + ["B1"] * 2 + [None] * 3, [1, 1, 1] + [0] * 6)
    assert "Not clearer than chance would make it: Batch B1: 0 of 2 tiles changed colour; " in told
    assert "batch B2: 3 of 4, not recorded on 3. Chance:" in told


def test_of_one_failing_tile_nothing_is_set_apart(tiles, fresh, tmp_path):
    told = of_batches(tiles, tmp_path, ["B2"] * 3 + ["B1"] * 5, [1] + [0] * 7)
    assert "Too few to compare: any difference may be chance. By common practice alone" in told


def test_where_nothing_is_clear_the_bisque_is_asked_and_no_single_tile_told(tiles, fresh, tmp_path):
    records = [
        {
            "mark": f"Q-{at}",
            "body": {"name": "red clay", "kind": "earthenware"},
            "bisque_cone": "06" if at < 6 else "04",
            "areas": [{"number": 1, "layers": [
                *([{"glaze": {"name": "ink", "kind": "jar", "role": "underglaze"}}] * (at == 12)),
                {"glaze": {"name": "lemon", "kind": "jar", "role": "glaze"}}]}],
            "inspections": [{"inspected_on": "2026-01-01",
                             "defects": [{"defect": "pinholes"}] * (at in (0, 1, 2, 3, 7, 8))}],
        }
        for at in range(13)
    ]  # fmt: skip
    file = tmp_path / "lemon.json"
    file.write_text(json.dumps(records))
    ran = tiles("import", file)
    assert ran.code == 0, ran.err
    told = " ".join(tiles("why", "--glaze", "lemon").out.split())
    assert "bisque at cone 04 or hotter: 2 of 7 tiles had pinholes; with a bisque at" in told
    assert "ver ink" not in told


def test_where_every_difference_is_as_chance_has_it_none_is_denied():
    """3 of 3 on white and 6 of 8 on red differ, and tell nothing."""
    found = over_tiles(
        [tile(n, 2, n < 9, body="white" if n < 3 else "red") for n in range(11)],
        "pond green",
        "crawling",
    )
    told = " ".join(_set_apart(found, show_all=False))
    assert "Nothing recorded tells failing and sound ones apart." in told


def over_leaf(at, put_on, mm, failed):
    """A tile of pond green over leaf that was put on raw clay or on bisque."""
    record = tile(at, 2, failed).model_copy(deep=True)
    glaze = record.areas[0].layers[0].model_copy(update={"thickness_mm": mm})
    leaf = {"glaze": {"name": "leaf", "role": "underglaze"}, "coats": 3, "applied_on": put_on}
    record.areas[0].layers = [LayerRecord.model_validate(leaf), glaze]
    return record


def test_what_the_colour_was_put_on_is_told_where_the_thickness_parts_the_tiles_alike():
    made = [over_leaf(at, "bisque", 0.8, True) for at in range(3)]
    made += [over_leaf(at, "greenware", 1.2, False) for at in range(3, 6)]
    found = over_tiles(made, "pond green", "crawling")
    told = " ".join(" ".join(_set_apart(found, show_all=False)).split())
    assert "With a dry coat of 0.8 mm or less: 3 of 3 tiles crawled" in told
    alike = "The failing ones differ alike in this: over a colour put on bisque; either may be why."
    assert told.count(alike) == 1


def test_what_parts_the_tiles_alike_is_told_once_however_many_lines_it_goes_with():
    made = [over_leaf(at, "bisque", 0.8, True) for at in range(3)]
    made += [over_leaf(at, "greenware", 1.2, False) for at in range(3, 6)]
    found = over_tiles(made, "pond green", "crawling")
    first, along = found.differences[0], ("with another kiln than B", "over a slip")
    twice = [replace(first, fact=fact, say=fact, along=along) for fact in ("one", "other")]
    told = " ".join(" ".join(_set_apart(replace(found, differences=twice), False)).split())
    assert told.count("differ alike in this") == told.count("over a slip") == 1
    found = replace(found, differences=twice, of_jar="kiln B: 0 of 3")
    assert "another kiln" not in " ".join(_set_apart(found, False))


def test_a_jar_that_is_always_dry_is_held_against_the_others_of_its_firings(tiles, fresh, tmp_path):
    records = [*DRY_JAR, *BESIDE]
    file = tmp_path / "jar.json"
    file.write_text(
        json.dumps([each.model_dump(mode="json", exclude_none=True) for each in records])
    )
    ran = tiles("import", file, "--yes")
    assert ran.code == 0, ran.err
    told = " ".join(tiles("why", "--glaze", "night").out.split())
    assert "Of 8 tiles with other glazes in the same firings none came out underfired" in told
    first = re.split(r"did beside them, on \d+ failing tiles, each by itself: ", told)[1]
    assert re.match(r"\d+% The jar holds a glaze for another cone than its label says", first)
    in_full = " ".join(tiles("why", "--glaze", "night", "--all").out.split())
    ruled_out = "The kiln fell short of its cone"  # by the cone reached, on every tile
    assert ruled_out in in_full and ruled_out not in told
    one = " ".join(tiles("why", DRY_JAR[0].mark).out.split())
    assert "Of 8 tiles with other glazes in the same firings none came out underfired" in one


@pytest.mark.parametrize(("failing", "sound", "is_against"), [(0.8, 1.3, True), (1.3, 0.8, False)])
def test_a_count_against_the_first_cause_says_so_on_the_same_screen(failing, sound, is_against):
    made = [over_leaf(at, "bisque", failing, True) for at in range(4)]
    made += [over_leaf(at, "bisque", sound, False) for at in range(4, 8)]
    found = over_tiles(made, "pond green", "crawling")
    told = " ".join(" ".join(_lines(found, show_all=False)).split())
    assert "% The coat was too thick, first on 4 of 4." in told
    said = "Against the first of these speaks your count by the thickness of the dry coat: it came"
    assert (f"{said} where there was less." in told) is is_against
    one, *others = made
    told = " ".join(" ".join(why_screen.lines(one, why(one, "crawling", others))).split())
    said = "of 3 like this one, with 0.8 mm or less, 3 did. That speaks against the"
    assert (said in told) is is_against
    assert (why_counts.AGAINST_FIRST in told) is is_against


def test_fewer_coats_that_were_thicker_speak_for_a_thick_coat():
    def made(at, coats, mm, failed):
        record = tile(at, coats, failed).model_copy(deep=True)
        record.areas[0].layers[0].thickness_mm = mm
        return record

    thick = [made(at, 2, 1.7, True) for at in range(4)]
    one, *others = [*thick, *(made(at, 3, 0.9, False) for at in range(4, 8))]
    found = over_tiles([one, *others], "pond green", "crawling")
    assert found.causes[0].title == "the coat was too thick"
    assert "number of coats" not in found.against
    told = " ".join(" ".join(why_screen.lines(one, why(one, "crawling", others))).split())
    assert why_counts.AGAINST_FIRST not in told
    unmeasured = [tile(at, 3 if at > 3 else 2, at <= 3) for at in range(8)]
    for each in unmeasured[:4]:
        each.areas[0].layers[0].thickness_mm = 1.7
    assert "number of coats" in over_tiles(unmeasured, "pond green", "crawling").against

"""``tiles learn``: what was learned, whether it is of use, the kept file and the picture."""

import csv
import json
import os
import random
from types import SimpleNamespace

import pytest

from diagnose.learning.validate import LEAST_GAIN
from tests.cli.records import all_rows, assert_one_line_error
from tiles.cli.learn_text import worse_on_newest

HELD_BACK = {
    "single tiles": "tiles_kept_apart",
    "whole glazes": "glazes_kept_apart",
    "the newest tiles": "forward_in_time",
}


_LEARNED: dict[tuple, str] = {}


@pytest.fixture
def learned(sample, tiles):
    """What ``tiles learn`` prints of the sample, learned once for each way of asking."""

    def told(*how):
        asked = (os.environ.get("COLUMNS"), *how)
        if asked not in _LEARNED:
            ran = tiles("learn", *how)
            assert ran.code == 0, ran.err
            _LEARNED[asked] = ran.out
        return _LEARNED[asked]

    return told


def test_each_learned_defect_tells_counts_yardsticks_and_lessons(sample, tiles):
    ran = tiles("learn", "--defect", "crawling")
    told = " ".join(ran.out.split())
    seen = json.loads(tiles("find", "--defect", "crawling", "--json").out)
    assert f"CRAWLING, on {len({each['mark'] for each in seen})} of " in told
    assert "Better than common practice alone" in told
    (crawling,) = json.loads(tiles("learn", "--defect", "crawling", "--json").out)["defects"]
    for held_back, key in HELD_BACK.items():
        loss = crawling[key]["log_loss"]
        gains = [1 - loss["model"] / loss[of] for of in ("base rate", "rules alone")]
        said = [f"{abs(gain):.0%} {'less' if gain > 0 else 'more'}" for gain in gains]
        assert f"{held_back} {' '.join(said)}" in told
    assert "+ pond green: more often than common practice expects" in told


def test_words_follow_the_numbers(learned):
    found = json.loads(learned("--json"))
    text = learned("--all")
    for each in found["defects"]:
        kept = (each["tiles_kept_apart"], each["glazes_kept_apart"])
        losses = [told["log_loss"] for told in kept if told]
        better = [loss["model"] <= (1 - LEAST_GAIN) * loss["base rate"] for loss in losses]
        if each["state"] == "learned":
            assert any(better)
            assert f"{each['defect'].upper()}, on {each['seen']} of {each['inspected']}" in text
    assert "learned" in {each["state"] for each in found["defects"]}
    assert "Not clearly better than guessing for a new glaze: no chance is told there" in " ".join(
        text.split()
    )


@pytest.fixture
def studio_of_luck(fresh, tiles, tmp_path):
    """60 tiles that crawl where the coat is thick, while specks come by luck alone."""
    luck = random.Random(1)
    with (tmp_path / "luck.csv").open("w", newline="") as file:
        rows = csv.writer(file)
        rows.writerow("mark body glaze thickness_mm inspected_on defect_crawling defect_specks"
                      .split())  # fmt: skip
        for number in range(60):
            mm = luck.choice([0.3, 0.5, 0.8, 1.4, 1.8])
            crawled = luck.random() < (0.8 if mm > 1 else 0.05)
            seen = ["none" if not each else "moderate" for each in (crawled, luck.random() < 0.3)]
            rows.writerow([f"T-{number}", "red", f"glaze {number % 6}", mm, "2024-03-01", *seen])
    ran = tiles("import", tmp_path / "luck.csv", "--yes")
    assert ran.code == 0, ran.err


def test_a_defect_that_is_forecast_no_better_than_by_guessing_is_told_without_a_table(
    studio_of_luck, tiles
):
    found = {each["defect"]: each for each in json.loads(tiles("learn", "--json").out)["defects"]}
    assert found["crawling"]["state"] == "learned"
    assert found["specks"]["state"] == "not clearly better than guessing"
    for key in ("tiles_kept_apart", "glazes_kept_apart"):
        loss = found["specks"][key]["log_loss"]
        assert loss["model"] > (1 - LEAST_GAIN) * loss["base rate"]
    blocks = {block.partition(",")[0]: block for block in tiles("learn", "--all").out.split("\n\n")}
    specks = " ".join(blocks["SPECKS"].split())
    assert specks.startswith(f"SPECKS, on {found['specks']['seen']} of 60 tiles Held-back tiles")
    assert "not clearly better than by guessing, so no chance is told yet" in specks
    assert "error against" in blocks["CRAWLING"] and "error against" not in blocks["SPECKS"]
    short = " ".join(tiles("learn").out.split())
    told = "not clearly better than by guessing, so no chance is told yet: specks"
    assert f"{told} ({found['specks']['seen']})" in short


def test_a_verdict_says_where_the_newest_tiles_were_forecast_worse(learned):
    found = json.loads(learned("--json"))["defects"]
    blocks = {block.partition(",")[0]: block for block in learned("--all").split("\n\n")}
    few = 0
    for each in found:
        if each["state"] != "learned":
            continue
        loss, seen = each["forward_in_time"]["log_loss"], each["forward_in_time"]["seen"]
        told = " ".join(blocks[each["defect"].upper()].split())
        for name, key in (("guessing", "base rate"), ("common practice", "rules alone")):
            is_worse = loss["model"] >= (1 + LEAST_GAIN) * loss[key]
            is_told = is_worse and seen >= 3
            assert (name in told.partition("Worse than ")[2].partition(" on the")[0]) is is_told
        assert (f"only {seen} of " in told) is (0 < seen < 3)
        few += 0 < seen < 3
    assert few


@pytest.mark.parametrize("how", [(), ("--all",)])
def test_no_word_is_one_that_a_teacher_would_have_to_look_up(learned, how):
    told = learned(*how).casefold()
    for word in ("log-loss", "surprise", "odds", "calibration", "prior"):
        assert word not in told


@pytest.mark.parametrize(
    ("came", "said"),
    [
        ([0.05, 0.20], []),
        ([0.05, 0.32], ["1 of 2 lies off by more than its range, which may be luck"]),
        ([0.12, 0.32], ["2 of 2 lie off by more than their range: take chances as rough"]),
        (
            [0.05, 0.60],
            [
                "1 of 2 lies off by more than its range",
                "more often than told, not by luck: 60% where 20% was told",
            ],
        ),
        (
            [0.25, 0.0],
            [
                "2 of 2 lie off by more than their range: take chances as rough",
                "more often than told, not by luck: 25% where 5% was told",
                "more seldom than told, not by luck: 0% where 20% was told",
            ],
        ),
    ],
)
def test_the_picture_says_when_chances_lay_off_by_more_than_their_ranges(came, said):
    from diagnose.learning.report import Reliability
    from tiles.cli.learn_plot import off_said

    assert off_said(Reliability([0.05, 0.20], came, [40, 40])) == said


@pytest.mark.parametrize(
    ("told", "new", "said"),
    [
        ((0.2, 0.4), (0.05, 0.04), []),
        ((0.2, 0.4), (0.03, -0.06), ["the last step did not help for a new glaze"]),
        ((0.4, 0.2), (0.1,), ["the last step did not help for glazes with tiles"]),
    ],
)
def test_the_picture_says_for_which_glazes_more_tiles_did_not_help(told, new, said):
    from diagnose.learning.report import CurvePoint
    from tiles.cli.learn_plot import last_step_said

    curves = {"for glazes with tiles": told, "for a new glaze": new}
    assert said == last_step_said(
        {what: [CurvePoint(20, gain, 0.1) for gain in gains] for what, gains in curves.items()}
    )


@pytest.mark.parametrize("columns", ["60", "80"])
@pytest.mark.parametrize(
    ("how", "head"),
    [((), "guessing     practice\n"), (("--all",), "error against       guessing")],
)
def test_no_line_is_wider_than_the_screen(learned, monkeypatch, columns, how, head):
    monkeypatch.setenv("COLUMNS", columns)
    out = learned(*how)
    assert max(map(len, out.splitlines())) <= int(columns)
    assert (head in out) is (columns == "80")


def test_what_was_learned_fits_one_screen(learned, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    short = learned()
    assert len(short.splitlines()) <= 24
    rows = {line[:17].strip(): line[17:].split() for line in short.splitlines() if "%" in line}
    found = json.loads(learned("--json"))["defects"]
    of = {each["defect"]: each for each in found if each["state"] == "learned"}
    assert rows.keys() == of.keys()
    for defect, (seen, share, direction, *_rest) in rows.items():
        loss = of[defect]["tiles_kept_apart"]["log_loss"]
        gain = 1 - loss["model"] / loss["base rate"]
        assert int(seen) == of[defect]["seen"]
        assert (share, direction) == (f"{abs(gain):.0%}", "less" if gain > 0 else "more")
        of_new = of[defect]["glazes_kept_apart"]["learned"]
        assert " ".join(rows[defect]).endswith("any glaze" if of_new else "glazes with tiles")
        first, is_sure = of[defect]["lessons"][0], short.index(defect) < short.index("Too few")
        assert (f"   {'+' if first['move'] > 0 else '-'} {first['said']}" in short) is is_sure


def test_what_may_be_luck_is_told_below_a_word_of_doubt(learned):
    found = json.loads(learned("--json"))["defects"]
    doubtful, sure = set(), set()
    for each in (each for each in found if each["state"] == "learned"):
        kept = (each["tiles_kept_apart"], each["glazes_kept_apart"])
        errors = next(told["standard_errors"] for told in kept if told["learned"])
        (sure if each["seen"] >= 8 and errors >= 2 else doubtful).add(each["defect"])
    above, doubt, below = learned().partition("Too few tiles to be sure of these:\n")
    assert doubt and doubtful and sure
    for rows, told in ((above, sure), (below.partition("\n\n")[0], doubtful)):
        assert {line[:17].strip() for line in rows.splitlines() if "%" in line} == told
    blocks = {block.partition(",")[0]: block for block in learned("--all").split("\n\n")}
    assert doubtful == {each for each in doubtful | sure if "Too few" in blocks[each.upper()]}


def test_what_was_learned_is_kept_as_text_beside_the_database(sample, tiles):
    kept = sample.with_name("sample-learned.json")
    assert tiles("learn").code == 0
    assert json.loads(kept.read_text(encoding="utf-8"))["defects"]["crawling"]["state"] == "learned"


def test_learning_changes_no_record(sample, tiles):
    before = all_rows(sample)
    tiles("learn")
    tiles("forecast", "M-41")
    assert all_rows(sample) == before


def test_a_place_that_cannot_be_written_is_said_and_harms_nothing(sample, tiles, monkeypatch):
    def refuse(*_arguments):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("diagnose.learning.keep.save", refuse)
    ran = tiles("learn", "--defect", "crawling")
    assert ran.code == 0
    assert "cannot be written (Permission denied)" in ran.err
    assert tiles("forecast", "M-41", "--defect", "crawling").code == 0


def test_nothing_is_learned_from_an_empty_database(fresh, tiles):
    tiles("body", "add", "red clay")
    ran = tiles("learn")
    assert ran.code == 0
    assert ran.out.startswith("0 inspected tiles")
    assert "%" not in ran.out


@pytest.mark.slow
def test_plot_is_a_picture_of_three_panels(studio_of_luck, tiles, tmp_path):
    from PIL import Image

    file = tmp_path / "report.png"
    ran = tiles("learn", "--plot", file)
    assert ran.code == 0, ran.err
    with Image.open(file) as picture:
        assert picture.width > 1000
        colours = picture.convert("RGB").getcolors(maxcolors=1_000_000)
    assert len(colours) > 50


@pytest.mark.parametrize("name", ["report", "report.doc"])
def test_a_picture_needs_a_pictures_name(sample, tiles, tmp_path, name):
    assert_one_line_error(tiles("learn", "--plot", tmp_path / name), "no picture's name")


def test_a_place_that_is_not_there_is_said_before_anything_is_learned(sample, tiles, tmp_path):
    ran = tiles("learn", "--plot", tmp_path / "gone" / "report.png")
    assert_one_line_error(ran, "there is no folder")
    assert not sample.with_name("sample-learned.json").exists()


def test_a_picture_is_never_written_over_another_file(sample, tiles, tmp_path):
    file = tmp_path / "report.png"
    file.write_text("mine")
    assert_one_line_error(tiles("learn", "--plot", file), "report.png is already there")
    assert file.read_text() == "mine"
    assert not sample.with_name("sample-learned.json").exists()


def test_a_fault_on_every_tile_is_not_called_rare(fresh, tiles):
    for number in range(25):
        tiles("log", "--mark", f"T-{number}", "--body", "red clay", "--glaze", "pond",
              "--cone-reached", "05", "--add-missing", "--yes", "--defect", "crawling")  # fmt: skip
    told = " ".join(tiles("learn").out.split())
    assert "on all, or nearly all, of your tiles: crawling (25)" in told
    asked = ("forecast", "--body", "red clay", "--glaze", "pond", "--defect", "crawling")
    told = " ".join(tiles(*asked).out.split())
    assert "No chance told, on all, or nearly all, of your tiles: crawling." in told
    assert "crawling: on 25 of your 25 tiles of this glaze on this body" in told
    assert "A range holds" not in told


def test_there_is_no_picture_of_nothing(fresh, tiles, tmp_path):
    tiles("body", "add", "red clay")
    assert_one_line_error(tiles("learn", "--plot", tmp_path / "x.png"), "nothing was learned yet")


@pytest.mark.parametrize(("seen", "told"), [
    (0, "The newest tiles cannot judge it: none of 32 areas had it."),
    (9, "Worse than guessing on the newest tiles: trust it less."),
])  # fmt: skip
def test_newest_tiles_without_the_fault_judge_nothing(seen, told):
    loss = {"model": 0.3, "base rate": 0.2, "rules alone": 0.4}
    verdict = SimpleNamespace(log_loss=loss, seen=seen, areas=32)
    assert worse_on_newest(verdict) == [told]


def test_learn_names_where_the_counts_are(sample, tiles):
    assert "tiles why --glaze NAME --defect FAULT" in " ".join(tiles("learn").out.split())

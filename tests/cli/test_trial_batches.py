"""A trial of another bucket is asked about by whichever door it is coated from the wrong one."""

import json

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import all_rows, assert_one_line_error, shown
from tests.cli.unloading import AREAS

CHANGE = "batch HC Nov 2024 -> HC Nov 2025"
TRIAL = ("--trial-of", "HC1", "--trial-defect", "crazing", "--trial-change", CHANGE)
MADE = ("--body", "red earthenware", "--glaze", "house clear=2", "--recipe-version", "1")
ASKED = "it is a trial of 'batch HC Nov 2024 -> HC Nov 2025', and from batch 'HC Nov 2024' it"


@pytest.fixture
def buckets(sample, tiles):
    """A failed tile from the old bucket, and one planned that says of no bucket."""
    known = json.loads(tiles("batch", "list", "house clear", "--json").out)
    for name in {"HC Nov 2024", "HC Nov 2025"} - {each["name"] for each in known}:
        assert tiles("batch", "add", "house clear", name).code == 0
    old = ("--batch", "HC Nov 2024")
    assert tiles("log", "--mark", "HC1", *MADE, *old, "--defect", "crazing", "--yes").code == 0
    assert tiles("log", "--mark", "HC2", *MADE, *old, "--clean", "--yes").code == 0
    assert tiles("plan", "--first-mark", "HC5", *MADE, *TRIAL).code == 0
    assert tiles("firing", "add", "F90", "--target-cone", "05").code == 0
    return all_rows(sample)


@pytest.mark.parametrize(
    "command",
    [
        ("log", "--mark", "HC6", *MADE, "--batch", "HC Nov 2024", *TRIAL, "--clean"),
        ("change", "HC2", *TRIAL),
        ("change", "HC5", "--batch", "HC Nov 2024"),
        ("load", "F90", "HC5", "--batch", "HC Nov 2024"),
    ],
)
def test_each_command_asks_of_a_trial_from_the_old_bucket(sample, tiles, buckets, command):
    ran = tiles(*command)
    assert_one_line_error(ran, ASKED, "--yes", '--trial-of ""')
    assert all_rows(sample) == buckets
    assert tiles(*command, "--yes").code == 0


def test_a_file_with_such_a_trial_is_asked_about_and_goes_back_as_it_was_confirmed(
    tiles, buckets, tmp_path
):
    record = json.loads(tiles("show", "HC5", "--json").out)
    record["areas"][0]["layers"][0]["batch"] = {"name": "HC Nov 2024"}
    file = tmp_path / "hc5.json"
    file.write_text(json.dumps(record))
    replace = ("import", str(file), "--replace")
    assert_one_line_error(tiles(*replace), ASKED)
    assert tiles(*replace, "--yes").code == 0
    file.write_text(tiles("show", "HC5", "--json").out)
    assert tiles("remove", "HC5", "--yes").code == 0
    assert tiles("import", str(file)).code == 0, "it was confirmed"
    assert tiles("inspect", "HC5", "--clean", "--cone-reached", "05").code == 0


def test_a_trial_of_a_bucket_gets_another_glaze_only_after_a_question(sample, tiles, buckets):
    ran = tiles("change", "HC5", "--glaze", "pond green=3")
    assert_one_line_error(ran, "with pond green in place of house clear it shows nothing of that")
    assert all_rows(sample) == buckets
    assert tiles("change", "HC5", "--glaze", "house clear=3").code == 0
    assert tiles("change", "HC5", "--glaze", "pond green=3", "--trial-of", "").code == 0


def test_a_bucket_that_gets_another_name_has_it_in_the_trials_of_its_glaze_alone(tiles, buckets):
    assert tiles("batch", "add", "pond green", "HC Nov 2025").code == 0
    assert tiles("batch", "rename", "pond green", "HC Nov 2025", "other").code == 0
    assert json.loads(tiles("show", "HC5", "--json").out)["trial_change"] == CHANGE
    assert tiles("batch", "rename", "house clear", "hc nov 2025", "HC winter").code == 0
    changed = json.loads(tiles("show", "HC5", "--json").out)["trial_change"]
    assert changed == "batch HC Nov 2024 -> HC winter"
    assert tiles("load", "F90", "HC5", "--batch", "HC winter").code == 0
    assert tiles("batch", "rename", "house clear", "HC Nov 2024", "HC -> old").code == 0


def test_unload_asks_before_it_notes_a_trial_of_another_batch_as_from_this_one(load, tiles):
    for name in ("PG 1", "PG 2"):
        assert tiles("batch", "add", "pond green", name).code == 0
    trial = ("--trial-of", "L-1", "--trial-defect", "crawling", "--trial-change")
    assert tiles("change", AREAS, *trial, "batch PG 1 -> PG 2").code == 0
    keyboard = Keyboard("unload", "F40", "--batch", "PG 1")
    keyboard.sees("from batch 'PG 1' it shows nothing of that")
    keyboard.sees("Is that really so?")
    keyboard.press("n", ENTER)
    assert keyboard.ends()[0] == 130
    assert shown(tiles, AREAS)["areas"][0]["layers"][0]["batch"] is None


def test_words_of_a_trial_that_nobody_knows_again_are_asked_about(sample, tiles):
    trial = ("--trial-of", "M-60", "--trial-defect", "crawling", "--trial-change")
    made = ("--body", "red earthenware", "--glaze", "pond green")
    log, plan = ("log", "--mark", "Q-1", *made), ("plan", *made, "--first-mark", "Q-2")
    before = all_rows(sample)
    for command in (log, plan, ("change", "M-41")):
        ran = tiles(*command, *trial, "coat 3->2")
        assert_one_line_error(ran, "'coat 3->2' is not how", '--trial-change "coats 3 -> 2"')
    assert all_rows(sample) == before
    assert tiles(*log, *trial, "coats 3 -> 2").code == 0
    assert tiles(*plan, *trial, "a thin coat", "--yes").code == 0
    assert shown(tiles, "Q-2")["trial_change"] == "a thin coat"
    assert tiles("change", "Q-2", "--note", "words of old stay").code == 0

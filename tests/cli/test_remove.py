"""What was added by mistake leaves the record where nothing uses it; what is used stays."""

import json

import pytest

from tests.cli.records import all_rows, assert_one_line_error, counts

RECIPE = ("--line", "soda feldspar=60", "--line", "whiting=40")


@pytest.fixture
def mistakes(sample, tiles):
    """One of each kind that no tile uses."""
    before = all_rows(sample)
    for words in (
        ("body", "add", "grey clay"),
        ("kiln", "add", "tst kiln"),
        ("firing", "add", "Fx", "--kiln", "top loader", "--witness-cone", "05@top"),
        ("glaze", "add", "pond greeen"),
        ("batch", "add", "pond green", "Mayy"),
        ("recipe", "add", "house clear", *RECIPE),
        ("recipe", "add", "new one", *RECIPE, "--line", "odd powder=5", "--yes"),
        ("batch", "add", "new one", "May"),
    ):
        ran = tiles(*words)
        assert ran.code == 0, (words, ran.err)
    return before


REMOVED = [
    (("body", "remove", "Grey Clay"), "grey clay"),
    (("kiln", "remove", "tst kiln"), "tst kiln"),
    (("firing", "remove", "Fx"), "Fx"),
    (("glaze", "remove", "pond greeen"), "pond greeen"),
    (("batch", "remove", "pond green", "mayy"), "batch 'Mayy' of 'pond green'"),
    (("recipe", "remove", "house clear"), "version 3 of 'house clear'"),
    (("glaze", "remove", "new one"), "new one"),
]


def test_what_nothing_uses_is_taken_off_and_leaves_nothing_behind(mistakes, sample, tiles):
    for words, said in REMOVED:
        ran = tiles(*words, "--yes")
        assert (ran.code, ran.out, ran.err) == (0, f"{said} is off the record.\n", "")
    assert all_rows(sample) == mistakes


def test_it_is_asked_first_and_told_what_goes_with_it(mistakes, sample, tiles):
    before = all_rows(sample)
    goes = {
        ("glaze", "remove", "new one"): "for good with 1 version of its recipe and 1 batch.",
        ("firing", "remove", "Fx"): "for good with 1 witness cone.",
        ("kiln", "remove", "tst kiln"): "leaves the record for good. Try: --yes",
    }
    for words, said in goes.items():
        assert_one_line_error(tiles(*words), "Nothing on record uses '", said)
    assert all_rows(sample) == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("body", "remove", "red earthenware"), ["clay body 'red earthenware' is used by ",
                                                 " more, so it stays", "'tiles body retire"]),
        (("glaze", "remove", "pond green"), ["glaze 'pond green' is used by ", "glaze merge"]),
        (("kiln", "remove", "top loader"), ["kiln 'top loader' is used by F", "so it stays"]),
        (("firing", "remove", "F12"), ["firing 'F12' is used by ", "so it stays"]),
        (("firing", "remove", "F03"), ["firing 'F03' is used by ", "so it stays"]),
        (("recipe", "remove", "house clear"), ["version 2 of 'house clear' is used by "]),
        (("recipe", "remove", "house clear", "--version", "1"), ["version 1 of 'house clear' is "
                                                                 "not the newest", "version 2."]),
        (("recipe", "remove", "house clear", "--version", "7"), ["has no version 7"]),
        (("recipe", "remove", "pond green"), ["is a jar"]),
        (("batch", "remove", "pond green", "none"), ["no batch called 'none'"]),
        (("body", "remove", "red earthenwar"), ["no clay body called", "red earthenware"]),
    ],
    ids=lambda each: " ".join(each) if isinstance(each, tuple) else "",
)  # fmt: skip
def test_what_is_used_stays_and_what_uses_it_is_told(sample, tiles, words, said):
    before = all_rows(sample)
    assert_one_line_error(tiles(*words, "--yes"), *said)
    assert all_rows(sample) == before


def test_a_bucket_that_tiles_are_from_stays(sample, tiles):
    (batch, *_) = json.loads(tiles("batch", "list", "--json").out)
    ran = tiles("batch", "remove", batch["glaze"], batch["name"], "--yes")
    assert_one_line_error(ran, f"batch '{batch['name']}' of '{batch['glaze']}' is used by ")


def test_a_material_with_an_analysis_of_its_own_stays(sample, tiles):
    assert tiles("material", "add", "own spar", "--oxide", "SiO2=60", "--oxide", "K2O=40").code == 0
    assert tiles("recipe", "add", "new one", "--line", "own spar=100").code == 0
    before = counts(sample)
    assert tiles("glaze", "remove", "new one", "--yes").code == 0
    assert counts(sample)["material"] == before["material"]
    assert "own spar" in tiles("material", "list").out


def test_the_remark_on_a_kiln_can_be_given_later_and_cleared(sample, tiles):
    ran = tiles("kiln", "change", "top loader", "--remark", "element 3 is weak")
    assert (ran.code, ran.out) == (0, "top loader: changed remark.\n")
    assert "element 3 is weak" in tiles("kiln", "show", "top loader").out
    again = tiles("kiln", "add", "Top Loader", "--remark", "element 4, too")
    assert_one_line_error(again, "already on record", "'tiles kiln change' to say more of it")
    assert tiles("kiln", "change", "top loader", "--remark", "").code == 0
    assert json.loads(tiles("kiln", "show", "top loader", "--json").out)["remark"] is None
    assert_one_line_error(tiles("kiln", "change", "top loader"), "nothing to change")


@pytest.mark.parametrize("words", [("firing", "show", "F12"), ("kiln", "show", "top loader")])
def test_what_cannot_be_retired_does_not_say_that_it_is_not(sample, tiles, words):
    assert "retired" not in tiles(*words).out
    assert "retired" not in json.loads(tiles(*words, "--json").out)
    assert "retired" in tiles("body", "show", "red earthenware").out

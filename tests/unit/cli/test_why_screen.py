"""The screen of ``tiles why`` where there is nothing to explain."""

from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from tests.unit.diagnose.test_next_tiles import OWNED, tile
from tests.unit.diagnose.test_own_tiles_say import FAILED, crawled, sound
from tests.unit.diagnose.test_tried import looked_at
from tiles.cli import why_screen
from tiles.cli.prose import percent
from tiles.records import forms


def test_a_tile_without_a_diagnosis_is_told_in_a_line():
    record = forms.read(forms.TileRecord, {"mark": "M-1", "body": "red earthenware"})
    told = why_screen.lines(record, [])
    assert told[0].startswith("M-1: red earthenware")
    assert told[-1] == "In full: tiles why M-1 --all"


def test_what_many_trials_showed_is_told_though_the_tile_has_two_faults(monkeypatch):
    """The questions give way to them: five trials are the answer of a term."""
    monkeypatch.setenv("COLUMNS", "80")
    failed = tile("crawling", coats=4, more=["pinholes"])
    trials = [
        looked_at(each.tile, f"N-{at}", ["crawling"])
        for at, each in enumerate(next_tiles(why(failed, "crawling")[0], OWNED).trials)
    ]
    assert len(trials) > 4
    told = why_screen.lines(failed, why(failed, None, trials))
    screen = " ".join(" ".join(told).split())
    assert "trials Came again:" in screen
    assert all(f"(N-{at})" in screen for at in range(len(trials)))
    assert len(told) <= 24
    assert "coats 4 -> 3" in screen
    assert "Put on one coat less" not in screen, "a coat less was tried in vain"
    second = why_screen.lines(failed, why(failed, None, trials)[::-1])
    assert "trials Came again:" in " ".join(" ".join(second).split()), "of the other fault as well"


def test_the_likeliest_cause_says_what_its_share_is_without_own_tiles(monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    (told,) = why(FAILED, "crawling", [*sound(9), *crawled(5)])
    alone = told.causes[0].practice_share
    assert told.causes[0].share - alone > why_screen.WORTH_TELLING
    with_own = " ".join(" ".join(why_screen.lines(FAILED, [told])).split())
    assert f"({percent(alone)} without your tiles)" in with_own
    assert "without your tiles" not in " ".join(why_screen.lines(FAILED, why(FAILED, "crawling")))

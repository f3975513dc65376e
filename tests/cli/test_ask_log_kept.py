"""What ``tiles log`` takes over from the last tile of the firing, and what it asks all the same."""

from datetime import date

import pytest

from tiles.cli import ask_log_firing, ask_log_kept
from tiles.cli.ask_log_answers import Answers, offered_again
from tiles.cli.ask_names import key
from tiles.errors import InvalidValue, TilesError
from tiles.records import models

OFFERED = Answers(
    body="red earthenware", glaze="pond green", coats="2", firing="F12", shelf="top",
    cone_reached="05", inspected_on="2026-11-29", like="N-7",
)  # fmt: skip
GLAZED = {"mark": "N-8", "body": "red earthenware", "glaze": "pond green", "coats": "2"}


@pytest.fixture
def answered(sample, monkeypatch, capsys):
    """What is kept after an answer to what differs, and what was shown before it."""

    def ask(offered, typed="", **found):
        monkeypatch.setattr("builtins.input", lambda _prompt: typed)
        given = Answers(**GLAZED | found)
        ask_log_kept.ask_what_differs(None, offered, given)
        return given, capsys.readouterr().err

    return ask


def test_enter_keeps_all_that_is_shown(answered):
    found, shown = answered(OFFERED)
    assert found.kept == {
        "thickness_mm": None, "bisque": None, "firing": "F12", "cone_reached": "05",
        "inspected_on": "2026-11-29",
    }  # fmt: skip
    for told in ("As N-7: ", "dry coat not measured", "bisque not noted", "firing F12",
                 "cone 05 on shelf top", "looked at 2026-11-29"):  # fmt: skip
        assert told in " ".join(shown.split())


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("bisque and days", {"thickness_mm", "firing", "cone_reached"}),
        ("firing", {"thickness_mm", "bisque"}),  # and what belongs to it
        ("all", set()),
    ],
)
def test_what_is_named_is_asked(answered, typed, kept):
    assert set(answered(OFFERED, typed)[0].kept) == kept


@pytest.mark.parametrize("typed", ["glaze", "y", "B2", "nothing, cone"])
def test_what_names_none_of_it_is_refused(typed):
    with pytest.raises(InvalidValue):
        ask_log_kept._read(typed, ["bisque", "firing", "cone"])


@pytest.mark.parametrize(("is_measured", "told"), [(True, "Thickness, shelf,"), (False, "Shelf,")])
def test_a_refusal_tells_what_is_asked_next(sample, monkeypatch, capsys, is_measured, told):
    answers = iter(["shelf", ""])
    monkeypatch.setattr("builtins.input", lambda _prompt: next(answers))
    offered = Answers(**vars(OFFERED) | {"is_measured": is_measured})
    ask_log_kept.ask_what_differs(None, offered, Answers(**GLAZED))
    assert f"{told} look and note are asked next" in capsys.readouterr().err


@pytest.mark.parametrize("typed", ["0.9", "1,2 mm", "15"])
def test_a_number_that_is_no_shelf_of_the_kiln_is_asked_about(
    after_a_tile, monkeypatch, capsys, typed
):
    asked = []
    monkeypatch.setattr(ask_log_firing.common, "yes_or_no", asked.append)
    found = Answers(**GLAZED | {"firing": "F12"})
    with pytest.raises(TilesError):
        ask_log_firing._read_shelf(None, typed, found)
    assert f"{typed} is no shelf of this kiln (" in capsys.readouterr().err
    assert asked == [f"Is {typed!r} the shelf?"]
    assert ask_log_firing._read_shelf(None, "top", found) == "top"


def test_at_the_cone_reached_a_question_mark_tells_what_enter_takes(
    sample, tiles, monkeypatch, capsys
):
    assert (
        tiles("firing", "add", "F77", "--target-cone", "05", "--witness-cone", "04@top").code == 0
    )
    answers = iter(["?", ""])
    monkeypatch.setattr("builtins.input", lambda _prompt: next(answers))
    found = Answers(**GLAZED | {"firing": "F77", "shelf": "top"})
    assert ask_log_firing.ask_cone(None, Answers(), found) is None
    assert "Enter takes 04, the witness cone of F77." in capsys.readouterr().err


def test_a_coat_that_was_measured_last_time_is_measured_this_time(answered):
    measured = Answers(**vars(OFFERED) | {"is_measured": True})
    assert "thickness_mm" not in answered(measured)[0].kept


def test_a_thickness_is_not_kept_for_other_coats(answered):
    """After "not stored" the person's own answers are offered, the thickness among them."""
    own = Answers(**vars(OFFERED) | {"thickness_mm": "0.8", "like": None})
    found, shown = answered(own)
    assert (found.kept["thickness_mm"], "So far: dry coat 0.8 mm" in shown) == ("0.8", True)
    assert "thickness_mm" not in answered(own, coats="3")[0].kept


def test_bought_bisque_does_not_get_the_bisque_of_the_clay_before(answered):
    assert "bisque" not in answered(OFFERED, body="white bisque")[0].kept


def test_nothing_is_taken_over_where_the_firing_is_not_on_record_yet():
    new = {key(models.Firing, "F12"): {"name": "F12"}}
    assert not ask_log_kept.arises(Answers(**vars(OFFERED) | {"new": new}))
    assert not ask_log_kept.arises(Answers(body="red earthenware"))
    assert ask_log_kept.arises(OFFERED)


@pytest.mark.parametrize(
    ("cone", "witnessed", "shelf", "is_kept"),
    [
        ("05", [], "top", True),
        ("05", [], "bottom", False),
        ("05", ["05@top", "06@bottom"], "bottom", False),  # N-7's own reading was of the top
        (None, [], "bottom", True),
        (None, ["05@top", "06@bottom"], "bottom", True),
        (None, ["05@top"], "bottom", False),
    ],
)
def test_a_cone_stays_with_its_shelf(sample, tiles, cone, witnessed, shelf, is_kept):
    read = [part for each in witnessed for part in ("--witness-cone", each)]
    assert tiles("firing", "add", "F77", "--target-cone", "05", *read).code == 0
    offered = Answers(firing="F77", shelf="top", cone_reached=cone)
    found = Answers(firing="F77", shelf=shelf, kept={"cone_reached": cone})
    assert ask_log_kept.keeps(None, "cone_reached", offered, found) is is_kept


def test_who_goes_back_and_names_another_firing_is_not_offered_the_look_of_the_last():
    again = offered_again(OFFERED, Answers(firing="F13"), "firing")
    assert (again.firing, again.cone_reached, again.inspected_on, again.like) == (
        "F13", None, None, None,
    )  # fmt: skip


@pytest.mark.parametrize(("firing", "is_offered"), [("F12", True), ("f12", True), ("F11", False)])
def test_the_day_of_the_last_look_is_offered_for_its_own_firing_alone(
    sample, monkeypatch, firing, is_offered
):
    asked = []
    monkeypatch.setattr(
        ask_log_firing, "ask_or_back", lambda _text, default, **_how: asked.append(default)
    )
    ask_log_firing.ask_day(None, OFFERED, Answers(mark="N-8", body="red", firing=firing))
    assert asked == [OFFERED.inspected_on if is_offered else date.today().isoformat()]

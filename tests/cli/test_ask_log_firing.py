"""What ``tiles log`` asks, without a keyboard: of firing, shelf and days."""

from dataclasses import replace

import pytest

from tiles.cli import ask, ask_log_firing, common
from tiles.cli.ask_log_answers import Answers, values
from tiles.errors import InvalidValue, TilesError


def test_the_day_of_glazing_is_asked_where_a_fault_may_come_from_an_old_bucket(
    sample, tiles, monkeypatch, capsys
):
    mixed = ("--mixed-on", "2024-11-01")
    assert tiles("batch", "add", "pond green", "May", *mixed).code == 0
    assert tiles("batch", "add", "pond green", "June").code == 0
    found = Answers(mark="N-1", body="red earthenware", glaze="pond green", batch="May",
                    firing="F12", seen="crawling")  # fmt: skip
    for given, arises in (
        (found, True), (replace(found, seen="clean"), False), (replace(found, batch="June"), False),
        (replace(found, batch=None), False), (replace(found, glaze="slip + pond green"), True),
    ):  # fmt: skip
        assert ask_log_firing.may_tell_glazed(None, given) is arises
    typed, asked = iter(["2030-01-01", "2024-12-02"]), []
    monkeypatch.setattr(ask, "_line", lambda prompt: asked.append(prompt) or next(typed))
    offered = Answers(firing="F12", glazed_on="2024-12-01")
    day = ask_log_firing.ask_glazed(None, offered, found)
    assert asked[0] == "Day it was glazed (its bucket was mixed on 2024-11-01) [2024-12-01]"
    assert "glazed on 2030-01-01" in capsys.readouterr().err
    assert values(replace(found, glazed_on=day))["glazed_on"] == "2024-12-02"


@pytest.mark.parametrize(
    ("typed", "told"), [("crawling bad", "what is seen on a tile"), ("y", "a yes or no")]
)
def test_a_new_shelf_that_reads_as_another_answer_is_asked_about(sample, monkeypatch, typed, told):
    said = []
    monkeypatch.setattr(common, "talk", said.append)
    monkeypatch.setattr(common, "yes_or_no", said.append)
    with pytest.raises(TilesError):
        ask_log_firing._read_shelf(None, typed, Answers(mark="N-8", body="red earthenware"))
    assert said == [
        f"{typed!r} looks like {told}, and no tile stood on a shelf of that name.",
        f"Is {typed!r} the shelf?",
    ]


def test_two_numbers_are_no_bisque_cone(sample):
    with pytest.raises(InvalidValue, match="'1,5' is no one cone"):
        ask_log_firing._read_bisque(None, "1,5")


def test_what_is_no_day_is_told_without_the_words_of_a_file(sample, monkeypatch, capsys):
    typed = iter(["18/9/26", "2026-09-81", "18.09.2026"])
    monkeypatch.setattr(ask, "_line", lambda prompt: next(typed))
    found = Answers(mark="N-1", body="red earthenware", seen="clean")
    assert ask_log_firing.ask_day(None, Answers(), found) == "2026-09-18"
    said = capsys.readouterr().err
    assert "'18/9/26' is no day. Try: year-month-day, such as 2026-03-01." in said
    assert "'2026-09-81' is no day." in said
    assert "18.09.2026 is read as 18 September 2026." in said
    assert "inspect" not in said


@pytest.mark.parametrize("typed", ["960 °C", "960"])
def test_a_bisque_in_degrees_is_told_its_cone_and_no_new_firing_of_that_name(sample, tiles, typed):
    with pytest.raises(InvalidValue, match="960 C is about cone 07½ .08 to 07.") as refused:
        ask_log_firing._read_bisque(None, typed)
    assert "--peak-c 960 of the firing" in refused.value.hint
    assert tiles("firing", "add", typed, "--kind", "bisque").code == 0
    assert ask_log_firing._read_bisque(None, typed) == typed, "a name on record is a name"

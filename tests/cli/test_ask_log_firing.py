"""What ``tiles log`` asks of the days of a tile, without a keyboard."""

from dataclasses import replace

from tiles.cli import ask, ask_log_firing
from tiles.cli.ask_log_answers import Answers, values


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

"""Which way each clue of the trade moves the causes of `why` and the forecast; never how far."""

import pytest

from diagnose.report import why
from diagnose.vocabulary import measure_words
from tests.outside import trade_signs, trade_tiles
from tests.outside.trade_signs import CHECKS, STATUSES, Line
from tiles.records.forms import DefectSeen, InspectionRecord

LINES = trade_signs.lines()
KNOWN_BEFORE = [line for line in LINES if line.is_known_before]
NO_MOVE = 0.05
"""Log-odds that are no move: every share gives way a little when another cause gains."""


def _holds(line: Line, check: str, rise: float) -> None:
    """The odds rise; or, where the line differs on purpose, they still do not."""
    said = f"{check}: {rise:+.2f} log-odds; {line.status}, {line.source}"
    if check in line.differs:
        assert rise <= NO_MOVE, f"no longer differs, take {check!r} out of the line. {said}"
    else:
        assert rise > NO_MOVE, said


@pytest.mark.parametrize("line", LINES, ids=str)
def test_a_clue_gives_its_cause_more_share(line):
    _holds(line, "for", line.share_with(line.fact) - line.share_with({}))


@pytest.mark.parametrize("line", [line for line in LINES if line.against], ids=str)
def test_the_value_that_speaks_against_a_cause_gives_it_less(line):
    _holds(line, "against", line.share_with({}) - line.share_with(line.against))


@pytest.mark.parametrize("line", KNOWN_BEFORE, ids=str)
def test_common_practice_alone_forecasts_the_fault_likelier(line):
    _holds(line, "forecast", trade_signs.forecast()[line])


@pytest.mark.parametrize("line", KNOWN_BEFORE, ids=str)
def test_the_curves_that_know_a_fact_point_the_same_way(line):
    with_fact, without = line.curves_with(line.fact), line.curves_with(line.other)
    if with_fact != without:
        _holds(line, "curve", sum(with_fact.values()) - sum(without.values()))


def test_the_shares_are_those_of_why():
    for line in LINES:
        tile = line.failed_with(line.fact)
        if tile.figures:
            continue
        look = InspectionRecord(inspected_on="2026-01-02", defects=[DefectSeen(defect=line.defect)])
        told = why(tile.record.model_copy(update={"inspections": [look]}))[0]
        shares = {name or "other": share for name, share in tile.causes(line.defect).items()}
        assert {cause.name: cause.share for cause in told.causes} == pytest.approx(shares), line


def test_every_line_says_what_it_rests_on_and_why_it_differs():
    assert len(LINES) >= 250
    for line in LINES:
        assert line.source and line.status in STATUSES, line
        assert set(line.differs) <= set(CHECKS), line
        assert bool(line.differs) == bool(line.reason), line
        assert line.causes or {"for", "against"} <= set(line.differs), line
        assert line.failed_with(line.against | line.fact).figures.keys() <= measure_words().keys()


def test_common_practice_is_asked_alone():
    assert "learned" not in trade_tiles.practice().states.values()

"""DEVELOPERS.md names what there is, and its worked example is what the program works out."""

import math
import re

import pytest

from diagnose.arithmetic import arithmetic
from diagnose.report import why
from diagnose.together import share_without
from tests.conftest import ROOT
from tiles.records import forms

FIRST = "coat_too_thick"
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def under(heading):
    """The part below a heading."""
    return TEXT.partition(heading)[2].partition("\n## ")[0]


@pytest.fixture(scope="module")
def example():
    """The part with the example, its lines joined."""
    return " ".join(under("### The arithmetic, with one example").split())


def test_the_layout_names_each_module_of_the_records_and_each_folder():
    layout = under("## Layout")
    modules = [file.name for file in (ROOT / "tiles/records").glob("*.py")]
    tops = ("tiles", "diagnose", "tests")
    packages = {file.parent.name for top in tops for file in (ROOT / top).glob("*/*.py")}
    names = {*modules, *packages} - {"__init__.py"}
    assert not [name for name in names if not re.search(rf"\b{re.escape(name)}", layout)]


def diagnosed(thickness_mm, **clues):
    jar = {"name": "moss", "kind": "jar", "cone_low": "06", "cone_high": "04"}
    values = {
        "mark": "M-1",
        "body": {"name": "red low-fire clay", "kind": "earthenware", "colour": "red"},
        "areas": [{"number": 1, "layers": [{"glaze": jar, "thickness_mm": thickness_mm}]}],
        "inspections": [{"inspected_on": "2026-03-02", "defects": [{"defect": "crawling"}]}],
        "clues": clues,
    }
    (answer,) = why(forms.read(forms.TileRecord, values))
    return answer


def weighed(answer):
    """Each cause of the sum by name, and the sum, both times 100."""
    numbers = arithmetic(answer.case)
    rows = {each["name"]: each for each in numbers["causes"]}
    return rows, 100 * numbers["sum_exp_log_odds"]


def share(rows, total, digits=3):
    thick = 100 * rows[FIRST]["exp_log_odds"]
    return f"{thick:.1f} / {total:.1f} = {thick / total:.{digits}f}"


def test_each_row_of_the_table_is_what_is_weighed(example):
    rows, _total = weighed(diagnosed(1.2, worst_where_thick="yes"))
    met = {name for name, row in rows.items() if row["signs"] or row["expected"]}
    told = dict(re.findall(r"\| (\w+) \| (\d+) \|", example))
    assert told.keys() == met
    for name in met:
        row = rows[name]
        prior, moved = f"{100 * row['prior']:g}", row["log_odds"] - row["ln_prior"]
        log_odds = row["log_odds"] + math.log(100)
        in_row = f"| ln {prior} {'+' if moved > 0 else '-'} {abs(moved):.2f} = {log_odds:.2f} "
        assert told[name] == prior
        assert f"{in_row}| {math.exp(log_odds):.1f} |" in example
    others = 100 * sum(row["prior"] for name, row in rows.items() if name not in met)
    assert f"| all others, no sign met | {others:.0f} | - | - | - | - | {others:.1f} |" in example


def test_the_evidence_of_the_first_row_is_what_counts(example):
    row = weighed(diagnosed(1.2, worst_where_thick="yes"))[0][FIRST]
    words, mm = sorted(row["signs"], key=lambda sign: sign["value"] != "yes")
    count = f"{mm['grade']:g} x {mm['weight']:.1f} = {mm['counts']:.1f}"
    assert f"{words['counts']:g}; 1.2 mm is half way from 1.0 to 1.4: {count}, halved" in example
    assert row["for"] == words["counts"] + mm["counts"] / 2
    (general,) = row["in_general"].values()
    assert f"by {general:.2f}: 0.75 x {general:.2f} = {row['expected']:.2f}" in example


def test_the_answer_and_why_it_may_be_given(example):
    answer = diagnosed(1.2, worst_where_thick="yes")
    rows, total = weighed(answer)
    assert f"Share of the thick coat {share(rows, total)}:" in example
    assert answer.enough_to_tell and answer.say.startswith("Almost certainly (about 9 in 10)")
    alone = share_without(answer.case.rows, "expected")
    thick = math.exp(rows[FIRST]["log_odds"] - rows[FIRST]["expected"]) * 100
    assert f"({thick:.1f} of {thick / alone:.1f}, {alone:.3f}) is over 0.40" in example
    assert f"the support ({rows[FIRST]['for']:.1f})" in example


def test_the_two_other_tiles(example):
    only_mm = diagnosed(1.2)
    rows, total = weighed(only_mm)
    assert f"ln 28 + 1.74 -> {share(rows, total, 2)}, still enough" in example
    assert only_mm.enough_to_tell
    thin = diagnosed(0.6)
    rows, total = weighed(thin)
    row, thick = rows[FIRST], 100 * rows[FIRST]["exp_log_odds"]
    assert f"28 x e^-{row['against']:.2f} = {thick:.1f} of {total:.1f}, " in example
    assert f"{100 * thick / total:.0f} in 100." in example
    assert row["expected"] == 0 and not thin.enough_to_tell

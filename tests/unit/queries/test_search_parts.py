"""Small parts of the search that need no database."""

import pytest

from tiles.queries.search import Found, worse
from tiles.records.mark_looks import natural_key


def test_marks_sort_as_a_person_counts():
    marks = ["M-10", "M-9", "m-2", "A-1", "M-9b", "12", "M", "9"]
    assert sorted(marks, key=natural_key) == ["9", "12", "A-1", "M", "m-2", "M-9", "M-9b", "M-10"]


@pytest.mark.parametrize(
    ("first", "second", "worst"),
    [
        ("slight", "severe", "severe"),
        ("severe", "moderate", "severe"),
        (None, "slight", "slight"),
        ("slight", None, "slight"),
        (None, None, None),
    ],
)
def test_the_worse_severity_wins_and_an_unsaid_one_never_hides_another(first, second, worst):
    assert worse(first, second) == worst


def found(**values):
    plain = {"mark": "M-1", "area": 1, "area_label": None, "body": "b", "firing": None}
    return Found(**plain, fired_on=None, cone_reached=None, **values)


def test_clean_is_known_only_after_a_look():
    assert found(inspected=False).clean is None
    assert found(inspected=True).clean is True
    assert found(inspected=True, severity={"crazing": None}).clean is False

"""Words that were kept as another fault, and the fault of the list that they mean."""

from tiles.records import forms, looks


def look(*defects, day="2026-03-02"):
    seen = [
        dict(zip(("defect", "note", "area", "severity"), each, strict=False)) for each in defects
    ]
    return forms.read(forms.InspectionRecord, {"inspected_on": day, "defects": seen})


MILKY = ("other", "milky", 1, "severe")


def test_words_kept_as_other_are_told_as_the_fault_that_they_mean():
    untouched = look(("other", "greasy", 1), ("cloudiness", "at the rim", 1))
    named = looks.told_as([untouched, look(MILKY, ("other", "greasy", 1))], "Milky", "cloudiness")
    assert named == [
        untouched, look(("other", "greasy", 1), ("cloudiness", "milky", 1, "severe"))
    ]  # fmt: skip


def test_a_look_that_tells_the_fault_of_that_place_already_tells_it_once():
    both = look(MILKY, ("cloudiness", "at the rim", 1), ("cloudiness", None, 2, "slight"))
    assert looks.told_as([both], "milky", "cloudiness") == [
        look(("cloudiness", "at the rim; milky", 1, "severe"), ("cloudiness", None, 2, "slight"))
    ]


def test_looks_that_become_the_same_are_one_and_others_of_a_day_stay_two():
    same = look(("cloudiness", "milky", 1, "severe"))
    assert looks.told_as([look(MILKY), same], "milky", "cloudiness") == [same]
    clean = [look(), look()]
    assert looks.told_as([*clean, look(MILKY)], "milky", "cloudiness") == [*clean, same]

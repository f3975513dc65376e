"""Looks noted as one person's that found nothing, beside others' at tiles of the same loads."""

from math import comb

import pytest

from diagnose.comparing.nothing_seen import nothing_seen
from tiles.records import forms

ANN = "looked by Ann"


def load(name, clean, others, *, note=ANN, fault="crawling", own_fault=None):
    """A firing of so many tiles that Ann looked at, and of others, given as faulty and all."""
    faulty, many = others
    seen = [(note, own_fault)] * clean
    seen += [(None, fault if at < faulty else None) for at in range(many)]
    looks = [
        {"inspected_on": "2026-01-10", "note": words,
         "defects": [{"defect": defect}] if defect else []}
        for words, defect in seen
    ]  # fmt: skip
    return [
        forms.read(
            forms.TileRecord,
            {"mark": f"{name}-{at}", "body": "red clay", "firing": name, "inspections": [look]},
        )
        for at, look in enumerate(looks)
    ]


def loads(*of, **how):
    return [
        tile
        for at, (clean, others) in enumerate(of)
        for tile in load(f"F{at}", clean, others, **how)
    ]


MANY = ((4, (5, 8)),) * 3


def looked_again(records, note, *faults):
    """The same, each looked at once more after a month."""
    for each, fault in zip(records, [*faults, *[None] * len(records)], strict=False):
        again = {"inspected_on": "2026-02-10", "note": note,
                 "defects": [{"defect": fault}] if fault else []}  # fmt: skip
        each.inspections.append(forms.InspectionRecord.model_validate(again))
    return records


def test_looks_of_one_person_that_found_nothing_where_others_found_much_are_told():
    unseen = load("F9", 2, (0, 0))
    (found,) = nothing_seen(loads(*MANY) + unseen)
    assert (found.note, found.faulty, found.others, found.loads) == (ANN, 15, 24, 3)
    assert len(found.marks) == 14
    # Within a load 5 faults fall on 12 tiles at random, and all of them on those of others.
    one_sided = (comb(8, 5) / comb(12, 5)) ** 3
    assert one_sided <= found.chance < 2 * one_sided


@pytest.mark.parametrize(
    "records",
    [
        loads(*MANY, note="sound and bright"),  # what was seen, and not who saw it
        loads(*MANY, own_fault="pinholing"),
        loads(*MANY, fault="crazing"),  # came later perhaps
        loads((5, (7, 8)), (5, (7, 8))),  # two loads
        loads((2, (8, 8)), (2, (8, 8)), (2, (8, 8))),  # six tiles
        loads((4, (3, 8)), (4, (3, 8)), (4, (3, 8))),  # chance does that
        loads((4, (0, 0)), (4, (0, 0)), (4, (0, 0)), (0, (9, 9))),  # nobody else looked there
    ],
)
def test_it_is_not_told_of_few_or_of_what_chance_would_do(records):
    assert nothing_seen(records) == []


def test_the_more_wordings_are_looked_at_the_surer_it_must_be():
    (alone,) = nothing_seen(loads(*MANY))
    others = [
        tile
        for n in range(2)
        for at, each in enumerate(((3, (0, 8)),) * 3)
        for tile in load(f"G{n}{at}", *each, note=f"looked by person {n}")
    ]
    (beside,) = nothing_seen(loads(*MANY) + others)
    assert beside.chance == pytest.approx(3 * alone.chance)


def test_first_looks_are_held_against_first_looks():
    """What a second look found says nothing of the first; nor who found nothing new at one."""
    found_later = looked_again(loads(*((4, (0, 8)),) * 3), "seen by Bo", *["crawling"] * 36)
    assert nothing_seen(found_later) == []
    looked_twice = looked_again(loads(*((0, (5, 8)),) * 3), ANN)
    assert nothing_seen(looked_twice + loads(*((0, (5, 8)),) * 3)) == []
    (first,) = nothing_seen(looked_again(loads(*MANY), "seen by Bo", "crawling"))
    assert (len(first.marks), first.faulty, first.others) == (12, 15, 24)


def test_of_who_found_a_fault_at_a_second_look_nothing_is_told():
    others = loads(*((0, (5, 8)),) * 3)
    assert nothing_seen(loads(*MANY) + looked_again(others, ANN))
    assert nothing_seen(loads(*MANY) + looked_again(others[::-1], ANN, "pinholing")) == []

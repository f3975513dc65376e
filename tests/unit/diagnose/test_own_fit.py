"""The worked-out expansion of a glaze among those of other glazes on the same body."""

import pytest

from diagnose.body_limit.fit import fit
from diagnose.body_limit.glaze_expansion import Expansions
from diagnose.body_limit.tiles import seen_on_body
from diagnose.own_tiles.fit import lesson_of_fit
from diagnose.report import why
from tiles.records import forms

FELDSPARS = (30, 40, 50, 60, 70, 80)
"""Parts of soda feldspar: the more, the more the glaze shrinks."""


def tile(mark, feldspar, *defects, body="porcelain", glaze=None, on="2026-03-02", **more):
    parts = {"soda feldspar": feldspar, "whiting": 10, "kaolin": 10, "silica": 80 - feldspar}
    lines = [{"material": name, "parts": each} for name, each in parts.items() if each]
    layer = {"glaze": {"name": glaze or f"glaze {feldspar}", "kind": "recipe", "role": "glaze"},
             "recipe": {"lines": lines}}  # fmt: skip
    return forms.TileRecord.model_validate(
        {"mark": mark, "body": {"name": body}, "cone_reached": "6",
         "firing": {"name": "F1", "fired_on": "2026-03-01"},
         "areas": [{"number": 1, "layers": [layer]}],
         "inspections": [{"inspected_on": on, "defects": [{"defect": e} for e in defects]}]} | more
    )  # fmt: skip


def series(limit, defect="crazing", **made):
    """Two tiles of each glaze; those of more feldspar than the limit have the fault."""
    return [
        tile(f"S-{feldspar}-{n}", feldspar, *([defect] if feldspar > limit else []), **made)
        for feldspar in FELDSPARS
        for n in (1, 2)
    ]


def value(feldspar):
    return Expansions().of_area(tile("T", feldspar).areas[0]).value


def told(feldspar, others, defect="crazing"):
    record = tile("T-1", feldspar, defect)
    return lesson_of_fit(others, record, record.areas[0], defect)


def test_the_more_feldspar_the_more_a_glaze_shrinks():
    values = [value(each) for each in FELDSPARS]
    assert values == sorted(values) and values[-1] - values[0] > 1


def test_a_glaze_beyond_what_crazed_on_its_body_is_told_with_the_counts():
    lesson = told(75, series(50))
    beyond, short, own = (f"{value(each):.1f}" for each in (60, 50, 75))
    assert lesson.say == (
        f"on porcelain, of 6 tiles with glazes that work out at {beyond} ppm/K or more 6 crazed, "
        f"of 6 with {short} ppm/K or less none; this one works out at {own}."
    )
    assert lesson.lift > 0.5


def test_the_counts_part_at_the_limit_that_the_body_shows():
    limit = fit(seen_on_body(series(50), "porcelain")[0])
    assert value(50) < limit.value < value(60)


@pytest.mark.parametrize(
    ("feldspar", "others"),
    [(35, series(50)),  # it lies on the sound side
     (75, series(50, body="buff")),  # another clay
     (75, series(90)), (75, series(0)),  # all alike
     (75, series(50)[:4]),  # two glazes
     (80, [*series(70), *(tile(f"M-{n}", 80, "crazing") for n in range(4))]),  # it alone crazed
     (75, [each for each in series(50) if "pinholes" in each.mark])],
)  # fmt: skip
def test_what_tells_nothing_is_not_told(feldspar, others):
    assert told(feldspar, others) is None


def test_only_faults_of_fit_are_counted_so():
    assert told(75, series(50, "pinholes"), "pinholes") is None


def test_a_glaze_that_shrinks_too_little_shivers():
    sound = [each for each in series(50, "shivering") if not each.inspections[0].defects]
    failed = [
        tile(f"L-{n}", feldspar, "shivering") for n, feldspar in enumerate((5, 5, 10, 10, 15))
    ]
    lesson = told(8, [*sound, *failed], "shivering")
    assert "ppm/K or less 5 shivered, of 6 with" in lesson.say


def test_tiles_looked_at_too_early_are_no_sound_ones():
    late = [each for each in series(50) if each.inspections[0].defects]
    for each in late:
        each.inspections[0].inspected_on = each.inspections[0].inspected_on.replace(month=9)
    early = [each for each in series(50) if not each.inspections[0].defects]
    assert told(75, [*late, *early]) is None


def test_it_speaks_for_the_causes_of_fit():
    record = tile("T-1", 75, "crazing")
    alone, joined = (why(record, None, of)[0] for of in ([], [record, *series(50)]))
    before, after = ({c.name: c.share for c in each.causes} for each in (alone, joined))
    assert joined.causes[0].name == "poor_fit"
    assert after["poor_fit"] > before["poor_fit"] + 0.1
    assert any("this one works out at" in each for each in joined.causes[0].your_tiles)

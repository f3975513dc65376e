"""What is said once of a record that is stored as it stands."""

from datetime import date

import pytest

from tiles.records import notices
from tiles.records.forms import FiringRecord, TileRecord

FIRED = date(2026, 1, 1)


@pytest.mark.parametrize(
    ("firing", "today", "days"),
    [
        (FiringRecord(name="F1", fired_on=FIRED), date(2026, 1, 8), None),
        (FiringRecord(name="F1", fired_on=FIRED), date(2026, 3, 2), None),  # 60 days
        (FiringRecord(name="F1", fired_on=FIRED), date(2026, 3, 3), 61),
        (FiringRecord(name="F1", fired_on=FIRED), date(2026, 11, 15), 318),
        (FiringRecord(name="F1"), date(2026, 11, 15), None),
        (None, date(2026, 11, 15), None),
    ],
)
def test_a_firing_of_more_than_two_months_ago_is_long_ago(firing, today, days):
    assert notices.days_since_long_ago(firing, today) == days


BY_SHELF = [{"cone": "05", "shelf": "top"}, {"cone": "06", "shelf": "bottom"}]


def tile(mark="M-1", cones=BY_SHELF, **values):
    firing = {"name": "L5", "witness_cones": cones}
    return TileRecord.model_validate({"mark": mark, "body": "red", "firing": firing} | values)


@pytest.mark.parametrize(
    "record",
    [
        tile(shelf="top"),
        tile(shelf="TOP"),
        tile(),
        tile(shelf="botom", cone_reached="06"),
        tile(shelf="botom", cones=[{"cone": "05"}]),
        tile(shelf="botom", cones=[]),
        tile(shelf="botom", firing=None),
    ],
)
def test_a_shelf_is_silent_where_no_cone_is_lost_by_it(record):
    assert notices.shelves_without_cone([record]) == []


def test_a_shelf_that_no_witness_cone_names_is_told_once_with_its_tiles():
    records = [tile("M-1", shelf="botom"), tile("M-2", shelf="botom"), tile("M-3", shelf="top")]
    assert notices.shelves_without_cone(records) == [
        "L5 has no witness cone for shelf 'botom', only for top, bottom: "
        "no cone reached is known for M-1, M-2. Did you mean 'bottom'?"
    ]


def test_a_shelf_without_a_cone_takes_that_of_the_whole_load_which_is_said():
    (said,) = notices.shelves_without_cone([tile(shelf="left", cones=[*BY_SHELF, {"cone": "04"}])])
    assert "cone 04 of the whole load counts for M-1." in said
    assert "Did you mean" not in said


def layered(*roles, mark="M-1"):
    layers = [{"glaze": {"name": role or "glaze", "role": role}} for role in roles]
    return tile(mark, areas=[{"number": 1, "layers": layers}])


@pytest.mark.parametrize("roles", [("glaze", "underglaze"), (None, "slip")])
def test_a_colour_over_a_glaze_is_told_once_with_its_tiles(roles):
    (said,) = notices.colours_on_top([layered(*roles), layered(*roles, mark="M-2")])
    assert said.startswith(f"{roles[1]} lies on top of glaze on M-1, M-2: layers are given from")


@pytest.mark.parametrize("roles", [
    ("underglaze", "glaze"), ("slip", "underglaze"), ("glaze", "wash"), ("glaze",), ()
])  # fmt: skip
def test_layers_in_their_usual_order_and_washes_are_silent(roles):
    assert notices.colours_on_top([layered(*roles)]) == []


def test_a_set_of_trials_on_two_shelves_is_told_and_one_on_a_single_shelf_is_not():
    def trial(mark, shelf, of="M-41"):
        made = tile(mark, shelf=shelf)
        return made.model_copy(update={"trial_of": of, "trial_defect": "crawling"})

    apart = [trial("N-1", "top"), trial("N-2", "Top"), trial("N-3", "Bottom"), tile("M-9")]
    assert notices.sets_apart(apart) == [
        "Trials for M-41 lie on several shelves (Bottom: N-3; top: N-1, N-2): put them on one, or "
        "the shelf is a second change."
    ]
    assert notices.sets_apart([*apart[:2], trial("N-3", "bottom", of="M-42")]) == []
    moved = trial("N-3", "bottom").model_copy(update={"trial_change": "shelf top -> bottom"})
    assert notices.sets_apart([*apart[:2], moved]) == []


def test_tiles_on_no_shelf_are_told_where_each_witness_cone_is_that_of_a_shelf():
    assert notices.on_no_shelf([tile("M-1"), tile("M-2"), tile("M-3", shelf="top")]) == [
        "M-1, M-2: no shelf, so no cone reached is known. L5 has witness cones for top, bottom."
    ]
    of_load = tile(cones=[*BY_SHELF, {"cone": "05"}])
    known = [tile(cone_reached="05"), tile(cones=[]), tile(firing=None), of_load]
    assert notices.on_no_shelf(known) == []


def fired(mark, *days, defects=(), **values):
    """A tile of a load fired on the first of the year, looked at on these days of its month."""
    seen = [{"defect": each} for each in defects]
    looks = [{"inspected_on": f"2026-01-{day:02}", "defects": seen} for day in days]
    firing = {"name": "L5", "fired_on": FIRED}
    return tile(mark, **{"firing": firing, "inspections": looks} | values)


def test_a_tile_put_into_a_load_that_was_looked_at_is_told():
    beside = [fired("M-1", 4, 9), fired("M-2")]
    said = "L5 was fired on 2026-01-01, and tiles of it were looked at on 2026-01-04"
    assert notices.loaded_too_late([beside[1]], beside, []) == {said: ["M-2"]}
    assert notices.loaded_too_late([beside[1]], [beside[1]], []) == {}
    assert notices.loaded_too_late([beside[0]], beside, []) == {}, "its look is of that load"
    undated = fired("M-3", firing={"name": "L5"})
    assert notices.loaded_too_late([undated], beside, []) == {}


def test_a_trial_put_into_a_load_fired_before_its_tile_failed_is_told():
    of = {"trial_of": "m-1", "trial_defect": "crawling", "trial_change": "coats 3 -> 2"}
    trial = fired("R-1", 4, **of)
    failed = fired("M-1", 4, defects=["crawling"])
    (said,) = notices.loaded_too_late([trial], [trial], [failed])
    assert said.endswith("m-1, which it is a trial for, was first seen to fail on 2026-01-04")
    before = fired("M-1", 1, defects=["crawling"])
    assert notices.loaded_too_late([trial], [trial], [before]) == {}
    assert notices.loaded_too_late([trial], [trial], [fired("M-1", 4, defects=["crazing"])]) == {}

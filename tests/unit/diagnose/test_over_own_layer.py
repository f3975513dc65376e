"""Asked of one glaze, tiles are told apart by the coat and the batch of that glaze itself."""

import pytest

from diagnose.comparing.over_tiles import over_tiles
from tiles.records.forms import TileRecord


def stack(number, failed, *layers):
    """A tile with these layers from the clay up, each a name, a role and what is known of it."""
    found = [{"glaze": {"name": name, "role": role}, **known} for name, role, known in layers]
    return TileRecord.model_validate(
        {
            "mark": f"T-{number}",
            "body": "red",
            "areas": [{"number": 1, "layers": found}],
            "inspections": [
                {"inspected_on": "2025-03-03", "defects": [{"defect": "crawling"}] * failed}
            ],
        }
    )


def counts(records, glaze):
    found = over_tiles(records, glaze, "crawling").differences
    return {
        each.name: (each.with_failed, each.with_all, each.without_failed, each.without_all)
        for each in found
    }


@pytest.mark.parametrize("role", ["underglaze", "glaze"])
@pytest.mark.parametrize(
    ("name", "bad", "good"),
    [("coats", 3, 1), ("thickness_mm", 1.2, 0.4), ("batch", "b", "a"), ("method", "dip", "brush")],
)
def test_of_a_lower_layer_its_own_coat_and_batch_are_counted(name, bad, good, role):
    """Moos fails in one way of putting it on; how the clear over it was put on tells nothing."""
    records = [
        stack(n, n < 6, ("moos", role, {name: bad if n < 6 else good}),
              ("clear", "glaze", {name: bad if n % 2 else good}))
        for n in range(12)
    ]  # fmt: skip
    assert sorted(counts(records, "moos")[name]) == [0, 6, 6, 6]
    assert name not in counts(records, "clear"), "three of six on either side"


def test_of_a_glaze_over_another_one_the_coats_are_not_added_up():
    """Two coats of iron failed, whatever lay beneath; the sums tell nothing."""
    records = [
        stack(n, n < 6, ("oat", "glaze", {"coats": 1 if n < 6 else 2}),
              ("iron", "glaze", {"coats": 2 if n < 6 else 1}))
        for n in range(12)
    ]  # fmt: skip
    assert counts(records, "iron")["coats"] == (6, 6, 0, 6)
    assert counts(records, "oat")["coats"] == (0, 6, 6, 6), "one coat or fewer failed"


def test_what_lies_beneath_is_what_lies_beneath_that_glaze():
    slip = ("white slip", "slip", {"coats": 1})
    records = [
        stack(n, n < 5, *([slip] if n < 5 else []), ("moos", "underglaze", {}),
              ("clear", "glaze", {}))
        for n in range(11)
    ]  # fmt: skip
    under = next(
        each for each in over_tiles(records, "moos", "crawling").differences if each.name == "under"
    )
    assert "over white slip" in under.say and "moos" not in under.say


def test_what_lies_over_a_colour_and_in_how_many_coats_sets_it_apart():
    """A pink fails under one clear and not under another, whatever its own coats."""
    records = [
        stack(n, n < 6, ("rosa", "underglaze", {"coats": 2}),
              ("zinc clear" if n < 6 else "clear", "glaze", {"coats": 1 + n % 2}))
        for n in range(12)
    ]  # fmt: skip
    found = over_tiles(records, "rosa", "crawling")
    assert "Under clear: 0 of 6 tiles crawled; under zinc clear: 6 of 6" in found.say
    rot = ("rot", "underglaze", {"coats": 2})
    coats = [stack(n, n < 6, rot, ("clear", "glaze", {"coats": 1 + n // 6})) for n in range(12)]
    told = over_tiles(coats, "rot", "crawling").say
    assert "With 1 coat or none over it: 6 of 6 tiles crawled; with 2 coats or more" in told


def test_two_glazes_that_fail_in_either_order_are_one_fact():
    """Each order by itself has too few tiles to tell; both together are told."""
    amber, green = ("amber", "glaze", {}), ("green", "glaze", {})
    records = [
        *(stack(n, True, *((amber, green) if n % 2 else (green, amber))) for n in range(4)),
        *(stack(10 + n, False, (("amber", "green", "blue")[n % 3], "glaze", {})) for n in range(9)),
        *(stack(20 + n, False, amber, ("blue", "glaze", {})) for n in range(2)),
    ]
    of_amber = over_tiles(records, "amber", "crawling")
    assert "Together with green, over or under it: 4 of 4 tiles crawled" in of_amber.say
    assert not [each for each in of_amber.differences if each.name in ("under", "above")]
    of_all = over_tiles(records, None, "crawling").say
    assert "Amber and green on one area, in either order: 4 of 4 tiles crawled" in of_all

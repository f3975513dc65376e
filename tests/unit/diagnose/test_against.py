"""What own tiles say against a cause: told where it is acted on, and its tiles go last."""

from diagnose.fixes.of_tile import fix
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.next_tiles.open_faults import OpenFault
from diagnose.own_tiles.against import spoken_against
from diagnose.report import why
from tests.unit.diagnose.test_next_tiles import OWNED, tile
from tiles.cli import next_studio_text, next_text
from tiles.cli.fix_plan import Marked
from tiles.cli.fix_text import screen
from tiles.cli.next_studio import FIRE, Asked, ForStudio

THICK = "coat_too_thick"


def over_leaf(number, mm, defects=()):
    """Two coats over a colour that was put on bisque."""
    record = tile("crawling", coats=2, mm=mm, more=()).model_copy(update={"mark": f"T-{number}"})
    leaf = {"glaze": {"name": "leaf", "role": "underglaze"}, "coats": 2, "applied_on": "bisque"}
    (area,) = record.model_dump()["areas"]
    (look,) = record.model_dump()["inspections"]
    seen = [{"defect": each} for each in defects]
    return type(record).model_validate(
        record.model_dump()
        | {"areas": [area | {"layers": [leaf, *area["layers"]]}],
           "inspections": [look | {"defects": seen}]}
    )  # fmt: skip


FAILED, *OTHERS = [
    *(over_leaf(number, 0.8, ["crawling"]) for number in range(1, 4)),
    *(over_leaf(number, 1.3) for number in range(4, 7)),
]
ALIKE = [over_leaf(number, 0.8, ["crawling"]) for number in range(2, 4)]
COUNT = "Of 3 others with a dry coat of 1.3 mm or more none crawled"


def test_fix_tells_a_count_against_a_cause_and_fires_its_tile_last():
    (answer,) = fix(FAILED, others=OTHERS)
    thick = next(each for each in answer.causes if each.cause == THICK)
    assert thick.against[0].startswith(COUNT)
    thinner = next(each.trials[0].change for each in thick.fixes)
    assert [each.change for each in answer.trials][-1] == thinner
    (alone,) = fix(FAILED, others=ALIKE)
    changes = [each.change for each in alone.trials]
    assert changes.index(thinner) < len(changes) - 1
    marked = [Marked(f"N-{at}", "crawling", each) for at, each in enumerate(answer.trials)]
    told = " ".join(" ".join(screen(FAILED, [answer], marked, is_planned=False)).split())
    assert f"against {COUNT}" in told
    assert f"({thinner}) first" not in told


def test_the_first_of_two_numbers_says_what_it_is_a_number_of():
    said = spoken_against(why(FAILED, None, OTHERS)[0].case, THICK)
    assert said[0].startswith(COUNT)
    assert said[0].endswith("of 2 like this one, with 0.8 mm or less, 2 did.")


def test_next_tells_it_too_and_fires_one_tile_for_that_cause_the_last():
    found = next_tiles(why(FAILED, None, OTHERS)[0], OWNED, others=OTHERS)
    thin = ("coats 2 -> 1", "dry coat 0.8 -> ")
    places = [at for at, each in enumerate(found.tiles) if each.trial.change.startswith(thin)]
    assert places == [len(found.tiles) - 1]
    alone = next_tiles(why(FAILED, None, ALIKE)[0], OWNED, others=ALIKE)
    assert any(each.trial.change.startswith(thin) for each in alone.tiles[:2])
    assert alone.against == {}
    ((title, said),) = found.against.items()
    assert title == "the coat was too thick" and said.startswith(COUNT)
    marked = [Marked(f"N-{at}", "crawling", each) for at, each in enumerate(found.trials)]
    told = " ".join(" ".join(next_text.screen(found, marked, is_planned=False)).split())
    assert f"{said} That speaks against: {title}." in told
    assert next_text.as_dict(found, marked)["against"] == [{"title": title, "say": said}]


def test_a_sound_twin_with_more_coats_speaks_against_the_thick_coat_in_fix_as_well():
    failed = tile("crawling", coats=2)
    sound = tile("crawling", coats=3).model_copy(update={"mark": "S-1"})
    sound.inspections[0].defects.clear()
    case = why(failed, None, [sound])[0].case
    said = "S-1 is alike but for the coats, 3, and came out clean."
    assert spoken_against(case, THICK) == [said]
    assert spoken_against(case, "other") == []
    (answer,) = fix(failed, others=[sound])
    by_cause = {each.cause: each.against for each in answer.causes}
    assert by_cause[THICK] == [said]
    assert answer.trials[-1].change.startswith("coats 2 -> 1")


def _shelf(record, others=()):
    """What is proposed for a fault of a tile, and how the studio's shelf tells it."""
    found = next_tiles(why(record, None, others)[0], OWNED, others=others)
    fault = OpenFault("pond", found.defect, failed=[record], tiles=6)
    asked = Asked(fault, record, "05", FIRE, found, found.trials)
    marked = [Marked(f"N-{at}", found.defect, each) for at, each in enumerate(found.trials)]
    lines = next_studio_text.screen(ForStudio([asked], None, None, 12), marked, is_planned=True)
    return found.tiles, " ".join(" ".join(lines).split())


def test_the_shelf_of_the_studio_says_it_too():
    _, told = _shelf(FAILED, OTHERS)
    assert "but your tiles speak against it)" in told
    assert "speak against" not in _shelf(FAILED, ALIKE)[1]


def test_the_shelf_of_the_studio_says_what_another_glaze_is_fired_for():
    tiles, told = _shelf(tile("crazing"))
    swaps = [each.trial.change for each in tiles if each.kind == "glaze"]
    assert swaps and len(swaps) < len(tiles)
    assert all(f"{each} (does another glaze fail so as well?)" in told for each in swaps)
    assert told.count("(does another glaze") == len(swaps)

"""What the commands read of a whole studio."""

from diagnose.comparing.of_studio import Clear
from tests.unit.diagnose.test_forecast import tile
from tiles.cli.next_of import count_over_all
from tiles.cli.studio import MOST_COUNTED, few_enough


def test_too_many_tiles_are_not_counted_over_all_glazes():
    many = [tile(number) for number in range(MOST_COUNTED + 1)]
    assert few_enough(many[1:]) == many[1:]
    assert few_enough(many) == []


def test_next_counts_a_fault_over_all_glazes_as_why_does():
    red = {"name": "red clay"}
    failed = [tile(n, body=red, glaze=f"glaze {n % 5}", defects=["pinholes"]) for n in range(12)]
    sound = [tile(n, body={"name": "white"}, glaze=f"glaze {n % 5}") for n in range(12, 50)]
    (told,) = count_over_all([*failed, *sound])("pinholes").counts
    assert "body red clay: 12 of 12" in told.say
    blank = [tile(n, body={"name": "white"}) for n in range(50, 50 + MOST_COUNTED)]
    assert count_over_all([*failed, *sound, *blank])("pinholes") == Clear()

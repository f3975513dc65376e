"""``tiles why --glaze`` on the sample: the failing tiles beside the sound ones."""

import json
import re

from tests.conftest import ROOT


def test_the_failing_are_set_beside_the_sound_and_the_causes_pooled(sample, tiles):
    told = " ".join(tiles("why", "--glaze", "pond green", "--defect", "crawling").out.split())
    assert told.startswith("Crawling on ")
    assert re.search(r"coats or fewer: 0 of \d+ areas crawled; with 3 or more: \d+ of", told)
    assert told.casefold().count("with a dry coat of") == 1
    assert "chance would do this less than 1 time in 1000" in told
    assert "each by itself and without these counts:" in told
    assert "The coat was too thick, first on" in told


def test_all_tells_every_difference(sample, tiles):
    ask = ("why", "--glaze", "pond green", "--defect", "crawling")
    assert len(tiles(*ask, "--all").out) > len(tiles(*ask).out)


def test_the_json_has_the_documented_keys(sample, tiles):
    ran = tiles("why", "--glaze", "POND GREEN", "--defect", "crawling", "--json")
    told = json.loads(ran.out)
    assert told["glaze"] == "pond green"
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    keys = {*told, *told["differences"][0], *told["causes"][0]}
    assert not [key for key in keys if f"`{key}`" not in readme]

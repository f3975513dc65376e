"""Every word of the defect list stands wherever one is needed; DEVELOPERS.md names the places."""

import pytest

from diagnose.learning.usual import PREVALENCE
from diagnose.rules import load
from diagnose.wording import DID, HAPPENED
from tiles.cli.next_text import AGAIN
from tiles.cli.unload import DEFECT_KEYS
from tiles.records.words import DEFECTS


@pytest.mark.parametrize(
    "words",
    [PREVALENCE, HAPPENED, DEFECT_KEYS.values()],
    ids=["how often it turns up", "the lead sentence", "the key of tiles unload"],
)
def test_a_table_of_all_defects_holds_just_the_list(words):
    assert sorted(words) == sorted(DEFECTS)


@pytest.mark.parametrize("words", [AGAIN, DID], ids=["next", "why --glaze"])
def test_a_table_of_verbs_names_no_other(words):
    assert words.keys() <= set(DEFECTS)


@pytest.mark.parametrize("defect", DEFECTS)
def test_there_is_a_cause_file(defect):
    assert load(defect).defect == defect

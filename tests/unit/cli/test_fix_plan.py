"""What to type once the trials of a fix are glazed."""

from types import SimpleNamespace

from tiles.cli.fix_plan import Marked, load_hints


def marked(number, note):
    return Marked(f"N-{number}", "crawling", SimpleNamespace(tile={"note": note}))


def test_a_trial_that_needs_a_firing_of_its_own_is_loaded_by_itself():
    same = "Same firing and shelf as the others of the set. In kiln big, as then."
    trials = [marked(1, same), marked(2, "Fire it in small kiln."), marked(3, same)]
    assert load_hints(trials).splitlines() == [
        "When glazed: tiles load FIRING N-1 N-3",
        "By itself, in small kiln. When glazed: tiles load FIRING N-2",
    ]
    assert load_hints(trials[::2]) == "When glazed: tiles load FIRING N-1 N-3"

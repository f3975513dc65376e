"""A fact told on one row of a glaze, body or firing holds for its other rows."""

from tiles.exchange import flat_csv


def test_a_fact_given_on_one_row_of_a_glaze_body_or_firing_holds_for_its_other_rows(write):
    file = write(
        "mark,body,body_kind,glaze,glaze_finish,under_glaze,firing,hold_min",
        "A-1,red clay,,pond,,,June,",
        "A-2,red clay,earthenware,,,,June,15",
        "A-3,white clay,,moss,matt,pond,,",
        "A-4,Red Clay,,Pond,clear,,,",
    )
    one, two, three, _ = (record for _, record in flat_csv.read_file(file).tiles)
    assert one.body.kind == "earthenware"
    assert one.areas[0].layers[0].glaze.finish == "clear"
    assert three.areas[0].layers[0].glaze.finish == "clear", "also where it lies beneath"
    assert (one.firing.hold_min, two.firing.hold_min) == (15, 15)
    assert three.body.kind is None, "nobody told anything of the white clay"


def test_rows_that_disagree_about_a_glaze_leave_its_blanks_blank(write):
    file = write(
        "mark,body,glaze,glaze_finish",
        "A-1,red clay,pond,",
        "A-2,red clay,pond,matt",
        "A-3,red clay,pond,gloss",
    )
    finishes = [r.areas[0].layers[0].glaze.finish for _, r in flat_csv.read_file(file).tiles]
    assert finishes == [None, "matt", "gloss"]


def test_a_glaze_with_a_recipe_on_a_later_row_is_a_recipe_on_the_first(write):
    file = write("mark,body,glaze,recipe", "A-1,red clay,pond,", "A-2,red clay,pond,whiting=100")
    first, second = (record.areas[0].layers[0] for _, record in flat_csv.read_file(file).tiles)
    assert (first.glaze.kind, first.recipe) == ("recipe", None), "which version is not recorded"
    assert second.recipe is not None

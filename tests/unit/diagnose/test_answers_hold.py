"""What an answer may not say: the reverse of the record, or more than it tells."""

import pytest

from diagnose.measures.of_area import measures
from diagnose.report import why
from diagnose.unrecorded import most_telling
from diagnose.vocabulary import how_to_get
from tests.unit.diagnose.test_report import coat, tile

JAR = {"name": "moss", "kind": "jar", "role": "glaze", "cone_low": "06", "cone_high": "04"}


def _fired(defect, reached="05", *, target="05", clues=None, severity=None, **glaze):
    """A low-fire jar, bisqued at 04, in a kiln set for ``target``."""
    return tile(
        {"defect": defect, "severity": severity},
        areas=[coat(glaze=JAR | glaze)],
        firing={"name": "F", "target_cone": target},
        bisque_cone="04",
        cone_reached=reached,
        clues=clues or {},
        body={"name": "white", "cone_low": "06", "cone_high": "04"},
    )


def _why(*args, **more):
    return why(_fired(*args, **more))[0]


def _share(answer, name):
    return next(each.share for each in answer.causes if each.name == name)


def test_a_bisque_is_held_against_the_label_where_the_firing_was_far_over_it():
    found = measures(_fired("pinholes", "5", target="5"), None, "pinholes")
    assert found["bisque_minus_glaze_cones"].value == 0
    assert "made for cone 04" in found["bisque_minus_glaze_cones"].said
    near = measures(_fired("pinholes", "03", target="03"), None, "pinholes")
    assert near["bisque_minus_glaze_cones"].value == -1


@pytest.mark.parametrize("reached", ["02", "01", "1", "2"])
@pytest.mark.parametrize("defect", ["running", "blisters"])
def test_a_kiln_some_cones_over_what_it_was_set_for_is_called_overfired(defect, reached):
    answer = _why(defect, reached)
    assert answer.causes[0].name == "overfired"
    assert answer.enough_to_tell
    assert any("no offset" in each or "offset does not" in each for each in answer.causes[0].fixes)


def test_a_kiln_set_over_the_label_is_told_as_that():
    answer = _why("running", "02", target="02")
    assert answer.causes[0].name == "above_its_range"
    assert answer.enough_to_tell


@pytest.mark.parametrize("reached", ["1", "5", "8"])
def test_underfired_far_over_the_cone_is_called_a_contradiction(reached):
    answer = _why("underfired", reached)
    assert answer.causes[0].name == "record_contradicts"
    assert answer.enough_to_tell
    assert "contradicts itself" in answer.say


@pytest.mark.parametrize(
    ("defect", "reached"), [("unwanted matt", "5"), ("pinholes", "5"), ("running", "6")]
)
def test_nine_cones_over_is_a_mix_up_of_05_and_5(defect, reached):
    answer = _why(defect, reached)
    assert answer.causes[0].name == "cone_mix_up"
    assert answer.enough_to_tell


def test_a_textured_glaze_is_not_taken_for_a_crawling_or_a_crater_glaze():
    # Textured says nothing of which texture; the jar's name or colour chip does.
    for defect, name in (("crawling", "white crawl"), ("blisters", "grey crater")):
        assert not any(
            _why(defect, finish="textured", clues=clues).enough_to_tell
            and not _why(defect, finish="textured", clues=clues).is_fault
            for clues in ({}, {"bare_spots_like_fingers": "yes"}, {"bisque_dusty": "yes"})
        )
        assert not _why(defect, finish="textured", name=name).is_fault
        chip = {"fired_as_label_shows": "yes"}
        assert not _why(defect, finish="textured", clues=chip).is_fault


def test_finger_shaped_bare_spots_on_a_textured_glaze_are_grease():
    answer = _why("crawling", finish="textured", clues={"bare_spots_like_fingers": "yes"})
    assert answer.causes[0].name == "greasy_bisque"


def test_a_gritty_satin_is_not_meant_to_be_so():
    # A true matt is smooth (common practice, no source).
    answer = _why("unwanted matt", finish="satin", clues={"gritty_surface": "yes"})
    assert answer.look_alike == "underfired"


def test_a_satin_one_cone_short_is_not_called_no_fault():
    for finish in ("satin", "matt"):
        answer = _why("unwanted matt", "06", finish=finish)
        assert answer.is_fault
        assert _share(answer, "matt_by_design") < 0.5
        assert answer.causes[0].name == "kiln_short" or not answer.enough_to_tell
    assert not _why("unwanted matt", "05", finish="satin").is_fault


@pytest.mark.parametrize("finish", [None, "matt"])
def test_a_dusty_wash_logged_as_unwanted_matt_is_told_as_a_wash(finish):
    clues = {"fired_surface_powdery": "yes"}
    wash = {"role": "wash", "finish": finish, "clues": clues}
    answer = _why("unwanted matt", name="oxide", **wash)
    assert answer.causes[0].name == "wash_without_flux"
    assert answer.enough_to_tell
    raw = _why("unwanted matt", name="raw umber", **wash)
    assert raw.causes[0].name == "wash_matures_hotter"
    assert not raw.is_fault


def test_colour_that_rubs_off_after_firing_is_underfired_and_not_other():
    answer = _why("other", clues={"fired_surface_powdery": "yes"})
    assert answer.look_alike == "underfired"


def test_opening_hotter_never_speaks_less_for_opening_too_hot():
    shares = []
    for opened_c in (90, 150, 250, 300, 400, 600):
        record = tile({"defect": "dunting"}, firing={"name": "F", "opened_c": opened_c})
        shares.append(_share(why(record)[0], "opened_hot"))
    assert shares == sorted(shares)


def test_a_part_of_a_dry_bag_is_a_cause_of_crawling():
    clues = {"new_batch_only": "yes", "used_to_be_sound": "yes"}
    (answer,) = why(tile({"defect": "crawling"}, areas=[scoop()], clues=clues))
    assert answer.causes[0].name == "part_bag"
    assert answer.enough_to_tell


@pytest.mark.parametrize("defect", ["unwanted matt", "underfired", "colour shift"])
def test_a_scoop_of_an_unmixed_bag_is_a_cause_of_whatever_a_dull_tile_is_called(defect):
    (answer,) = why(tile({"defect": defect}, areas=[scoop()]))
    assert answer.causes[0].name == "part_bag"


@pytest.mark.parametrize(("supplied", "said"), [
    ("dry", "moss is a bought dry mix"), (None, "moss comes from a jar"),
])  # fmt: skip
def test_a_dry_bag_does_not_come_from_a_jar(supplied, said):
    glaze = {"name": "moss", "kind": "jar", "role": "glaze", "supplied_as": supplied}
    assert measures(tile(areas=[coat(glaze=glaze)]))["glaze_kind"].said == said


def scoop():
    """A coat of a dry glaze of which a part was mixed."""
    glaze = {"name": "moss", "kind": "jar", "role": "glaze", "supplied_as": "dry"}
    batch = {"name": "b 2", "dry_portion": "part of bag"}
    return coat(glaze=glaze, batch=batch, thickness_mm=0.8)


def test_a_body_whose_colour_is_speckled_is_a_speckled_body():
    body = {"name": "clay", "colour": "speckled buff"}
    assert measures(tile(body=body))["speckled_body"].value == "yes"


def test_four_faults_and_nothing_recorded_are_not_enough_to_tell():
    defects = ({"defect": each} for each in ("cloudiness", "crawling", "running", "pinholes"))
    firing = {"name": "F", "target_cone": "05"}
    record = tile(*defects, areas=[coat()], firing=firing, cone_reached="05", bisque_cone="03")
    assert not any(answer.enough_to_tell for answer in why(record))


@pytest.mark.parametrize(
    ("reached", "clues"),
    [("05", {}), ("03", {}), ("05", {"glaze_kiln_unvented": "yes"})],
)
def test_nothing_red_on_record_is_no_cadmium_red(reached, clues):
    for colour in (None, "moss green"):
        causes = _why("colour shift", reached, colour=colour, clues=clues).causes
        assert not any("cadmium" in each.title for each in causes[:2])
        assert sum(each.share for each in causes if each.name.startswith("red_")) < 0.1


@pytest.mark.parametrize("colour", ["red", "fire engine red", "Bright Orange"])
def test_a_red_by_any_of_its_words_is_a_red(colour):
    assert _why("colour shift", "03", colour=colour).causes[0].name == "red_burnt_out"


@pytest.mark.parametrize(("coats", "is_advised"), [(3, False), (5, True)])
def test_two_or_three_coats_of_a_colour_are_no_advice_where_they_lie_there_already(
    coats, is_advised
):
    top = coat(glaze=JAR)
    colour = {"glaze": {"name": "ink", "kind": "jar", "role": "underglaze"}, "coats": coats}
    top["layers"].insert(0, colour)
    answer = why(tile({"defect": "crawling"}, areas=[top]))[0]
    (beneath,) = (each for each in answer.causes if each.name == "colour_beneath")
    assert any("thin coats of underglaze" in each for each in beneath.fixes) is is_advised


@pytest.mark.parametrize(
    ("low", "high", "target", "first"),
    [
        ("5", "6", "05", "cone_mix_up"),
        ("5", "6", "06", "cone_mix_up"),
        ("04", "04", "08", "below_its_range"),
        ("10", "10", "5", "below_its_range"),
    ],
)
def test_a_label_far_over_what_the_kiln_was_set_for_needs_no_witness_cone(low, high, target, first):
    answer = _why("underfired", None, target=target, cone_low=low, cone_high=high)
    assert (answer.causes[0].name, answer.enough_to_tell) == (first, True)
    for name in ("kiln_short", "cold_shelf", "settled_jar"):
        assert _share(answer, name) < 0.1


def test_a_dry_satin_is_not_meant_to_be_dry():
    # A satin has a soft sheen, a true matt is smooth (common practice, no source).
    shares = {}
    for finish in ("satin", "matt"):
        for severity in ("slight", "severe"):
            answer = _why("underfired", severity=severity, finish=finish)
            shares[finish, severity] = _share(answer, "matt_by_design")
            assert answer.is_fault or severity == "slight"
    assert shares["satin", "severe"] < 0.1 < shares["satin", "slight"]
    assert shares["matt", "severe"] < shares["matt", "slight"]
    assert shares["satin", "slight"] < shares["matt", "slight"]


def test_the_range_of_a_label_is_asked_for_though_the_cones_are_known():
    blank = {"cone_low": None, "cone_high": None}
    for kind, is_asked in (("jar", True), ("recipe", False)):
        case = _why("underfired", kind=kind, **blank).case
        asked = [how_to_get(each) for each in most_telling(case.rows, case.facts)]
        assert any("cone range on the jar" in each for each in asked) is is_asked
    labelled = _why("underfired").case
    asked = [how_to_get(each) for each in most_telling(labelled.rows, labelled.facts)]
    assert not any("cone range on the jar" in each for each in asked)

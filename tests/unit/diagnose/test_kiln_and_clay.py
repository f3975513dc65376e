"""Own tiles by kiln and by clay: what they speak for, and what the record knows better."""

from diagnose.own_tiles.bodies import _fired_beside, clay_count
from diagnose.report import why
from tests.unit.diagnose.test_comparison import tile

MATT = "unwanted matt"


def in_kiln(name, numbers, defects=(), *, cone="05", **changed):
    firing = {"name": f"F {name}", "kiln": name, "target_cone": "05"}
    return [tile(n, defects=defects, firing=firing, cone_reached=cone, **changed) for n in numbers]


def own(records):
    (told,) = why(records[0], MATT, records[1:])
    return told, {row.name: row.own for row in told.case.rows if row.own}


def test_a_kiln_whose_cones_read_as_set_fails_by_how_it_cools_and_did_not_fall_short():
    records = in_kiln("big", range(100, 108), [MATT]) + in_kiln("small", range(200, 212))
    told, moved = own(records)
    assert "slow_cooling" in moved and not {"kiln_short", "overfired"} & moved.keys()
    assert next(row for row in told.case.rows if row.name == "kiln_short").is_ruled_out


def test_where_no_cone_was_read_a_kiln_that_fails_may_have_fallen_short():
    records = in_kiln("big", range(100, 108), [MATT], cone=None)
    _, moved = own(records + in_kiln("small", range(200, 212), cone=None))
    assert "kiln_short" in moved


def test_a_cone_within_the_label_is_less_likely_short_than_one_below_it():
    shares = []
    for low in ("06", "05"):
        glaze = {"name": "pond", "cone_low": low, "cone_high": "04"}
        areas = [{"number": 1, "layers": [{"glaze": glaze, "coats": 3}]}]
        (told,) = why(in_kiln("big", [1], [MATT], cone="06", areas=areas)[0])
        shares.append(next(row.share for row in told.case.rows if row.name == "kiln_short"))
    assert shares[0] < shares[1]


def over(number, body, failed, *names):
    layers = [{"glaze": each, "coats": 2} for each in names]
    areas = [{"number": 1, "layers": layers}]
    more = {"areas": areas, "firing": {"name": "F1"}}
    return tile(number, defects=["blisters"] * failed, body=body, **more)


def test_a_clay_on_which_several_layers_fail_whatever_the_glaze_is_named():
    glazes = ("pond", "moss", "sand", "sky")
    records = [over(n, "grogged", n < 7, glazes[n % 4], glazes[(n + 1) % 4]) for n in range(8)]
    records += [over(20 + n, "grogged", False, "pond") for n in range(4)]
    records += [over(40 + n, "smooth", False, glazes[n % 4], "pond") for n in range(12)]
    said = "of 7 others with several layers on grogged (pond and moss, and all fired beside them) "
    said += "6 blistered, of 12 on other clays none."
    assert clay_count(records[1:], records[0], 1, "blisters") == said
    (told,) = why(records[0], None, records[1:])
    assert any(each.casefold().startswith(said) for each in told.causes[0].your_tiles)
    alone = over(99, "grogged", True, "pond")
    assert clay_count(records, alone, 1, "blisters") == "", "under one layer it is sound there"
    many = [over(100 + n, "smooth", False, "sky", "pond") for n in range(200)]
    assert clay_count([*records[1:], *many], records[0], 1, "blisters") == "", "not all are read"


def test_one_glaze_that_fails_on_a_clay_is_not_told_of_all():
    def records(*failing):
        found = [over(n, "grogged", n < 7, failing[n % len(failing)]) for n in range(8)]
        return found + [over(40 + n, "smooth", False, ("pond", "sand")[n % 2]) for n in range(12)]

    for failing, is_told in ((["pond"], False), (["pond", "sand"], True)):
        first, *others = records(*failing)
        assert bool(clay_count(others, first, 1, "blisters")) is is_told


def test_of_a_fault_of_fit_those_are_counted_that_were_fired_beside_its_glaze():
    """Of its clay all tiles are read, of others those of its glaze and of its firing alone."""

    def in_firing(number, name, glaze):
        record = over(number, "grogged", False, glaze)
        record.firing.name = name
        return record

    own, alike = in_firing(1, "F1", "pond"), in_firing(2, "F2", "pond")
    beside = [in_firing(3, "F1", "moss"), in_firing(4, "F2", "moss")]
    apart = in_firing(5, "F3", "moss")
    assert _fired_beside(own, [alike, *beside, apart]) == [alike, *beside]


def test_a_coat_that_is_sound_in_another_kiln_is_not_what_failed_in_this_one():
    """Two coats are few, but fail in one kiln alone; of four coats there is nothing to tell."""
    layers = [{"number": 1, "layers": [{"glaze": "pond", "coats": 2}]}]
    records = in_kiln("big", range(100, 108), [MATT], areas=layers)
    told, moved = own(records + in_kiln("small", range(200, 212), areas=layers))
    assert moved["coat_too_thin"] < -1 and told.case.first.name != "coat_too_thin"
    said = "Of 12 others with 2 coats or fewer, in another kiln, none came out matt."
    thin = next(each for each in told.causes if each.name == "coat_too_thin")
    assert said in thin.your_tiles
    thick = [{"number": 1, "layers": [{"glaze": "pond", "coats": 4}]}]
    _, moved = own(records + in_kiln("small", range(200, 212), areas=thick))
    assert moved.get("coat_too_thin", 0) >= 0

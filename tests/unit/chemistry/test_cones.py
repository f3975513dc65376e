import pytest

from tiles.chemistry import cones
from tiles.errors import InvalidValue, OutOfRange, UnknownCone


@pytest.mark.parametrize(
    "text",
    [
        "05",
        "^05",
        "cone 05",
        "c05",
        "Cone 05",
        "C/05",
        "∆05",
        "△05",
        "Δ05",
        "o5",
        "O5",
        "０５",
        " 05 ",
    ],
)
def test_every_way_of_writing_cone_05_is_read_as_05(text):
    assert cones.read_cone(text) == "05"


@pytest.mark.parametrize(
    "text", ["5½", "5 1/2", "5-1/2", "5–1/2", "5.5", "5 ½", "cone 5 1/2", "^5.5"]
)
def test_every_way_of_writing_a_half_step_is_read(text):
    assert cones.read_cone(text) == "5½"


@pytest.mark.parametrize("text", ["5", "^5", "c5", "cone 5", "５"])
def test_cone_5_is_never_read_as_05(text):
    assert cones.read_cone(text) == "5"


@pytest.mark.parametrize(
    "text",
    [
        "0",
        "00",
        "15",
        "023",
        "-5",
        "",
        "   ",
        "five",
        "5 5",
        "5.0",
        "5.25",
        "½",
        "0½",
        "022½",
        "14½",
    ]
    + ["51/2", "1²", "⁵", "005", "c", "cone", "06-04", "1060", "5f"],
)
def test_what_is_not_a_cone_is_refused_in_one_line_with_a_hint(text):
    with pytest.raises(UnknownCone) as caught:
        cones.read_cone(text)
    assert caught.value.hint
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("text", ["Segerkegel 05a", "SK 6a", "05a", "6a", "SK7", "cone 05a"])
def test_a_cone_of_the_seger_scale_is_told_to_be_of_another_one(text):
    with pytest.raises(UnknownCone, match="is of the Seger scale, where a number is another heat"):
        cones.read_cone(text)


@pytest.mark.parametrize(
    ("text", "told", "remedy"),
    [
        # CONE-CHART-2016 at 60 C/h: 05 1031 C, 04 1063 C, 5 1186 C, 6 1222 C, 020 and 019 for F.
        ("1060 °C", "1060 C is about cone 04 (05 to 04) at", "04; what the controller shows goes"),
        ("cone 1060", "1060 C is about cone 04 (05 to 04) at", "goes to --peak-c 1060 of the"),
        ("1945 F", "1945 F is cone 04 at", "--peak-c 1063 of the firing"),
        ("1886", "1886 F is about cone 05 (06 to 05) at", "--peak-c 1030 of the firing"),
        ("1200", "1200 C is about cone 5½ (5 to 6) or 1200 F is about cone 019½", "5½ or 019½;"),
        ("3000", "looks like a temperature, not a cone.", "a cone from 022"),
    ],
)
def test_a_temperature_for_a_cone_is_refused_with_the_cone_it_is_and_its_place(text, told, remedy):
    with pytest.raises(UnknownCone) as caught:
        cones.read_cone(text)
    assert told in caught.value.message
    assert remedy in caught.value.hint
    assert "F is" not in caught.value.message or text in ("1945 F", "1886", "1200")


@pytest.mark.parametrize("value", [5, 5.0, None, True, ["05"]])
def test_a_number_is_refused_because_05_and_5_cannot_be_told_apart(value):
    with pytest.raises(UnknownCone, match="05 and 5"):
        cones.read_cone(value)


def test_reading_a_canonical_name_returns_it_unchanged():
    for cone in cones.cones_between("022", "14"):
        assert cones.read_cone(cone) == cone


def test_05_and_5_are_nine_steps_apart():
    assert cones.steps_between("05", "5") == 9


def test_there_is_no_cone_and_no_half_step_between_01_and_1():
    assert cones.steps_between("01", "1") == 1
    assert cones.cones_between("01", "1") == ["01", "1"]


def test_half_steps_lie_between_their_neighbours():
    assert cones.step("06") < cones.step("05½") < cones.step("05")
    assert cones.step("5") < cones.step("5½") < cones.step("6")
    assert cones.step("02") < cones.step("01½") < cones.step("01")


def test_every_cone_in_order_has_a_rising_step_and_comes_back_from_it():
    everything = cones.cones_between("022", "14")
    places = [cones.step(each) for each in everything]
    assert places == sorted(set(places))
    assert [cones.cone_at(place) for place in places] == everything


def test_steps_outside_is_signed_and_an_open_side_never_complains():
    assert cones.steps_outside("5", "06", "04") == 8
    assert cones.steps_outside("08", "06", "04") == -2
    assert cones.steps_outside("05½", "06", "04") == 0
    assert cones.steps_outside("10", "06", None) == 0
    assert cones.steps_outside("022", None, "04") == 0


def test_a_range_running_backwards_is_refused():
    with pytest.raises(InvalidValue, match="backwards"):
        cones.in_range("05", "04", "06")


def test_bands_follow_the_documented_limits():
    names = {cone: cones.band(cone) for cone in ("08", "04", "01", "1", "4", "6", "7½", "8", "10")}
    assert [names[cone] for cone in ("08", "04", "01")] == ["low fire"] * 3
    assert [names[cone] for cone in ("1", "4", "6", "7½")] == ["mid range"] * 4
    assert [names[cone] for cone in ("8", "10")] == ["high fire"] * 2


def test_temperature_rises_with_the_cone_and_with_the_rate():
    for rate in (15, 40, 60, 90, 150):
        covered = [c for c in cones.CONES if cones.published_rates(c)[0] <= rate]
        reached = [cones.temperature_c(each, rate) for each in covered]
        assert reached == sorted(reached)
    for cone in cones.cones_between("019", "14"):
        by_rate = [cones.temperature_c(cone, rate) for rate in (15, 30, 60, 100, 150)]
        assert by_rate == sorted(by_rate)


def test_half_steps_and_rates_between_are_said_to_be_estimated():
    assert cones.end_point("05½").is_estimated
    assert cones.end_point("05", 100).is_estimated
    assert not cones.end_point("05", 150).is_estimated
    assert cones.end_point("12").status == "memory"


@pytest.mark.parametrize("cone,rate", [("05", 10), ("05", 151), ("022", 15)])
def test_a_rate_outside_the_published_ones_is_refused(cone, rate):
    with pytest.raises(OutOfRange, match="outside the published"):
        cones.temperature_c(cone, rate)


def test_a_rate_in_fahrenheit_is_asked_about():
    with pytest.raises(OutOfRange, match="270 F/h is 150 C/h"):
        cones.temperature_c("05", 270)


def test_a_temperature_in_fahrenheit_is_asked_about():
    with pytest.raises(OutOfRange, match="1940 F is 1060 C"):
        cones.cone_for(1940)


@pytest.mark.parametrize("temperature", [500, 1400, -5])
def test_a_temperature_outside_the_chart_is_refused(temperature):
    with pytest.raises(OutOfRange):
        cones.cone_for(temperature)


@pytest.mark.parametrize("bad", ["hot", None, True, float("inf"), float("nan")])
def test_a_temperature_or_rate_that_is_no_number_is_refused(bad):
    with pytest.raises(InvalidValue):
        cones.cone_for(bad)
    with pytest.raises(InvalidValue):
        cones.temperature_c("05", bad)


def test_the_cone_for_its_own_temperature_is_itself_at_every_rate():
    for cone in cones.CONES:
        for point in cones.temperatures(cone):
            found = cones.cone_for(point.temperature_c, point.rate_c_per_h)
            assert (found.cooler, found.hotter, found.nearest) == (cone, cone, cone)


def test_a_cone_type_the_chart_lacks_is_refused():
    with pytest.raises(OutOfRange, match="no temperature for cone 5 of type large iron-free"):
        cones.temperature_c("5", 60, "large iron-free")
    with pytest.raises(InvalidValue, match="'huge'"):
        cones.temperature_c("5", 60, "huge")


def test_a_temperature_within_half_a_degree_of_an_end_point_is_that_cone():
    # The chart is rounded to whole degrees: 1063 C for cone 04 at 60 C/h.
    for temperature in (1062.5, 1062.8, 1063.5):
        found = cones.cone_for(temperature, 60)
        assert (found.cooler, found.hotter, found.position) == ("04", "04", cones.step("04"))
    assert cones.cone_for(1062.4, 60).cooler == "05"
    assert cones.cone_for(1063.6, 60).hotter == "03"
    assert cones.cone_for(585.6, 60).cooler == "022"


def test_a_hotter_temperature_is_never_a_cooler_cone():
    by_degree = [cones.cone_for(586 + each / 5, 60).position for each in range(5 * (1365 - 586))]
    assert by_degree == sorted(by_degree)


def test_a_rate_a_hair_beyond_the_published_ones_is_the_published_one():
    for rate in (150.0000001, 150.4, 14.6):
        point = cones.end_point("05", rate)
        published = cones.end_point("05", 150 if rate > 100 else 15)
        assert point == published
    with pytest.raises(OutOfRange, match="rate 150.6 C/h is outside"):
        cones.end_point("05", 150.6)


def test_end_points_of_a_rate_leave_out_the_cones_the_chart_has_not_at_that_rate():
    assert [each.cone for each in cones.end_points(15)] == list(cones.CONES[3:])
    assert len(cones.end_points(60)) == len(cones.CONES)
    with pytest.raises(OutOfRange):
        cones.end_points(10)


def test_a_type_of_cone_is_read_whatever_its_capitals():
    assert cones.end_point("5", 300, "Small") == cones.end_point("5", 300, "small")
    assert cones.read_cone_type(" Large  Iron-free ") == "large iron-free"
    with pytest.raises(InvalidValue, match="None is not a type"):
        cones.read_cone_type(None)


def test_the_rate_assumed_is_the_medium_one_where_it_is_published():
    usual = {each: cones.usual_rate_c_per_h(each) for each in cones.CONE_TYPES}
    assert usual.pop("small") == 300
    assert set(usual.values()) == {60}

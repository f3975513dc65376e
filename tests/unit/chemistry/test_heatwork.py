import pytest

from tiles.chemistry import cones, heatwork
from tiles.errors import InvalidValue, OutOfRange, Questioned, UnknownCone


def ramp(peak_c, rate_c_per_h, step_c=5.0, start_c=20.0):
    count = round((peak_c - start_c) / step_c) + 1
    heats = [start_c + (peak_c - start_c) * each / count for each in range(count + 1)]
    return [((heat - start_c) / rate_c_per_h, heat) for heat in heats]


def test_a_hold_adds_heat_work():
    plain = ramp(1031, 60)
    held = [*plain, (plain[-1][0] + 0.5, 1031.0)]
    longer = [*plain, (plain[-1][0] + 1.5, 1031.0)]
    places = [heatwork.cone_reached(each).position for each in (plain, held, longer)]
    assert places == sorted(set(places))


def test_slow_cooling_adds_heat_work_and_fast_cooling_hardly_any():
    plain = ramp(1031, 60)
    end = plain[-1][0]
    fast = heatwork.cone_reached([*plain, (end + 0.5, 600.0)]).position
    slow = heatwork.cone_reached([*plain, (end + 2, 1001.0)]).position
    bare = heatwork.cone_reached(plain).position
    assert bare < fast < slow
    assert fast - bare < 0.15


def test_reading_more_often_changes_nothing():
    coarse = heatwork.cone_reached(ramp(1050, 80, step_c=25)).position
    fine = heatwork.cone_reached(ramp(1050, 80, step_c=0.5)).position
    assert coarse == pytest.approx(fine, abs=0.01)


def test_the_report_tells_peak_rate_and_hold():
    plain = ramp(1222, 60)
    found = heatwork.cone_reached([*plain, (plain[-1][0] + 0.25, 1222.0)])
    assert found.peak_c == 1222
    assert found.rate_c_per_h == pytest.approx(60)
    assert found.hold_min == pytest.approx(15 + 5, abs=0.1)  # the last 5 C at 60 C/h are 5 min
    assert found.cautions == ()


def test_a_rate_outside_the_chart_is_said_to_be_extrapolated():
    assert "extrapolated" in heatwork.cone_reached(ramp(1060, 300)).cautions[0]


def test_rare_readings_near_the_top_are_warned_about():
    found = heatwork.cone_reached([(0, 20.0), (8, 940.0), (10, 1040.0)])
    assert "120 min apart" in found.cautions[0]


def test_hold_needed_brings_the_cone_exactly_down():
    for cone, stop in (("04", 1040), ("6", 1200), ("010", 890)):
        log = ramp(stop, 100)
        minutes = heatwork.hold_needed_min(cone, stop, 100)
        held = [*log, (log[-1][0] + minutes / 60, float(stop))]
        assert heatwork.heat_work(cone, held) == pytest.approx(1, abs=0.001)


def test_no_hold_is_needed_above_the_end_point():
    assert heatwork.hold_needed_min("05", 1060, 60) == 0


def test_hold_for_a_half_cone_or_no_cone_is_refused():
    with pytest.raises(OutOfRange, match="whole cones"):
        heatwork.hold_needed_min("5½", 1200)
    with pytest.raises(UnknownCone):
        heatwork.hold_needed_min("five", 1200)
    with pytest.raises(InvalidValue):
        heatwork.hold_needed_min("5", 1200, 0)


def test_heat_work_is_told_of_whole_cones_only():
    with pytest.raises(OutOfRange, match="whole cones"):
        heatwork.work_per_hour("5½", 1200)
    with pytest.raises(OutOfRange, match="whole cones"):
        heatwork.heat_work("5½", [(0.0, 20.0), (8.0, 1200.0)])


@pytest.mark.parametrize("peak", [400, 1410])
def test_a_log_beyond_the_scale_is_refused(peak):
    with pytest.raises(OutOfRange):
        heatwork.cone_reached(ramp(peak, 100))


def test_a_log_in_fahrenheit_is_questioned():
    with pytest.raises(Questioned, match="1940 F is 1060 C"):
        heatwork.cone_reached([(0, 70), (9, 1760), (11, 1940)])


@pytest.mark.parametrize(
    "log",
    [[], [(0, 20)], [(0, 20), (0, 900)], [(1, 20), (0, 900)], [(0, 20), (1, float("nan"))]]
    + [[(0, "warm"), (1, 900)], [(0, -300), (1, 900)], [1, 2]],
)
def test_a_log_that_cannot_be_one_is_refused(log):
    with pytest.raises(InvalidValue):
        heatwork.cone_reached(log)


def test_more_work_never_means_a_cooler_cone():
    by_peak = [heatwork.cone_reached(ramp(peak, 60)).position for peak in range(600, 1360, 10)]
    assert by_peak == sorted(by_peak)


def test_position_agrees_with_the_chart_read_backwards():
    for peak in range(620, 1350, 7):
        by_log = heatwork.cone_reached(ramp(peak, 60)).position
        by_chart = cones.cone_for(peak, 60).position
        assert by_log == pytest.approx(by_chart, abs=1 / 3)


@pytest.mark.parametrize("cone,heat", [("05", 1010), ("05", 1025), ("05", 1040), ("6", 1235)])
def test_work_of_an_hour_at_a_steady_heat_is_that_of_a_hardly_rising_hour(cone, heat):
    rising = heatwork.heat_work(cone, [(0, heat - 0.1), (1, heat + 0.1)])
    assert heatwork.work_per_hour(cone, heat) == pytest.approx(rising, rel=1e-4)
    assert heatwork.heat_work(cone, [(0, heat), (1, heat)]) == pytest.approx(rising, rel=1e-4)


def test_rows_from_memory_are_told_where_the_log_rests_on_them():
    # CONE-CHART-2016: of cones 05 and 04 the rows at 60 and 150 C/h are read, those at 15 not.
    by_rate = {
        rate: heatwork.cone_reached(ramp(cones.temperature_c("05", rate), rate)).status
        for rate in (15, 30, 59, 60, 100, 150)
    }
    assert by_rate == {15: "memory", 30: "memory", 59: "read", 60: "read", 100: "read", 150: "read"}


def test_a_long_hold_rests_on_the_slow_rows_too():
    plain = ramp(1020, 60)
    assert heatwork.cone_reached([*plain, (plain[-1][0] + 2, 1020.0)]).status == "memory"


def test_a_log_that_begins_at_its_peak_has_no_rate_and_says_what_is_missing():
    found = heatwork.cone_reached([(0, 1031.0), (1, 1031.0), (2, 900.0)])
    assert found.rate_c_per_h is None
    assert "cannot be told" in found.cautions[0]
    assert "begins at 1031 C: the heat work before that is missing" in found.cautions[-1]


def test_a_cone_is_down_within_half_a_degree_of_its_end_point():
    assert heatwork.cone_reached(ramp(1030.6, 60)).cooler == "05"
    assert heatwork.cone_reached(ramp(1030.4, 60)).cooler == "06"
    assert heatwork.hold_needed_min("05", 1030.6, 60) == 0
    assert heatwork.hold_needed_min("05", 1030.4, 60) > 0


def test_a_hotter_peak_is_never_a_cooler_cone_near_the_end_points():
    for rate in (60, 63.5, 150):
        by_peak = [
            heatwork.cone_reached(ramp(1025 + k / 20, rate, 40)).position for k in range(300)
        ]
        assert by_peak == sorted(by_peak)


def test_beyond_cone_14_a_log_is_refused_and_at_it_there_is_no_hotter_cone():
    found = heatwork.cone_reached(ramp(1384, 150))
    assert (found.nearest, found.cooler, found.hotter) == ("14", "14", None)
    with pytest.raises(OutOfRange, match="more than cone 14"):
        heatwork.cone_reached(ramp(1385, 150))


@pytest.mark.parametrize(
    ("temperature", "error", "told"),
    [
        (float("nan"), InvalidValue, "not a number"),
        (-300, InvalidValue, "-300 C is no kiln temperature"),
        (20, OutOfRange, "more than a day of hold at 20 C"),
        (-60, OutOfRange, "more than a day"),
        (1940, Questioned, "1940 F is 1060 C"),
    ],
)
def test_a_hold_at_no_sensible_temperature_is_refused(temperature, error, told):
    with pytest.raises(error, match=told):
        heatwork.hold_needed_min("04", temperature)


def test_work_at_no_temperature_and_of_no_log_is_refused():
    for temperature in (-300, float("nan"), "hot"):
        with pytest.raises(InvalidValue):
            heatwork.work_per_hour("05", temperature)
    with pytest.raises(InvalidValue, match="Reading 2"):
        heatwork.heat_work("05", [(0, 20), (0, 900)])


def test_the_peak_that_a_cone_needs_is_that_of_the_chart_and_agrees_with_the_hold_needed():
    for cone in cones.CONES:
        for point in cones.temperatures(cone):
            needed = heatwork.peak_needed_c(cone, point.rate_c_per_h)
            assert needed == pytest.approx(point.temperature_c, abs=0.1)
    held = heatwork.hold_needed_min("04", 1031, 60)
    assert heatwork.peak_needed_c("04", 60, held) == pytest.approx(1031, abs=0.5)
    assert heatwork.peak_needed_c("04½", 60) == pytest.approx((1031 + 1063) / 2, abs=0.1)
    with pytest.raises(InvalidValue):
        heatwork.peak_needed_c("04", 0)

"""A kiln log at a constant rate against the cone maker's chart (2016 issue, as test_cone_chart)."""

from statistics import median

import pytest

from tiles.chemistry import cones, heatwork


def test_a_constant_rate_log_reaches_each_cone_where_the_chart_says():
    for cone in cones.CONES:
        for point in cones.temperatures(cone):
            hours = (point.temperature_c - 20) / point.rate_c_per_h
            log = [
                (hours * each / 50, 20 + (point.temperature_c - 20) * each / 50)
                for each in range(51)
            ]
            assert heatwork.heat_work(cone, log) == pytest.approx(1, abs=1e-6)
            found = heatwork.cone_reached(log)
            assert found.cooler == found.nearest == cone
            assert found.position == pytest.approx(cones.step(cone), abs=0.01)
            next_up = [each for each in (found.hotter,) if each]
            rows = [point, *(cones.end_point(each, point.rate_c_per_h) for each in next_up)]
            assert found.status == min(row.status for row in rows)  # memory goes before read


def test_a_hold_worth_one_cone_is_between_a_quarter_hour_and_two_hours_for_the_usual_cones():
    # Common practice, no source: a hold of one cone is 15 min to 2 h.
    usual = cones.CONES[cones.CONES.index("010") : cones.CONES.index("10")]
    minutes = [
        heatwork.hold_needed_min(hotter, cones.temperature_c(cone, 60), 60)
        for cone, hotter in zip(usual, cones.CONES[cones.CONES.index("09") :], strict=False)
    ]
    assert 15 <= median(minutes) <= 120


def test_forty_minutes_from_cone_6_to_8_as_measured():
    # Reported measurement (potters' test with witness cones): 40 min of hold took cone 6 to cone 8.
    # The other report, 75 min from 4 to 6, is not met: the model asks for about three times that.
    minutes = heatwork.hold_needed_min("8", cones.temperature_c("6", 60), 60)
    assert minutes == pytest.approx(40, rel=0.25)

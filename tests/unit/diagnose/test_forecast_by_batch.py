"""Where no batch is named and a fault hangs on it, that is told before the firing."""

import pytest

from diagnose.forecasts.by_batch import by_batch
from diagnose.forecasts.of_tile import forecast
from diagnose.learner import fit_records
from diagnose.view import seen_from
from tests.unit.diagnose.test_comparison import tile


def of(number, batch, failed=False, defect="crawling"):
    layer = {"glaze": "pond", "coats": 2, "batch": batch and {"name": batch}}
    areas = [{"number": 1, "layers": [layer]}]
    return tile(number, areas=areas, defects=[defect] * failed)


OWN = [
    *(of(n, "new", failed=n < 7) for n in range(8)),
    *(of(10 + n, "old", failed=n < 1) for n in range(20)),
    *(of(40 + n, None, failed=True) for n in range(5)),
]
SAID = (
    "of 8 tiles from batch new 7 crawled, of 20 from other batches 1: name the batch of this one."
)


def asked(batch=None, defect="crawling"):
    return seen_from(of(99, batch), 1, defect)


def test_the_batch_that_fails_is_told_where_none_is_named():
    assert by_batch(OWN, asked()) == SAID
    assert not by_batch(OWN, asked("old"))
    assert not by_batch(OWN, asked(defect="crazing"))
    assert not by_batch([], asked())


@pytest.mark.parametrize(
    "spared",
    [OWN[:8], [*OWN[8:28], *OWN[:2]], [of(n, "ab"[n % 2], n % 3 == 0) for n in range(24)]],
)
def test_it_is_silent_where_one_batch_stands_alone_or_chance_may_have_done_it(spared):
    assert not by_batch(spared, asked())


def test_the_forecast_tells_it_beside_the_chance():
    record = of(99, None)
    found = {each.defect: each for each in forecast(fit_records(OWN), record, 1, others=OWN)}
    assert found["crawling"].own_count == SAID and not found["crawling"].own_count_is_far
    assert not found["crazing"].own_count

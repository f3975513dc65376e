"""The flat form as a pandas frame."""

import pytest

from sample_db.read import read_records
from tests.unit.exchange.places import with_one_place
from tiles.errors import InvalidValue, UnknownName
from tiles.exchange import flat_csv, flat_frame
from tiles.exchange.flat_columns import by_name


def test_sample_tiles_come_back_equal_through_a_frame():
    all_tiles = read_records().tiles
    once = [each for each in all_tiles if len(each.inspections) < 2]
    records = [
        each for each in once
        if not flat_csv.not_carried(each)
        and not any("fault_words" in row for row in flat_csv.rows_of(each))
    ]  # fmt: skip
    assert len(records) > 50
    back = flat_frame.records_from_frame(flat_frame.frame_from_records(records))
    assert list(map(with_one_place, back)) == list(map(with_one_place, records))


def test_a_frame_read_from_a_file_keeps_cone_05_as_text(tmp_path):
    records = read_records().tiles[:20]
    flat_csv.write_file(tmp_path / "some.csv", records)
    back = flat_frame.records_from_frame(flat_frame.read_frame(tmp_path / "some.csv"))
    assert [r.firing and r.firing.target_cone for r in back] == [
        r.firing and r.firing.target_cone for r in records
    ]


def test_a_frame_with_a_number_for_a_cone_is_refused():
    import pandas as pd

    frame = pd.DataFrame({"mark": ["M-1"], "body": ["red"], "cone_reached": [5]}, index=[17])
    with pytest.raises(InvalidValue, match=r"as a number 05 and 5 look alike.*row 17, column cone"):
        flat_frame.records_from_frame(frame)


def test_a_frame_may_lack_columns_names_and_days():
    import numpy as np
    import pandas as pd

    frame = pd.DataFrame({"coats": [3.0, np.nan], "defect_crazing": ["seen", None]})
    first, second = flat_frame.records_from_frame(frame)
    assert first.areas[0].layers[0].coats == 3
    assert [seen.defect for seen in first.inspections[0].defects] == ["crazing"]
    assert (second.areas[0].layers, second.inspections) == ([], [])


def test_an_unknown_column_of_a_frame_is_refused_with_the_nearest():
    import pandas as pd

    with pytest.raises(UnknownName, match="'coats'"):
        flat_frame.records_from_frame(pd.DataFrame({"coat": [1]}))


def test_rows_taken_one_by_one_need_not_agree():
    import pandas as pd

    frame = pd.DataFrame({"mark": ["M-1", "M-1"], "area": [1, 2], "body": ["red", "white"]})
    assert [r.body.name for r in flat_frame.row_records(frame)] == ["red", "white"]
    with pytest.raises(InvalidValue, match="body is white"):
        flat_frame.records_from_frame(frame)


@pytest.mark.slow
@pytest.mark.alone
def test_ten_times_the_rows_take_about_ten_times_as_long():
    import time

    import pandas as pd

    part = flat_frame.frame_from_records(read_records().tiles)
    took = []
    for copies in (4, 40):
        many = [part.assign(mark=part["mark"] + f"-{n}") for n in range(copies)]
        frame = pd.concat(many, ignore_index=True)
        start = time.process_time()
        records = flat_frame.records_from_frame(frame)
        took.append(time.process_time() - start)
        assert len(records) == copies * part["mark"].nunique()
    print(f"\n{len(frame)} rows {took[1]:.1f} s, a tenth of them {took[0]:.2f} s")
    assert took[1] < 20 * took[0]
    assert set(by_name()) == set(frame.columns)

"""What was learned is kept as text, and learned again where it is of other tiles or damaged."""

import json
import subprocess
import sys

import pytest

from diagnose import learner
from diagnose.learning import keep
from tests.bench.flat_frame import records_from_frame
from tests.unit.diagnose.test_learner import studio


@pytest.fixture(scope="module")
def records():
    return records_from_frame(studio(inspected_on="2024-03-01"))


@pytest.fixture(scope="module")
def learned(records, tmp_path_factory):
    """The model of these records, and the file it is kept in."""
    file = tmp_path_factory.mktemp("kept") / "learned.json"
    return learner.recall(records, file), file


def test_a_kept_model_forecasts_the_same_and_is_dropped_when_a_tile_changes(records, learned):
    learned, file = learned
    kept = learner.recall(records[::-1], file)
    assert learned.training is not None
    assert kept.training is None
    for a, b in zip(learned.forecast(records[1]), kept.forecast(records[1]), strict=True):
        assert (a.defect, a.state) == (b.defect, b.state)
        assert (a.chance, a.low, a.high) == pytest.approx((b.chance, b.low, b.high), abs=1e-3)
    assert kept.verdicts.keys() == learned.verdicts.keys()
    assert keep.load(file, keep.fingerprint(records[1:])) is None


def test_a_damaged_file_is_learned_again(tmp_path):
    records = records_from_frame(studio(25, inspected_on="2024-03-01"))
    file = tmp_path / "learned.json"
    file.write_text('{"form": 1, "data"')
    assert learner.recall(records, file).training is not None
    whole, mark = file.read_text(), keep.fingerprint(records)
    assert learner.recall(records, file).training is None
    plain = json.loads(whole)
    parts = ({k: v for k, v in plain.items() if k != part} for part in ("bodies", "met"))
    damaged = (*map(json.dumps, parts), whole[:-9], whole + " ", "")
    for each in (whole.replace('"b":[', '"b":[1.0,', 1), *damaged):
        file.write_text(each)
        assert keep.load(file, mark) is None
    assert learner.recall(records, file).training is not None
    assert file.read_text() == whole
    assert [each.name for each in tmp_path.iterdir()] == ["learned.json"]


def test_asking_a_kept_model_loads_neither_scikit_learn_nor_pandas(records, learned, tmp_path):
    _, file = learned
    one = tmp_path / "one.json"
    one.write_text(records[0].model_dump_json())
    code = f"""
import sys
from pathlib import Path
from diagnose.learner import Model
from diagnose.learning import keep
from tiles.records.forms import TileRecord
kept = keep.load(Path({str(file)!r}), {keep.fingerprint(records)!r})
record = TileRecord.model_validate_json(Path({str(one)!r}).read_text())
model = Model(kept[0], kept_verdicts=kept[1])
assert len(model.forecast(record)) == 15
assert model.drivers(record, "crawling")
print(sorted({{"sklearn", "pandas"}} & sys.modules.keys()))
"""
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "[]"

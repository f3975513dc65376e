"""A sheet read as a frame and the same sheet on record teach the learner the same."""

import pandas as pd
import pytest

from diagnose import learner
from tiles.exchange.flat_columns import defect_column
from tiles.exchange.flat_csv import read_file
from tiles.exchange.json_file import Choices, import_records
from tiles.records import reading
from tiles.records.words import DEFECTS

TILES = 48
RECIPE = "soda feldspar=40; kaolin=30; silica=30"


def test_the_frame_and_the_record_of_a_sheet_are_forecast_alike(session, tmp_path):
    file = tmp_path / "sheet.csv"
    _sheet().to_csv(file, index=False)
    read = read_file(file)
    tiles = [tile for _, tile in read.tiles]
    done = import_records(session, tiles, file.name, Choices(confirmed=True))
    assert (len(done.stored), done.refused, read.problems) == (TILES, [], [])

    frame = pd.read_csv(file, dtype=str)
    of_frame = learner.fit(frame).predict_proba(frame.drop(columns="inspected_on"))
    records = {each.mark: each for each in reading.read_tiles(session, reading.whole_tiles())}
    of_records = learner.fit_records([records[mark] for mark in frame["mark"]])
    for at, mark in enumerate(frame["mark"][:12]):
        told = {defect_column(e.defect): e.chance for e in of_records.forecast(records[mark])}
        assert of_frame.loc[at].to_dict() == pytest.approx(told, abs=1e-9)


def _sheet() -> pd.DataFrame:
    """Jars, a recipe and colours: what a glaze is stands on one row, of two on none."""
    glazes = ["moss", "white", "ash", "iron"]
    unders = [None, "leaf", None]
    return pd.DataFrame(
        {
            "mark": f"T-{at}",
            "body": "red clay",
            "glaze": (glaze := glazes[at % 4]),
            "coats": str(1 + at % 3),
            "glaze_role": "wash" if at == 3 else None,
            "glaze_kind": {2: "jar", 3: "recipe"}.get(at),
            "recipe": RECIPE if glaze == "white" else None,
            "under_glaze": (under := unders[at % 3]),
            "under_coats": "1" if under else None,
            "under_glaze_role": "slip" if at == 1 else None,
            "fired_on": "2024-01-05",
            "firing": "F1",
            "inspected_on": "2024-02-01",
            **dict.fromkeys(map(defect_column, DEFECTS), "none"),
            "defect_crawling": "moderate" if at % 3 == 1 or at % 8 == 3 else "none",
            "defect_unwanted_matt": "slight" if glaze == "iron" and at % 5 else "none",
        }
        for at in range(TILES)
    )

"""``tiles forecast`` tells one bucket of a glaze from another, and a damp layer from a dry one."""

import pytest

from tests.cli.records import assert_one_line_error
from tests.cli.test_forecast import found


@pytest.fixture
def a_bucket_that_went_off(imported):
    """Four glazes on ten tiles each; of pond green five from the old bucket crawled."""
    lines = ["mark,body,glaze,batch,coats,inspected_on,defect_crawling"]
    for glaze in ("pond green", "moss", "sand", "rust"):
        for number in range(10):
            batch = ("old" if number < 5 else "new") if glaze == "pond green" else ""
            seen = "severe" if batch == "old" else "none"
            lines.append(f"{glaze[0]}-{number},red clay,{glaze},{batch},2,2026-03-02,{seen}")
    imported(lines)


def test_one_bucket_of_a_glaze_is_told_apart_from_another(a_bucket_that_went_off, tiles):
    planned = ("--body", "red clay", "--glaze", "pond green", "--coats", 2, "--defect", "crawling")
    of = {}
    for batch in ("old", "new"):
        ((of[batch],),) = (
            each["forecasts"] for each in found(tiles, *planned, "--batch", batch)["areas"]
        )
        of[batch]["said"] = " ".join(each["said"] for each in of[batch]["drivers"])
    assert of["old"]["chance"] > 1.4 * of["new"]["chance"]
    assert (of["old"]["closest_seen"], of["old"]["closest_areas"]) == (5, 5)
    assert (of["new"]["closest_seen"], of["new"]["closest_areas"]) == (0, 5)
    assert of["new"]["closest_how"] == "with 2 coats from batch new"
    assert "how pond green does from batch old, on your tiles" in of["old"]["said"]


def test_a_bucket_that_is_not_on_record_is_one_line(a_bucket_that_went_off, tiles):
    ran = tiles("forecast", "--body", "red clay", "--glaze", "pond green", "--batch", "ols")
    assert_one_line_error(ran, "'pond green' has no batch called 'ols'", "'old'")


def test_the_state_of_the_layer_beneath_can_be_said(imported, tiles):
    """Over a damp coat moss crawled, other glazes never; nothing else is known to differ."""
    lines = ["mark,body,glaze,coats,beneath,inspected_on,defect_crawling"]
    for glaze in ("moss", "sand", "rust", "pond green"):
        for number in range(12):
            beneath = "damp" if number % 2 else "dry"
            seen = "severe" if glaze == "moss" and beneath == "damp" else "none"
            lines.append(f"{glaze[0]}-{number},red clay,{glaze},3,{beneath},2026-03-02,{seen}")
    imported(lines)
    planned = ("--body", "red clay", "--glaze", "moss", "--coats", 3, "--defect", "crawling")
    of = {
        beneath: found(tiles, *planned, "--beneath", beneath)["areas"][0]["forecasts"][0]
        for beneath in ("damp", "dry")
    }
    assert of["damp"]["chance"] > of["dry"]["chance"]
    said = "of 6 others over a dry layer none crawled, of 6 like this one, over a damp layer, 6 did"
    assert said in of["damp"]["own_count"]
    ran = tiles("forecast", *planned, "--beneath", "wet")
    assert_one_line_error(ran, "'wet'", "damp")

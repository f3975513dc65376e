"""``tiles why``: the documented JSON, and what a person reads."""

import json

import pytest

from tests.cli.records import assert_one_line_error
from tests.conftest import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")
# At least these, in this order; whatever else is printed is documented in the README, too.
DIAGNOSIS = "defect severity areas first_seen enough_to_tell say causes".split()
CAUSE = "title share for against not_recorded confirm fixes cautions basis".split()
LISTS = ("for", "against", "not_recorded", "confirm", "fixes", "cautions")


def assert_documented(printed, keys):
    assert [key for key in printed if key in keys] == keys
    assert not [key for key in printed if f"`{key}`" not in README]


@pytest.fixture
def asked(sample, tiles):
    def run(mark, *options):
        ran = tiles("why", mark, *options, "--json")
        assert (ran.code, ran.err) == (0, "")
        return json.loads(ran.out)

    return run


@pytest.fixture
def faulty(sample, tiles):
    return list(
        dict.fromkeys(row["mark"] for row in json.loads(tiles("find", "--faulty", "--json").out))
    )


def test_every_faulty_tile_is_explained_in_the_documented_shape(asked, faulty, tiles):
    assert len(faulty) > 30
    for mark in faulty[::3]:
        answer = asked(mark)
        assert_documented(answer, ["mark", "diagnoses"])
        assert answer["mark"] == mark
        for diagnosis in answer["diagnoses"]:
            assert_documented(diagnosis, DIAGNOSIS)
            assert isinstance(diagnosis["enough_to_tell"], bool)
            assert diagnosis["say"]
            check_causes(diagnosis["causes"])


def check_causes(causes):
    shares = [cause["share"] for cause in causes]
    assert shares == sorted(shares, reverse=True)
    assert not causes or sum(shares) == pytest.approx(1, abs=0.01)
    for cause in causes:
        assert_documented(cause, CAUSE)
        for key in LISTS:
            assert all(isinstance(each, str) and each for each in cause[key])
        assert cause["basis"]


def test_a_defect_asked_for_is_the_only_one_explained(asked):
    assert [each["defect"] for each in asked("M-41", "--defect", "Crawled")["diagnoses"]] == [
        "crawling"
    ]


def test_the_thick_crawler_has_its_coat_first_with_a_test_and_a_fix(asked):
    (diagnosis,) = asked("M-41", "--defect", "crawling")["diagnoses"]
    first = diagnosis["causes"][0]
    assert "thick" in first["title"].casefold()
    assert any("mm" in sentence for sentence in first["for"])
    assert first["confirm"]
    assert first["fixes"]


def test_a_person_reads_causes_evidence_test_and_fix(sample, tiles):
    said = tiles("why", "M-41", "--defect", "crawling").out
    assert said.startswith("M-41: red earthenware, pond green")
    for label in ("CRAWLING", "The coat was too thick", "for ", "to be sure", "fix", "caution"):
        assert label in said
    full = tiles("why", "M-41", "--defect", "crawling", "--all").out
    for label in ("CRAWLING", "1. ", "for ", "not recorded", "to be sure", "fix", "basis"):
        assert label in full
    assert len(full.splitlines()) > len(said.splitlines())


def test_why_works_on_a_record_that_travelled(sample, fresh, tiles, tmp_path, monkeypatch):
    monkeypatch.setenv("TILES_DB", str(sample))
    here = json.loads(tiles("why", "M-41", "--json").out)
    (tmp_path / "m41.json").write_text(tiles("show", "M-41", "--json").out, encoding="utf-8")
    monkeypatch.setenv("TILES_DB", str(fresh))
    assert tiles("import", tmp_path / "m41.json").code == 0
    there = json.loads(tiles("why", "M-41", "--json").out)
    # Its fellows stayed behind, so common practice speaks alone.
    for told in here["diagnoses"]:
        told["twins"] = []
        for cause in told["causes"]:
            cause |= {"share": cause["practice_share"], "own_log_odds": 0.0, "your_tiles": []}
    for told in (*here["diagnoses"], *there["diagnoses"]):
        for cause in told["causes"]:  # nor is asked what they answer, nor tested what they show
            del cause["not_recorded"], cause["confirm"]
        told["causes"].sort(key=lambda each: (-each["share"], each["title"]))
    assert there == here


def test_why_only_reads(sample, tiles):
    before = sample.read_bytes()
    tiles("why", "M-41")
    assert sample.read_bytes() == before


def first_mark(tiles, option):
    return json.loads(tiles("find", option, "--json", "--limit", "1").out)[0]["mark"]


def test_a_tile_without_a_fault_has_nothing_to_explain(sample, tiles):
    assert_one_line_error(tiles("why", "M-999"), "'M-999'")
    unseen = first_mark(tiles, "--not-inspected")
    assert_one_line_error(tiles("why", unseen), f"{unseen} is not inspected")
    assert_one_line_error(tiles("why", "M-41", "--defect", "dunting"), "dunting", "crawling")
    assert_one_line_error(tiles("why", "M-41", "--defect", "dnting"), "'dnting'", "'dunting'")

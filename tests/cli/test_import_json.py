"""``tiles import FILE.json``: what is taken, what is refused and how, and what is written over."""

import json
from datetime import date

import pytest

from tests.cli.records import RECORD, all_rows, assert_one_line_error, counts, shown


def test_import_takes_bare_names_and_only_what_is_known(fresh, tiles, write_json):
    assert tiles("import", write_json({"mark": "N-1", "body": "any clay"})).code == 0
    record = shown(tiles, "N-1")
    assert record["body"]["name"] == "any clay"
    assert [area["number"] for area in record["areas"]] == [1]


def test_import_reads_a_file_with_a_byte_order_mark(fresh, tiles, tmp_path):
    file = tmp_path / "record.json"
    file.write_text(json.dumps(RECORD), encoding="utf-8-sig")
    assert tiles("import", file).code == 0


REFUSED = {
    "unknown key": ({"thicknes_mm": 1}, ["'thicknes_mm'", "one of mark, made_on"]),
    "key of a layer": (
        {"areas": [{"number": 1, "layers": [{"glaze": "pond green", "coat": 2}]}]},
        ["'coat'", "area 1, layer 1"],
    ),
    "no body": ({"body": None}, ["body"]),
    "negative thickness": (
        {"areas": [{"number": 1, "layers": [{"glaze": "pond green", "thickness_mm": -1}]}]},
        ["thickness_mm", "-1", "area 1, layer 1"],
    ),
    "a cone as a number": ({"cone_reached": 5}, ["cone_reached", "5"]),
    "unknown clue": ({"clues": {"bisque_wipd": "no"}}, ["'bisque_wiped'"]),
    "defect on no area": (
        {"inspections": [{"inspected_on": "2026-05-01",
                          "defects": [{"defect": "crazing", "area": 4}]}]},
        ["area 4"],
    ),
    "a fault twice": (
        {"inspections": [{"inspected_on": "2026-05-01", "defects": [
            {"defect": "crazing", "severity": "slight"},
            {"defect": "crazing", "severity": "severe", "area": 1}]}]},
        ["crazing is named twice on area 1", "2026-05-01"],
    ),
    "another body of that name": (
        {"body": {"name": "red earthenware", "absorption_pct": 3.0}},
        ["red earthenware", "absorption_pct 3, ", "12.5", "--keep-stored"],
    ),
    "another glaze of that name": (
        {"areas": [{"number": 1, "layers": [
            {"glaze": {"name": "pond green", "finish": "matt"}}]}]},
        ["pond green", "finish", "'matt'", "'gloss'"],
    ),
    "an unlikely cone": ({"cone_reached": "5"}, ["cone reached 5", "--yes"]),
    "mark taken": ({"mark": "M-41"}, ["M-41", "already on record"]),
    "bisque as glaze firing": ({"firing": "F03"}, ["F03 is a bisque firing"]),
}  # fmt: skip


@pytest.mark.parametrize(("changed", "told"), REFUSED.values(), ids=REFUSED)
def test_import_refuses_a_record_in_one_line_and_stores_nothing(
    sample, tiles, write_json, changed, told
):
    before = all_rows(sample)
    assert_one_line_error(tiles("import", write_json(RECORD | changed)), "record.json", *told)
    assert all_rows(sample) == before


def test_a_firing_that_differs_only_in_capitals_is_the_one_on_record(sample, tiles, write_json):
    given = ("--kiln", "top loader", "--witness-cone", "05@top", "--witness-cone", "04@bottom")
    assert tiles("firing", "add", "W1", *given).code == 0
    cones = [{"shelf": "Bottom", "cone": "04"}, {"shelf": "Top", "cone": "05"}]
    firing = {"name": "w1", "kiln": "Top Loader", "witness_cones": cones}
    assert tiles("import", write_json(RECORD | {"firing": firing})).code == 0
    assert shown(tiles, "N-1")["firing"]["kiln"] == "top loader"


def test_keep_stored_takes_the_tile_and_keeps_the_body_as_it_is(sample, tiles, write_json):
    other = {"body": {"name": "red earthenware", "absorption_pct": 3.0}}
    assert tiles("import", write_json(RECORD | other), "--keep-stored").code == 0
    assert shown(tiles, "N-1")["body"]["absorption_pct"] == 12.5


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('[{"mark": "N-1",\n  "body": }]', ["is not JSON", "line 2", "column 11"]),
        ("", ["is not JSON", "line 1"]),
        ("3", ["record.json"]),
        ('"M-1"', ["record.json"]),
    ],
)
def test_import_says_where_a_file_is_no_record(sample, tiles, tmp_path, text, told):
    before = sample.read_bytes()
    file = tmp_path / "record.json"
    file.write_text(text)
    assert_one_line_error(tiles("import", file), *told)
    assert sample.read_bytes() == before


def test_import_of_an_unreadable_file_says_so(sample, tiles, tmp_path):
    assert_one_line_error(tiles("import", tmp_path / "no.json"), "no.json cannot be read")
    latin = tmp_path / "latin.json"
    latin.write_bytes('{"mark": "né"}'.encode("latin-1"))
    assert_one_line_error(tiles("import", latin), "latin.json is not UTF-8")


def mixed():
    """Two good records with two bad ones between them; a good one names a new body."""
    bad = [RECORD | {"mark": "N-2", "cone_reached": "99"}, {"mark": "N-3", "body": None}]
    return [RECORD, *bad, RECORD | {"mark": "N-4", "body": "new clay"}]


def test_import_is_all_or_nothing_and_names_every_bad_record(sample, tiles, write_json):
    before = all_rows(sample)
    ran = tiles("import", write_json(mixed()))
    *refused, last = ran.err.splitlines()
    assert (ran.code, ran.out) == (1, "")
    assert last.startswith("Error: 2 of 4 records were refused, so nothing was stored.")
    assert "--skip-refused" in last
    assert [line.startswith("Refused: ") for line in refused] == [True, True]
    assert "'99'" in refused[0]
    assert "record.json, record 2" in refused[0]
    assert "record.json, record 3" in refused[1]
    assert all_rows(sample) == before


def test_marks_that_are_taken_are_told_in_one_line_with_what_to_do(sample, tiles, write_json):
    records = [RECORD | {"mark": f"P-{number}", "shelf": "top"} for number in range(1, 21)]
    assert tiles("import", write_json(records)).code == 0
    before = all_rows(sample)
    others = [each | {"shelf": "low"} for each in records]
    taken, last = tiles("import", write_json(others)).err.splitlines()
    assert taken == (
        "Refused: a tile marked 'P-1' (also 'P-2', 'P-3', 'P-4', 'P-5' and 15 more) is already on "
        "record with shelf 'top', and comes with 'low' (record.json, records 1, 2, 3, 4, 5, 6, 7, "
        "8 and 12 more). Try: 'tiles change' or the file corrected if it is the same tile, another "
        "mark if it is not, --replace to write over it, or --skip-refused to store the others."
    )
    assert last.startswith("Error: 20 of 20 records were refused")
    assert "others" not in last
    assert all_rows(sample) == before
    one_more = [*others, RECORD]
    assert "--skip-refused to store the others" in tiles("import", write_json(one_more)).err


def test_a_mark_that_stands_twice_in_a_file_is_two_tiles(sample, tiles, write_json):
    before = all_rows(sample)
    ran = tiles("import", write_json([RECORD, RECORD | {"mark": "n-1"}]))
    assert_one_line_error(ran, "'n-1' stands earlier in this file", "record 2", "another mark")
    assert all_rows(sample) == before


def test_a_difference_within_the_file_is_not_said_to_be_on_record(sample, tiles, write_json):
    jar = {"name": "new jar", "finish": "matt"}
    two = [
        {"mark": mark, "body": "porcelain", "areas": [{"number": 1, "layers": [{"glaze": glaze}]}]}
        for mark, glaze in (("N-1", jar), ("N-2", jar | {"finish": "gloss"}))
    ]
    ran = tiles("import", write_json(two))
    assert_one_line_error(ran, "finish 'gloss', but stands earlier in this file with 'matt'")


def test_skip_refused_stores_the_good_and_writes_the_bad_to_import_again(
    sample, tiles, write_json, tmp_path
):
    ran = tiles("import", write_json(mixed()), "--skip-refused")
    assert (ran.code, ran.out) == (3, "2 of 4 on record: N-1, N-4\n")
    kept = tmp_path / f"record.refused-{date.today():%Y%m%d}.json"
    assert str(kept) in ran.err
    values = json.loads(kept.read_text(encoding="utf-8"))
    assert values == mixed()[1:3]
    values[0]["cone_reached"] = "05"
    values[1]["body"] = "red earthenware"
    ran = tiles("import", write_json(values, "again.json"))
    assert (ran.code, ran.out) == (0, "2 of 2 on record: N-2, N-3\n")


def test_a_refused_record_leaves_nothing_of_what_it_would_have_added(sample, tiles, write_json):
    before = counts(sample)
    bad = RECORD | {"mark": "N-2", "body": "refused clay", "firing": "F03"}
    assert tiles("import", write_json([RECORD, bad]), "--skip-refused").code == 3
    after = counts(sample)
    assert after["tile"] == before["tile"] + 1
    assert after["clay_body"] == before["clay_body"]


def test_replace_writes_over_the_tile_of_the_same_mark(sample, tiles, write_json):
    record = shown(tiles, "M-41")
    record["note"] = "corrected by hand"
    record["areas"][0]["layers"][0]["coats"] = 2
    assert_one_line_error(tiles("import", write_json(record)), "already on record")
    before = counts(sample)
    assert tiles("import", write_json(record), "--replace", "--allow-loss").code == 0
    assert counts(sample) == before
    again = shown(tiles, "M-41")
    assert again.pop("derived") == record.pop("derived")
    assert again == record


def test_replace_takes_a_look_away_only_where_that_is_said(sample, tiles, write_json):
    record = shown(tiles, "M-41")
    gone = record["inspections"].pop()
    look = f"the look of {gone['inspected_on']} ({', '.join(d['defect'] for d in gone['defects'])})"
    ran = tiles("import", write_json(record), "--replace", "--yes")
    assert_one_line_error(ran, f"M-41 would lose {look}", "--allow-loss")
    ran = tiles("import", write_json(record), "--replace", "--allow-loss")
    assert (ran.code, f"M-41 lost {look}" in ran.err) == (0, True)


def test_replace_blanks_nothing_told_of_a_tile_unsaid(sample, tiles, write_json):
    record = shown(tiles, "M-41")
    bare = record | {"shelf": None, "note": None, "clues": {}}
    ran = tiles("import", write_json(bare), "--replace", "--yes")
    assert_one_line_error(
        ran, "M-41 would lose the shelf and the note and the clue bisque wiped (", "--allow-loss"
    )
    assert shown(tiles, "M-41") == record


def test_replace_changes_no_note_unsaid_but_one_that_says_more(sample, tiles, write_json):
    record = shown(tiles, "M-41")
    other = write_json(record | {"note": "fine"})
    told = f"the note {record['note']!r}"
    ran = tiles("import", other, "--replace", "--yes")
    assert_one_line_error(ran, f"M-41 would lose {told} (", "--allow-loss")
    assert shown(tiles, "M-41") == record
    ran = tiles("import", other, "--replace", "--allow-loss")
    assert (ran.code, f"M-41 lost {told}." in ran.err) == (0, True)
    assert tiles("import", write_json(record | {"note": "Fine, by now"}), "--replace").code == 0
    assert shown(tiles, "M-41")["note"] == "Fine, by now"


@pytest.mark.parametrize("note", [None, "other"])
def test_replace_takes_no_note_of_a_look_away_unsaid(sample, tiles, write_json, note):
    look = {"inspected_on": "2026-05-01", "note": "crackled at the rim"}
    assert tiles("import", write_json(RECORD | {"inspections": [look]})).code == 0
    file = write_json(RECORD | {"inspections": [look | {"note": note}]})
    told = "N-1 would lose the note 'crackled at the rim' of the look of 2026-05-01 ("
    assert_one_line_error(tiles("import", file, "--replace", "--yes"), told, "--allow-loss")
    assert tiles("import", file, "--replace", "--allow-loss").code == 0


def test_replace_takes_no_clue_of_an_area_away_unsaid(sample, tiles, write_json):
    clue = {"clues": {"bisque_wiped": "no"}}
    areas = [each | {"number": at} | clue for at, each in enumerate(RECORD["areas"] * 2, start=1)]
    assert tiles("import", write_json(RECORD | {"areas": areas})).code == 0
    record = shown(tiles, "N-1")
    bare = [areas[0], areas[1] | {"clues": {}}]
    ran = tiles("import", write_json(RECORD | {"areas": bare}), "--replace", "--yes")
    told = "N-1 would lose the clue bisque wiped of area 2 ("
    assert_one_line_error(ran, told, "--allow-loss")
    ran = tiles("import", write_json(RECORD | {"areas": areas[:1]}), "--replace", "--yes")
    assert_one_line_error(ran, told)
    assert shown(tiles, "N-1") == record
    of_tile = RECORD | clue | {"areas": [each | {"clues": {}} for each in areas]}
    assert tiles("import", write_json(of_tile), "--replace").code == 0, "said of the whole tile"
    apart = RECORD | {"areas": areas}
    assert tiles("import", write_json(apart), "--replace").code == 0, "said of each area"


def test_replace_says_which_tiles_it_wrote_over_nothing_of(fresh, tiles, write_json):
    assert tiles("import", write_json([RECORD, RECORD | {"mark": "N-2"}])).code == 0
    assert tiles("change", "N-2", "--mark", "K-2").code == 0
    ran = tiles("import", write_json([RECORD, RECORD | {"mark": "N-2"}]), "--replace", "--yes")
    assert (ran.code, ran.err.count("so it is new")) == (0, 1)
    assert "N-2: no tile of that mark was on record" in ran.err


def test_replace_takes_no_fault_out_of_a_look_and_no_picture_unsaid(sample, tiles, write_json):
    record = shown(tiles, "M-41")
    with_more = record | {"photos": [*record["photos"], {"file": "0" * 20 + ".png"}]}
    assert tiles("import", write_json(with_more), "--replace").code == 0
    look = record["inspections"][0]
    fault = look["defects"].pop()["defect"]
    ran = tiles("import", write_json(record), "--replace", "--yes")
    assert_one_line_error(ran, f"M-41 would lose the look of {look['inspected_on']}", fault,
                          "and 1 picture")  # fmt: skip
    assert len(shown(tiles, "M-41")["photos"]) == len(with_more["photos"])


def test_import_points_out_a_name_that_is_very_like_one_on_record(sample, tiles, write_json):
    file = write_json({"mark": "Q-1", "body": "red earthenwear"})
    told = tiles("import", file).err
    assert "Check: clay body 'red earthenwear' is very like 'red earthenware'.\n" in told
    assert '  tiles body merge "red earthenwear" "red earthenware"\n' in told


def test_a_new_glaze_whose_name_reads_as_layers_is_asked_about(fresh, tiles, write_json, tmp_path):
    def glazed(mark, *names, **more):
        layers = [{"glaze": name, **more} for name in names]
        return {"mark": mark, "body": "any clay", "areas": [{"number": 1, "layers": layers}]}

    assert tiles("import", write_json([glazed("N-1", "red"), glazed("N-2", "blue")])).code == 0
    for name in ("red + blue", "red over blue", "red x2", "red+moss", "red & moss", "red, moss"):
        ran = tiles("import", write_json(glazed("N-3", name)))
        assert ran.code == 1
        assert f"glaze {name!r} reads as " in ran.err and "or --yes if it is the name" in ran.err
        assert tiles("show", "N-3").code == 1 and name not in tiles("glaze", "list").out
    assert "2 layers: red + blue (" in tiles("import", write_json(glazed("N-3", "red + blue"))).err
    both = [glazed("N-3", "sky/fog"), glazed("N-6", "fog")]
    assert "'sky/fog' reads as 2 layers" in tiles("import", write_json(both)).err
    assert tiles("import", write_json(glazed("N-7", "sky/fog"))).code == 0  # a name, of no other
    ran = tiles("log", "--mark", "N-8", "--body", "any clay", "--glaze", "red & moss",
                "--add-missing")  # fmt: skip
    assert_one_line_error(ran, "glaze 'red & moss' reads as 2 layers: red + moss.")
    mix = {"recipe": {"version": 1, "lines": [{"material": "nepheline syenite", "parts": 100}]}}
    assert tiles("import", write_json(glazed("N-4", "plum + sage", **mix))).code == 0
    assert tiles("import", write_json(glazed("N-3", "red + blue")), "--yes").code == 0
    ran = tiles("import", write_json(glazed("N-9", "red&moss")), "--yes")
    assert (ran.code, "merge" in ran.err) == (0, False)
    assert tiles("import", write_json(glazed("N-5", "red + blue"))).code == 0  # on record by now
    whole, one = tmp_path / "whole.json", tmp_path / "one.json"
    assert tiles("export", whole).code == 0
    one.write_text(tiles("show", "N-3", "--json").out, encoding="utf-8")
    for file in (whole, one):
        assert tiles("import", file, "--db", tmp_path / f"{file.stem}.db").code == 0

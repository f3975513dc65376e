"""Two computers, one studio: a file of tiles that are on record brings in what is new of them."""

import json
import shutil

import pytest

from tests.cli.records import RECORD, all_rows, assert_one_line_error, counts, shown
from tiles.cli.main import run

LATER = {"inspected_on": "2026-09-01", "defects": [{"defect": "pinholes", "severity": "slight"}]}


KEPT = 25
"""So many tiles of the sample make up the studio here: more would take longer and show no more."""


@pytest.fixture(scope="module")
def studio(sample_template, tmp_path_factory):
    """A small studio with all that the sample has beside its tiles."""
    folder = tmp_path_factory.mktemp("studio")
    whole, small, file = (folder / name for name in ("whole.json", "small.json", "small.db"))
    _run("export", whole, "--db", sample_template)
    told = json.loads(whole.read_text(encoding="utf-8"))
    told["tiles"] = told["tiles"][:KEPT] + [t for t in told["tiles"] if t["mark"] == "M-41"]
    small.write_text(json.dumps(told), encoding="utf-8")
    _run("import", small, "--yes", "--db", file)
    return file


def _run(*arguments):
    with pytest.raises(SystemExit) as ended:
        run([str(each) for each in arguments])
    assert ended.value.code == 0


@pytest.fixture
def sample(studio, sample):
    """As everywhere, of fewer tiles."""
    shutil.copyfile(studio, sample)
    return sample


@pytest.fixture
def other(sample, tiles, tmp_path):
    """The same studio on another computer: its database, and how its export comes in here."""
    whole, place = tmp_path / "other.json", ("--db", str(tmp_path / "other.db"))
    shutil.copyfile(sample, place[1])

    def come_in(*options):
        whole.unlink(missing_ok=True)
        assert tiles("export", whole, *place).code == 0
        return tiles("import", whole, *options)

    return place, come_in


def test_a_file_of_what_is_on_record_changes_nothing_and_says_so(sample, tiles, other):
    before, many = all_rows(sample), counts(sample)["tile"]
    ran = other[1]()
    told = f"{many} of {many} on record as before: nothing was changed\n"
    assert (ran.code, ran.out) == (0, told)
    assert ran.err.startswith("Same as on record, left: M-1, M-2, M-3")
    assert ran.err.count("\n") == 1
    assert all_rows(sample) == before


def test_what_the_other_saw_later_comes_in_and_the_same_again_changes_nothing(sample, tiles, other):
    place, come_in = other
    seen = ("--defect", "pinholes:slight", "--inspected-on", "2026-09-01")
    assert tiles("inspect", "M-41", *seen, "--yes", *place).code == 0
    assert tiles("change", "M-1", "--note", "by the door", "--yes", *place).code == 0
    new = ("log", "--mark", "K-1", "--body", "red earthenware")
    assert tiles(*new, *place).code == 0
    here, many = shown(tiles, "M-41"), counts(sample)["tile"] + 1
    ran = come_in()
    assert "M-41 gained the look of 2026-09-01 (slight pinholes).\n" in ran.err
    told = f"1 stored (K-1), 2 with more (M-1, M-41) and {many - 3} as before\n"
    assert (ran.code, ran.out) == (0, f"{many} of {many} on record: {told}")
    assert shown(tiles, "M-41")["inspections"] == here["inspections"] + [
        shown(tiles, "M-41", *place)["inspections"][-1]
    ]
    before = all_rows(sample)
    ran = come_in()
    assert (ran.code, "nothing was changed" in ran.out) == (0, True)
    assert all_rows(sample) == before


def test_what_contradicts_is_refused_alone_and_by_its_field(sample, tiles, other):
    place, come_in = other
    assert tiles("change", "M-41", "--shelf", "top", "--yes", *place).code == 0
    assert tiles("change", "M-1", "--note", "by the door", "--yes", *place).code == 0
    before, many = all_rows(sample), counts(sample)["tile"]
    ran = come_in()
    told = "'M-41' is already on record with shelf 'middle', and comes with 'top' (other.json,"
    assert_one_line_error(ran, told, "--skip-refused to store the others")
    assert all_rows(sample) == before
    ran = come_in("--skip-refused")
    told = f"{many - 1} of {many} on record: 1 with more (M-1) and {many - 2} as before\n"
    assert (ran.code, ran.out) == (3, told)
    assert shown(tiles, "M-1")["note"] == "by the door"
    assert shown(tiles, "M-41")["shelf"] == "middle"


def test_of_many_tiles_that_gain_the_first_are_told_and_the_others_counted(
    sample, tiles, write_json
):
    records = [RECORD | {"mark": f"P-{number}"} for number in range(1, 13)]
    tiles("import", write_json(records))
    more = [each | {"inspections": [LATER], "photos": [{"file": "a.png"}]} for each in records]
    ran = tiles("import", write_json(more))
    told = [line for line in ran.err.splitlines() if "gained" in line]
    assert told[0] == "P-1 gained the look of 2026-09-01 (slight pinholes) and 1 picture."
    assert told[8:] == ["4 more tiles gained 4 looks and 4 pictures."]
    folder = sample.with_name(f"{sample.stem}-photos")
    missing = f"1 picture is not in {folder}: copy it there"
    assert missing in ran.err
    folder.mkdir(exist_ok=True)
    (folder / "a.png").touch()
    (new,) = more[:1]
    ran = tiles("import", write_json([new | {"mark": "P-20"}]))
    assert (ran.code, missing in ran.err) == (0, False)


def test_keep_stored_names_what_it_did_not_take(sample, tiles, other):
    place, come_in = other
    assert tiles("firing", "change", "F12", "--remark", "cooled slowly", *place).code == 0
    assert tiles("firing", "change", "F12", "--remark", "vents shut").code == 0
    assert tiles("recipe", "add", "iron wash", "--line", "kaolin=100", "--yes", *place).code == 0
    assert_one_line_error(come_in(), "firing 'F12' comes with remark 'cooled slowly', but is on "
                          "record with 'vents shut'. Try: ", "--keep-stored")  # fmt: skip
    ran = come_in("--keep-stored")
    told = "firing 'F12' keeps remark 'vents shut'; 'cooled slowly' is not taken.\n"
    assert (ran.code, ran.err.count("F12"), told in ran.err) == (0, 1, True)
    assert _remark(tiles, "F12") == "vents shut"


@pytest.mark.parametrize("how", [(), ("--keep-stored",)])
def test_what_is_blank_here_is_filled_and_told(sample, tiles, other, how):
    place, come_in = other
    assert tiles("firing", "change", "F12", "--remark", "cooled slowly", *place).code == 0
    ran = come_in(*how)
    told = "firing F12 gained remark 'cooled slowly'.\n"
    assert (ran.code, ran.err.count("F12"), told in ran.err) == (0, 1, True)
    assert ran.out.endswith(" on record as before\n")
    assert _remark(tiles, "F12") == "cooled slowly"


def test_keep_stored_fills_no_blank_of_what_the_file_contradicts(sample, tiles, other):
    place, come_in = other
    there = ("--remark", "cooled slowly", "--hold-min", "17")
    assert tiles("firing", "change", "F12", *there, *place, "--yes").code == 0
    assert tiles("firing", "change", "F12", "--hold-min", "9", "--yes").code == 0
    ran = come_in("--keep-stored")
    told = "firing 'F12' keeps hold_min 9, no remark; 17, 'cooled slowly' are not taken.\n"
    assert (ran.code, ran.err.count("F12"), told in ran.err) == (0, 1, True)
    assert not _remark(tiles, "F12")


def test_keep_stored_leaves_a_blank_that_cannot_be_so_and_says_why(sample, tiles, write_json):
    tile = {"mark": "K-1", "body": "red earthenware"}
    assert tiles("firing", "add", "F90").code == 0
    looked = {"firing": {"name": "F90"}, "inspections": [{"inspected_on": "2026-05-01"}]}
    assert tiles("import", write_json(tile | looked)).code == 0
    firing = {"name": "F90", "fired_on": "2026-06-01"}
    later = write_json(tile | {"mark": "K-2", "firing": firing})
    assert_one_line_error(tiles("import", later), "firing F90: ", "2026-06-01")
    ran = tiles("import", later, "--keep-stored")
    told = "firing 'F90' keeps no fired_on; 2026-06-01 is not taken: firing F90: "
    assert (ran.code, told in ran.err) == (0, True)
    assert json.loads(tiles("firing", "show", "F90", "--json").out)["fired_on"] is None


def _remark(tiles, firing):
    return json.loads(tiles("firing", "show", firing, "--json").out)["remark"]


def test_a_recipe_that_gets_another_number_here_is_named_with_both(sample, tiles, other):
    place, come_in = other
    assert tiles("recipe", "add", "iron wash", "--line", "kaolin=100", "--yes", *place).code == 0
    assert tiles("recipe", "add", "iron wash", "--line", "silica=100", "--yes").code == 0
    tile = ("log", "--mark", "K-1", "--body", "red earthenware", "--glaze", "iron wash")
    assert tiles(*tile, *place).code == 0
    here, there = (
        shown(tiles, "K-1", *place)["areas"][0]["layers"][0]["recipe"]["version"] + more
        for more in (1, 0)
    )
    assert_one_line_error(come_in(), f"version {there} of 'iron wash' comes with other lines")
    told = f"version {there} of 'iron wash' in the file is version {here} here, by its lines.\n"
    for _again in range(2):
        ran = come_in("--keep-stored")
        assert (ran.code, ran.err.count("in the file"), told in ran.err) == (0, 1, True)
        assert shown(tiles, "K-1")["areas"][0]["layers"][0]["recipe"]["version"] == here


def test_a_cone_that_a_sheet_gives_a_tile_on_record_is_asked_for_its_zero(fresh, tiles, write):
    assert tiles("import", write("mark,body,shelf", "T-1,brown clay,top")).code == 0
    before = all_rows(fresh)
    file = write("mark,body,shelf,cone_reached", "T-1,brown clay,top,6")
    assert_one_line_error(tiles("import", file), "No cone in in.csv has a 0", "^06 for 06")
    assert all_rows(fresh) == before
    file = write("mark,body,shelf,cone_reached", "T-1,brown clay,top,^6")
    assert tiles("import", file, "--yes").code == 0
    assert shown(tiles, "T-1")["cone_reached"] == "6"

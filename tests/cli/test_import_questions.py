"""What ``tiles import`` of a flat CSV asks or tells of odd cones and of names that are alike."""

import json
import shlex

import pytest

from tests.cli.records import assert_one_line_error, shown
from tests.cli.sheets import marks


def test_a_cone_a_spreadsheet_turned_into_5_is_questioned(fresh, tiles, write):
    file = write(
        "mark,body,body_cone_low,body_cone_high,cone_reached", "M-1,red,06,04,5", "M-2,red,06,04,05"
    )
    ran = tiles("import", file)
    assert ran.code == 1
    assert "cone reached 5" in ran.err and "row 2" in ran.err
    assert tiles("import", file, "--yes").code == 0


def test_cones_that_lost_their_zero_are_one_line_each_that_names_the_right_one(fresh, tiles, write):
    header = "mark,body,body_cone_low,body_cone_high,bisque_cone,cone_reached,firing,target_cone"
    rows = "M-1,red,06,04,6,5,L1,5", "M-2,red,06,04,6,05,,", "M-3,red,06,04,04,5,L1,5"
    ran = tiles("import", write(header, *rows))
    assert [line for line in ran.err.splitlines() if line.startswith("Refused")] == [
        "Refused: cone 5 is far hotter than clay or glaze allows, and 05 is not "
        "(in.csv, rows 2, 4). Try: ^05 there, or --yes if it really was so.",
        "Refused: bisque cone 6 is far hotter than clay or glaze allows, and 06 is not "
        "(in.csv, rows 2, 3). Try: ^06 there, or --yes if it really was so.",
    ]
    assert "Try: correct them, --yes if all of it really is so, or --skip-refused" in ran.err
    alone = tiles("import", write(header, rows[0]))
    assert_one_line_error(alone, "M-1: cone reached 5", "cone 05 and bisque cone 06 (^06 in a")
    both = f"{header},glaze,glaze_cone_low", "M-1,red,06,04,,05,,,pond,5"
    assert_one_line_error(tiles("import", write(*both)), "the other cone if this was a slip")


def test_a_slip_in_a_name_is_pointed_out_and_the_commands_told_put_it_right(fresh, tiles, write):
    header = "mark,body,glaze,firing,kiln"
    good = ["M-1,brick clay,pond green,L1,little kiln", "M-2,brick clay,pond green,L2,little kiln"]
    assert "Check" not in tiles("import", write(header, *good)).err
    rows = "M-3,brick cley,pond gren,L3,litle kiln", "M-4,brick clay,fog grey,L4,little kiln"
    file = write(header, *rows)
    told = tiles("import", file).err.splitlines()
    assert [line for line in told if line.startswith("Check")] == [
        "Check: clay body 'brick cley' is very like 'brick clay'.",
        "Check: glaze 'pond gren' is very like 'pond green'.",
        "Check: kiln 'litle kiln' is very like 'little kiln'.",
    ]
    commands = [shlex.split(line)[1:] for line in told if line.startswith("  tiles ")]
    assert len(commands) == 3
    for command in commands:
        ran = tiles(*command, "--yes")
        assert (ran.code, ran.err.startswith("That concerns ")) == (0, True)
    record = json.loads(tiles("show", "M-3", "--json").out)
    found = record["body"], record["areas"][0]["layers"][0]["glaze"]
    assert [each["name"] for each in found] == ["brick clay", "pond green"]
    assert record["firing"]["kiln"] == "little kiln"
    left = [row["name"] for row in json.loads(tiles("body", "list", "--json").out)]
    assert left == ["brick clay"]


def test_a_clay_written_shorter_is_asked_about_and_can_be_put_right(fresh, tiles, write):
    header = "mark,body"
    assert "Check" not in tiles("import", write(header, "M-1,Saltmarsh White")).err
    file = write(header, "M-2,Saltmarsh")
    assert tiles("import", file).err.splitlines()[1:] == [
        "Check: is clay body 'Saltmarsh' the same as 'Saltmarsh White'?",
        f"Of two that are one, keep one (and correct {file.name}):",
        '  tiles body merge Saltmarsh "Saltmarsh White"',
    ]
    told = tiles("import", write(header, "M-4,Saltmarsh White"), "--yes").err
    assert "Of two that are one, keep one:" in told  # there is nothing to correct in that file
    write(header, "M-2,Saltmarsh White", "M-3,Saltmarsh White")
    assert "Check" not in tiles("import", file, "--replace").err


def test_the_commands_for_three_names_of_one_glaze_run_one_after_another(fresh, tiles, write):
    rows = "M-1,brick clay,sky (JM)", "M-2,brick clay,JM sky", "M-3,brick clay,sky JM"
    told = tiles("import", write("mark,body,glaze", *rows)).err.splitlines()
    commands = [shlex.split(line)[1:] for line in told if line.startswith("  tiles ")]
    assert [tiles(*command, "--yes").code for command in commands] == [0, 0]
    assert len(json.loads(tiles("glaze", "list", "--json").out)) == 1


def test_a_role_that_a_sheet_left_blank_can_be_corrected_when_the_next_one_tells_it(
    fresh, tiles, write
):
    head = "mark,body,glaze,glaze_role"
    assert tiles("import", write(head, "A-1,red,moss,")).code == 0
    later = write(head, "A-2,red,moss,underglaze")
    assert_one_line_error(tiles("import", later), "or 'tiles glaze change' to correct yours.")
    assert tiles("glaze", "change", "moss", "--role", "underglaze").code == 0
    assert tiles("import", later).code == 0


def test_words_that_mean_a_listed_fault_are_stored_and_what_they_mean_is_told(
    fresh, tiles, write, write_json
):
    head = "mark,body,glaze,faults,inspected_on"
    seen = ("other (milky)", "slight other (too pale); crazing", "other (hazy veil)", "other (odd)")
    rows = [f"A-{n},red,moss,{fault},2026-01-05" for n, fault in enumerate(seen)]
    ran = tiles("import", write(head, *rows))
    lines = [each for each in ran.err.splitlines() if "most often" in each]
    assert (ran.code, lines) == (0, [
        "row 2, row 4: 'milky', 'hazy veil' are kept as other, but most often mean cloudiness. If "
        "so, write cloudiness (milky) there and import it again with --replace.",
        "row 3: 'too pale' is kept as other, but most often means colour shift. If so, write "
        "colour shift (too pale) there and import it again with --replace.",
    ])  # fmt: skip
    assert shown(tiles, "A-0")["inspections"][0]["defects"][0]["defect"] == "other"
    assert "most often" not in tiles("import", write(head, *rows)).err  # nothing new is stored
    records = [shown(tiles, f"A-{n}") for n in range(4)]
    other = fresh.with_name("other.db")
    ran = tiles("import", write_json(records), "--db", other)
    assert "A-0, A-2: 'milky', 'hazy veil' are kept as other" in ran.err
    right = [each.replace("other (m", "cloudiness (m") for each in rows]
    assert tiles("import", write(head, *right), "--replace").code == 0  # the look is not lost
    (seen,) = shown(tiles, "A-0")["inspections"][0]["defects"]
    assert (seen["defect"], seen["note"]) == ("cloudiness", "milky")


def test_a_name_of_two_layers_is_asked_about_and_never_to_be_merged_into_one(fresh, tiles, write):
    header = "mark,body,glaze,coats"
    file = write(header, "M-1,red,moss over ink,2", "M-2,red,moss,2")
    told = "'moss over ink' reads as 2 layers (in.csv, row 2, column glaze). Try: glaze 'moss', "
    assert_one_line_error(tiles("import", file), told)
    ran = tiles("import", file, "--yes")
    assert ran.code == 0 and "Check" not in ran.err
    assert "Check" not in tiles("import", write(header, "M-3,red,moss over ink,2")).err


def test_a_slip_in_the_name_of_a_firing_can_be_put_right_and_leaves_none(fresh, tiles, write):
    header = "mark,body,firing"
    assert tiles("import", write(header, "M-1,brick clay,spring load")).code == 0
    told = tiles("import", write(header, "M-2,brick clay,sprnig load")).err
    assert "Check: firing 'sprnig load' is very like 'spring load'.\n" in told
    command = shlex.split(told.splitlines()[-1])[1:]
    ran = tiles(*command)
    assert ran.code == 1 and "leaves the record" in ran.err and "--yes" in ran.err
    assert tiles(*command, "--yes").out == "sprnig load is now part of spring load.\n"
    firings = json.loads(tiles("firing", "list", "--json").out)
    assert {row["name"]: row["tiles"] for row in firings} == {"spring load": 2}


def test_of_many_names_that_are_alike_the_first_are_told_and_where_the_others_stand(
    fresh, tiles, write
):
    good = [f"{letter}{letter}mber glaze" for letter in "bcdfghklmnp"]
    names = [*good, *(name.replace("mber", "mbre") for name in good)]
    rows = [f"M-{number},brick clay,{name}" for number, name in enumerate(names)]
    told = tiles("import", write("mark,body,glaze", *rows)).err
    assert told.count("is very like") == told.count("glaze merge") == 8
    assert "Check: 3 more, too; they stand in 'tiles glaze list'.\n" in told


def test_marks_that_differ_only_by_blanks_are_told_in_one_line(fresh, tiles, write):
    assert tiles("import", write("mark,body", "T06,red", "T07,red", "U 1,red")).code == 0
    ran = tiles("import", write("mark,body", "T 06,red", "T 07,red", "U2,red"))
    assert ran.code == 0
    assert ran.err == (
        "Check: marks that differ only by blanks, dashes or look-alike letters are two tiles: "
        "'T 06' and 'T06', 'T 07' and 'T07'.\n"
    )


def test_a_shelf_without_a_witness_cone_is_told_once_for_all_its_tiles(fresh, tiles, write):
    header = "mark,body,firing,witness_cones,shelf"
    rows = [f"M-{n},red,L5,top=05; bottom=06,botom" for n in (1, 2)]
    ran = tiles("import", write(header, *rows, "M-3,red,L5,,top"))
    assert ran.code == 0
    assert [line for line in ran.err.splitlines() if "shelf" in line] == [
        "L5 has no witness cone for shelf 'botom', only for top, bottom: no cone reached is known "
        "for M-1, M-2. Did you mean 'bottom'?"
    ]


def test_a_new_shelf_like_another_of_its_kiln_is_told_with_the_command(fresh, tiles, write):
    header = "mark,body,firing,kiln,shelf,cone_reached"
    good = [f"M-{n},red clay,L{n},little kiln,bottom,05" for n in (1, 2)]
    assert "is new" not in tiles("import", write(header, *good)).err
    rows = "M-3,red clay,L1,little kiln,botom,05", "M-4,red clay,L9,big kiln,bottom row,05"
    told = tiles("import", write(header, *rows)).err.splitlines()
    line = "Shelf 'botom' (M-3) is new. If 'bottom' was meant: tiles change M-3 --shelf bottom"
    assert [each for each in told if "Shelf" in each] == [line]
    again = tiles("import", write(header, *rows), "--replace")
    assert (again.code, "Shelf" in again.err) == (0, False), "it is on record by now"
    assert tiles(*shlex.split(line.partition(": tiles ")[2])).code == 0
    assert shown(tiles, "M-3")["shelf"] == "bottom"


def test_a_retired_clay_or_glaze_is_told_of_a_sheet_and_of_json(fresh, tiles, write, tmp_path):
    assert tiles("import", write("mark,body,glaze", "M-1,red clay,moss")).code == 0
    tiles("body", "retire", "red clay")
    told = "Note: 'red clay' is retired."
    ran = tiles("import", write("mark,body,glaze", "M-2,Red clay,moss", "M-3,red clay,pond"))
    assert (ran.code, ran.err.splitlines()[-1]) == (0, told)
    file = tmp_path / "one.json"
    file.write_text('{"mark": "M-4", "body": "red clay"}', encoding="utf-8")
    assert tiles("import", file).err.splitlines() == [told]


def test_a_zero_lost_by_a_spreadsheet_is_questioned_without_any_label(fresh, tiles, write):
    """05 has become 5 in target, witness cone and bisque, so that they agree with each other."""
    header = "mark,body,body_kind,bisque_cone,firing,target_cone,peak_c,witness_cones"
    file = write(header, "M-1,red,earthenware,,L1,5,,5", "M-2,red,earthenware,4,,,,")
    ran = tiles("import", file)
    assert ran.code == 1
    assert "cone 5 is far hotter than clay or glaze allows, and 05 is not (in.csv, row 2" in ran.err
    assert "bisque cone 4 is far hotter" in ran.err
    assert marks(tiles) == []
    assert tiles("import", file, "--yes").code == 0


@pytest.mark.parametrize(
    ("row", "is_told"),
    [
        ("M-1,red,6,4,5", True),
        ("M-1,red,06,04,5", False),
        ("M-1,red,,,4", True),
        ("M-1,red,,,04", False),
        ("M-1,,5,6,", False),
    ],
)
def test_a_sheet_whose_zeros_were_lost_is_told_so(fresh, tiles, write, row, is_told):
    header = "mark,body,glaze_cone_low,glaze_cone_high,bisque_cone,glaze"
    ran = tiles("import", write(header, f"{row},pond"))
    assert ("No cone in in.csv has a 0. Cones: type ^06, not 06" in ran.err) is is_told


def test_a_sheet_of_single_digits_is_asked_about_once_where_nothing_tells(fresh, tiles, write):
    rows = "mark,body,firing,target_cone,cone_reached", "A-1,red,F1,6,5", "A-2,red,F1,,6"
    one_cone = write(f"{rows[0]},body_cone_low", "A-1,red,F1,6,6,6")
    assert "No cone in in.csv has a 0 (6)" in tiles("import", one_cone).err
    file = write(*rows)
    assert_one_line_error(tiles("import", file), "No cone in in.csv has a 0 (5, 6)", "--yes")
    assert marks(tiles) == []
    assert tiles("import", file, "--yes").code == 0
    assert tiles("import", file, "--replace").code == 0
    assert tiles("import", write(*rows[:2], "A-2,red,F1,,4"), "--replace").code == 1


def test_a_cone_without_the_0_that_others_of_its_clay_have_is_asked_about(fresh, tiles, write):
    header = "mark,body,cone_reached,bisque_cone,glaze"
    rows = ["A-1,red,05,04,moss", "A-2,red,5,,moss", "A-3,white,5,04,ink", "A-4,white,6,4,moss"]
    told = tiles("import", write(header, *rows)).err.splitlines()
    assert [line.split(" (")[1].split(")")[0] for line in told if "Refused" in line] == [
        "in.csv, row 3, column cone_reached",
        "in.csv, row 5, column bisque_cone",
    ]
    assert "Try: ^05 there if the 0 was lost, or --yes if both are right." in told[0]
    assert "row 2, column target_cone" in tiles("import", write(
        "mark,body,firing,target_cone", "A-1,red,F1,5", "A-2,red,F2,05")).err  # fmt: skip
    kinds = f"{header},body_kind", *(f"{row},stoneware" for row in rows)
    assert "nothing tells which" not in tiles("import", write(*kinds)).err
    file = write(header, *rows)
    assert tiles("import", file, "--yes").code == 0
    assert "nothing was changed" in tiles("import", file).out  # confirmed by then


@pytest.mark.parametrize(
    "row",
    ["A-1,red,05,,,", "A-1,red,10,,,", "A-1,red,6,stoneware,,", "A-1,red,6,,5,6", "A-1,red,,,,"],
)
def test_a_sheet_that_tells_its_cones_is_not_asked_about(fresh, tiles, write, row):
    header = "mark,body,cone_reached,body_kind,glaze_cone_low,glaze_cone_high,glaze"
    assert tiles("import", write(header, f"{row},pond")).code == 0


def test_a_firing_whose_peak_does_not_suit_its_target_is_questioned_once(fresh, tiles, write):
    header = "mark,body,firing,target_cone,peak_c"
    file = write(header, "M-1,red,L1,05,1186", "M-2,red,L1,,")
    told = tiles("import", file).err.splitlines()
    assert [line for line in told if "peak" in line] == told[:1]
    assert "firing L1: peak 1186 C" in told[0] and "rows 2, 3" in told[0]
    assert marks(tiles) == []
    assert tiles("import", file, "--yes").code == 0


def test_the_yes_for_an_odd_cone_takes_no_look_away(fresh, tiles, write):
    header = "mark,body,body_cone_low,body_cone_high,cone_reached,inspected_on,defect_crazing"
    file = write(header, "A-1,red clay,06,04,5,2026-01-02,none", "A-2,red clay,06,04,05,,")
    assert tiles("import", file, "--yes").code == 0
    assert tiles("inspect", "A-1", "--defect", "specks", "--inspected-on", "2026-06-02").code == 0
    assert tiles("inspect", "A-2", "--clean", "--inspected-on", "2026-06-02").code == 0
    ran = tiles("import", file, "--replace", "--yes")
    assert ran.code == 1
    assert "A-1 would lose the look of 2026-06-02 (specks)" in ran.err
    assert "A-2 would lose the look of 2026-06-02 (clean)" in ran.err
    assert [len(shown(tiles, mark)["inspections"]) for mark in ("A-1", "A-2")] == [2, 1]
    ran = tiles("import", file, "--replace", "--allow-loss")
    assert ran.code == 0
    assert "A-1 lost the look of 2026-06-02 (specks)." in ran.err
    assert "A-2 lost the look of 2026-06-02 (clean)." in ran.err


def test_what_was_confirmed_travels_in_json_and_a_csv_says_that_it_does_not(
    fresh, tiles, write, tmp_path, monkeypatch
):
    header = "mark,body,body_cone_low,body_cone_high,cone_reached,thickness_mm,glaze,firing"
    file = write(f"{header},target_cone,peak_c", "A-1,red clay,06,04,5,8,pond,F1,05,1186")
    assert tiles("import", file).code == 1
    assert tiles("import", file, "--yes").code == 0
    whole, flat = tmp_path / "all.json", tmp_path / "all.csv"
    assert tiles("export", whole).err == ""
    assert "What is unlikely of A-1 is asked about again" in tiles("export", flat).err
    for place, given, code in (("1", whole, 0), ("2", flat, 1)):
        monkeypatch.setenv("TILES_DB", str(tmp_path / f"{place}.db"))
        ran = tiles("import", given)
        assert ran.code == code, ran.err
    (record,) = json.loads(whole.read_text(encoding="utf-8"))["tiles"]
    assert len(record["confirmed"]) == 4
    changes = ({"cone_reached": "6"}, {"firing": record["firing"] | {"peak_c": 1190}},
               {"confirmed": None})  # fmt: skip
    for number, change in enumerate(changes):
        monkeypatch.setenv("TILES_DB", str(tmp_path / f"changed {number}.db"))
        whole.write_text(json.dumps(record | change), encoding="utf-8")
        assert_one_line_error(tiles("import", whole), "is far above")
    whole.write_text(json.dumps(record | {"confirmed": "yes"}), encoding="utf-8")
    assert_one_line_error(tiles("import", whole), "confirmed is no list of texts (all.json)")


def test_an_odd_cone_once_confirmed_is_not_questioned_again(fresh, tiles, write):
    header = "mark,body,body_cone_low,body_cone_high,cone_reached"
    file = write(header, "A-1,red clay,06,04,5")
    assert tiles("import", file).code == 1
    assert tiles("import", file, "--yes").code == 0
    assert tiles("import", file, "--replace").code == 0
    other = tiles("import", write(header, "A-1,red clay,06,04,6"), "--replace")
    assert (other.code, "cone reached 6" in other.err) == (1, True)


def test_a_glaze_with_its_coats_in_one_cell_is_read_as_at_the_prompt(fresh, tiles, write):
    rows = "M-1,red,coral=3,,bag clear,2", "M-2,red,coral,3,bag clear=2,"
    ran = tiles("import", write("mark,body,under_glaze,under_coats,glaze,coats", *rows))
    assert ran.code == 0, ran.err
    assert "Read 'coral=3' as under_glaze coral and under_coats 3" in ran.err
    made = [[(layer["glaze"]["name"], layer["coats"])
             for layer in json.loads(tiles("show", mark, "--json").out)["areas"][0]["layers"]]
            for mark in ("M-1", "M-2")]  # fmt: skip
    assert made == [[("coral", 3), ("bag clear", 2)]] * 2


def test_two_counts_of_coats_in_one_row_are_refused(fresh, tiles, write):
    file = write("mark,body,under_glaze,under_coats", "M-1,red,coral=3,2")
    ran = tiles("import", file)
    assert (ran.code, marks(tiles)) == (1, [])
    assert "under_coats is 3 in one cell and 2 in another of its row (in.csv, row 2" in ran.err


def test_no_glaze_is_called_by_its_coats(fresh, tiles):
    assert_one_line_error(tiles("glaze", "add", "coral=3"), "=3 are the coats", "Try: coral;")

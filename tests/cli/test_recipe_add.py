"""``tiles recipe add``, ``list``: parts kept as given, each change a version, odd input asked."""

import json
import shlex

import pytest

from tests.cli.keyboard import CTRL_C, Keyboard
from tests.cli.records import assert_one_line_error

SATIN = [
    *("--line", "soda feldspar=32", "--line", "whiting=14", "--line", "kaolin=24"),
    *("--line", "silica=30", "--extra", "tin oxide=4"),
]


def shown(tiles, name, *more) -> dict:
    ran = tiles("recipe", "show", name, "--json", *more)
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


def parts(record: dict) -> list[tuple]:
    return [(line["material"], line["parts"], line["is_addition"]) for line in record["lines"]]


def test_a_new_recipe_is_stored_as_given_with_its_additions_apart(tiles, fresh):
    ran = tiles("recipe", "add", "satin white", *SATIN, "--cones", "5-6", "--finish", "satin")
    assert ran.code == 0
    assert ran.out == "satin white version 1 is on record; base 100 parts, additions 4.\n"
    assert parts(shown(tiles, "satin white")) == [
        ("soda feldspar", 32, False),
        ("whiting", 14, False),
        ("kaolin", 24, False),
        ("silica", 30, False),
        ("tin oxide", 4, True),
    ]
    (glaze,) = json.loads(tiles("glaze", "list", "--json").out)
    assert (glaze["kind"], glaze["role"], glaze["finish"]) == ("recipe", "glaze", "satin")
    assert (glaze["cone_low"], glaze["cone_high"]) == ("5", "6")


def test_the_next_one_is_a_version_and_the_first_stays(tiles, fresh):
    tiles("recipe", "add", "satin white", *SATIN)
    ran = tiles("recipe", "add", "Satin White", "--line", "whiting=20", "--line", "silica=80")
    assert "satin white version 2" in ran.out
    assert parts(shown(tiles, "satin white@1"))[0] == ("soda feldspar", 32, False)
    assert parts(shown(tiles, "satin white", "--version", 2))[0] == ("whiting", 20, False)
    (row,) = json.loads(tiles("recipe", "list", "--json").out)
    assert (row["glaze"], row["version"], row["of"]) == ("satin white", 2, 2)


def test_parts_that_do_not_add_up_are_kept_and_said_and_scaled_only_on_request(tiles, fresh):
    add = ["recipe", "add", "line", "--line", "whiting=30", "--line", "silica=50"]
    ran = tiles(*add, "--extra", "tin oxide=4")
    assert "base 80 parts" in ran.out
    assert "does not add up to 100" in ran.err
    assert parts(shown(tiles, "line"))[0] == ("whiting", 30, False)
    ran = tiles(*add, "--extra", "tin oxide=4", "--to-100")
    assert "base 100 parts, additions 5." in ran.out
    assert parts(shown(tiles, "line")) == [
        ("whiting", 37.5, False),
        ("silica", 62.5, False),
        ("tin oxide", 5, True),
    ]


def test_a_spreadsheet_gives_the_same_recipe_as_options(tiles, fresh, tmp_path):
    sheet = tmp_path / "satin.csv"
    rows = "soda feldspar;32;\nwhiting;14,0;no\nkaolin;24;\nsilica;30;\ntin oxide;4;yes\n"
    sheet.write_text(f"\ufeffMaterial;parts;is_addition\n{rows}", encoding="utf-8")
    assert tiles("recipe", "add", "from sheet", "--from-csv", sheet).code == 0
    assert tiles("recipe", "add", "from options", *SATIN).code == 0
    assert parts(shown(tiles, "from sheet")) == parts(shown(tiles, "from options"))


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ("material,parts\nwhiting,\n", "row 2: parts of 'whiting': the number is missing"),
        ("material,parts\nwhiting,10\n,5\n", "row 3: no material"),
        ("name,amount\nwhiting,10\n", "material,parts,is_addition in the first row"),
        ("material,parts,is_addition\nwhiting,1,maybe\n", "yes or no"),
        ("material,parts,is_addtion\nwhiting,1,yes\n", "column 'is_addtion' is not known"),
        ("material,parts,Parts\nwhiting,20,3\n", "two columns 'parts'"),
        ("material,parts,is_addition\nwhiting,20,no,7\n", "row 2: '7' stands beyond"),
        ("material,parts,\nwhiting,20,7\n", "row 2: '7' stands beyond"),
        ("material,parts\nwhiting,20\n\nTotal,20\n", "row 4: 'Total' is no material"),
        ('material,parts\nwhiting,"1,200"\n', "1200 or 1.2, whichever is meant"),
        ("", "in the first row"),
        ("material,parts\n", "at least one material"),
    ],
)
def test_a_spreadsheet_that_cannot_be_read_names_its_row(tiles, fresh, tmp_path, rows, told):
    sheet = tmp_path / "sheet.csv"
    sheet.write_text(rows)
    ran = tiles("recipe", "add", "odd", "--from-csv", sheet)
    assert ran.code == 1
    assert told in ran.err
    assert not fresh.exists()


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (["whiting=-5"], "whiting: -5 parts"),
        (["whiting=0"], "whiting: 0 parts"),
        (["whiting="], "the number is missing"),
        (["whiting"], "not a name and a number"),
        (["whiting=-0"], "whiting: 0 parts"),
        (["whiting=nan"], "not a number: nan"),
        (["whiting=inf"], "not a number: inf"),
        (["=5"], "not a name and a number"),
        (["whiting=1_0"], "'1_0' is not a number"),
        (["whiting=1e308"], "whiting: 1e+308 parts cannot be right"),
        (["whiting=1e-300"], "whiting: 1e-300 parts cannot be right"),
        (["whiting=1,200"], "1200 or 1.2, whichever is meant"),
        (["whiting=5", "whiting=6"], "listed twice (5 and 6 parts)"),
        (["flint=5", "silica=6"], "flint and silica are the same material"),
        (["china clay=5", "kaolin=6"], "the same material"),
    ],
)
def test_what_cannot_be_right_is_one_line_and_stores_nothing(tiles, fresh, lines, told):
    options = [part for line in lines for part in ("--line", line)]
    ran = tiles("recipe", "add", "odd", *options)
    assert ran.code == 1
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1
    assert not fresh.exists()


def test_an_unknown_material_is_questioned_with_the_nearest_name(tiles_process, fresh):
    add = ["recipe", "add", "odd", "--line", "whitting=20", "--line", "silica=80"]
    ran = tiles_process(*add)
    assert ran.code == 1
    assert "20 % of the recipe would not be understood" in ran.err
    assert "'whiting'" in ran.err
    assert tiles_process("recipe", "list").out == ""
    assert tiles_process(*add, "--yes").code == 0


def test_own_material_is_understood_and_does_not_collide_with_a_shipped_name(tiles, fresh):
    add = ["material", "add", "shed frit", "--oxide", "SiO2=50", "--oxide", "Na2O=50"]
    assert tiles(*add).code == 0
    assert tiles("recipe", "add", "odd", "--line", "shed frit=60", "--line", "silica=40").code == 0
    assert shown(tiles, "odd")["not_understood_pct"] == 0


def test_a_jar_takes_no_recipe_and_a_recipe_on_record_no_second_label(tiles, sample):
    jar = tiles("recipe", "add", "pond green", "--line", "whiting=10")
    assert "jar" in jar.err
    label = tiles("recipe", "add", "house clear", "--line", "whiting=10", "--role", "slip")
    assert "tiles glaze change" in label.err
    assert (jar.code, label.code) == (1, 1)


def test_the_same_lines_again_are_no_new_version(tiles, fresh):
    tiles("recipe", "add", "satin white", *SATIN)
    ran = tiles("recipe", "add", "satin white", *SATIN)
    assert ran.code == 1
    assert "version 1 of 'satin white' has these lines already" in ran.err


def test_without_a_line_a_person_is_asked_and_no_person_is_an_error(fresh):
    person = Keyboard("recipe", "add", "asked for")
    person.answers("Base:", "soda feldspar=60")
    person.answers("Base:", "whiting")
    person.sees("not a name and a number")
    person.answers("Base:", "whiting=40")
    person.sees("2 lines, 100 parts")
    person.answers("Base:")
    person.answers("Addition above the base:", "tin oxide=5")
    person.answers("Addition above the base:")
    code, said = person.ends()
    assert code == 0
    assert "asked for version 1 is on record; base 100 parts, additions 5." in said


def test_each_line_asked_for_is_checked_beside_those_before_it(fresh):
    person = Keyboard("recipe", "add", "asked for")
    person.answers("Base:", "whiting=60")
    person.answers("Base:", "silica=-30")
    person.sees("-30 parts")
    person.answers("Base:", "chalk=5")
    person.sees("are the same material")
    person.answers("Base:", "kaolen=40")
    person.sees("is it 'kaolin'? Type the line again to keep it so.")
    person.answers("Base:", "kaolin=40")
    person.sees("2 lines, 100 parts")
    person.answers("Base:")
    person.answers("Addition above the base:", "whiting=5")
    person.sees("among the additions")
    person.answers("Addition above the base:", "shed dust=1")
    person.sees("Type the line again")
    person.answers("Addition above the base:", "shed dust=1")
    person.sees("1 line, 1 parts")
    person.answers("Addition above the base:")
    code, said = person.ends()
    assert code == 0, said
    assert "base 100 parts, additions 1." in said


def test_a_name_the_commands_could_not_reach_is_refused_wherever_it_comes_in(tiles, fresh):
    tiles("glaze", "add", "plain")
    for arguments in (
        ("recipe", "add", "x@1", "--line", "whiting=12"),
        ("glaze", "add", "x@1"),
        ("glaze", "rename", "plain", "x@1"),
    ):
        ran = tiles(*arguments)
        assert ran.code == 1, arguments
        assert "cannot be called 'x@1'" in ran.err
        assert len(ran.err.splitlines()) == 1


def test_a_recipe_without_a_name_is_told_so(tiles, fresh):
    assert "the recipe has no name" in tiles("recipe", "add", " ", "--line", "whiting=1").err


def test_a_blank_row_and_a_number_of_a_spreadsheet_are_read(tiles, fresh, tmp_path):
    sheet = tmp_path / "sheet.csv"
    rows = "whiting,20,0.0\n,,,\nsilica,80,\n\ntin oxide,4,1.0\n"
    sheet.write_text(f"material,parts,is_addition\n{rows}")
    assert tiles("recipe", "add", "from sheet", "--from-csv", sheet).code == 0
    assert [each[2] for each in parts(shown(tiles, "from sheet"))] == [False, False, True]


def test_felspar_is_feldspar(tiles_process, fresh):
    known = tiles_process("recipe", "add", "old book", "--line", "potash felspar=40")
    assert known.code == 0
    ran = tiles_process("recipe", "add", "odd", "--line", "felspar=40")
    assert "feldspar" in ran.err
    assert "fluorspar" not in ran.err


def test_stopping_half_way_stores_nothing(fresh):
    person = Keyboard("recipe", "add", "asked for")
    person.answers("Base:", "soda feldspar=60")
    person.sees("Base:")
    person.press(CTRL_C)
    code, _ = person.ends()
    assert code == 130
    assert not fresh.exists()


def test_no_line_and_no_person_is_an_error(tiles_process, fresh):
    ran = tiles_process("recipe", "add", "odd")
    assert ran.code == 1
    assert "--line" in ran.err


def test_the_list_has_one_row_a_recipe_in_every_form(tiles, sample):
    rows = json.loads(tiles("recipe", "list", "--json").out)
    names = [row["glaze"] for row in rows]
    assert names == sorted(names)
    assert "house clear" in names
    table = tiles("recipe", "list").out.splitlines()
    assert len(table) == len(rows) + 2
    assert len(tiles("recipe", "list", "--csv").out.splitlines()) == len(rows) + 1


def test_two_shipped_names_of_one_material_with_analyses_of_their_own_are_two(fresh, tiles):
    for name in ("silica", "flint"):
        tiles("material", "add", name, "--oxide", "SiO2=99", "--loi", "1")
    ran = tiles("recipe", "add", "both", "--line", "silica=10", "--line", "flint=20")
    assert ran.code == 0, ran.err


def test_a_glaze_put_down_as_a_jar_becomes_a_recipe_and_not_back(sample, tiles):
    assert tiles("glaze", "add", "tin white").code == 0
    line = ("--line", "kaolin=100")
    refused = tiles("recipe", "add", "tin white", *line)
    assert_one_line_error(refused, 'tiles glaze change "tin white" --kind recipe')
    assert tiles("glaze", "change", "tin white", "--kind", "recipe").code == 0
    assert tiles("recipe", "add", "tin white", *line).code == 0
    back = tiles("glaze", "change", "tin white", "--kind", "jar")
    assert_one_line_error(back, "has a recipe on record, so it is no jar")


@pytest.mark.parametrize("name", ["snow", "tin white", 'the 5" rim', "white $2"])
def test_the_next_command_can_be_copied_whatever_the_name_of_the_glaze(sample, tiles, name):
    ran = tiles("recipe", "add", name, "--line", "kaolin=100", "--yes")
    assert ran.code == 0, ran.err
    (line,) = [each for each in ran.err.splitlines() if each.startswith("Next: tiles ")]
    assert shlex.split(line)[2:] == ["recipe", "show", name]
    assert name in tiles(*shlex.split(line)[2:]).out

"""``tiles export``: what a file leaves out is told."""

from tests.conftest import ROOT


def test_a_csv_says_what_it_leaves_out_as_no_tile_has_it_and_json_holds_it(sample, tiles, tmp_path):
    recipe = ("recipe", "add", "house clear", "--line", "silica=60", "--line", "kaolin=40")
    for words in (
        ("body", "add", "spare clay"), ("firing", "add", "F99"), recipe,
        ("batch", "add", "pond green", "May"), ("kiln", "add", "attic"),
        ("kiln", "change", "top loader", "--remark", ""),
        ("material", "add", "own spar", "--oxide", "SiO2=60", "--oxide", "K2O=40"),
    ):  # fmt: skip
        assert tiles(*words).code == 0, words
    told = tiles("export", tmp_path / "all.csv").err
    (line,) = (each for each in told.splitlines() if each.startswith("Left out, as no row"))
    assert line == (
        "Left out, as no row holds it: clay body spare clay, batch May of pond green, house clear "
        "version 3, iron wash version 1, firing F99, kiln attic, the remark on kiln front loader, "
        "your analysis of own spar."
    )
    assert "To keep all of it: 'tiles export " in told
    assert "Left out" not in tiles("export", tmp_path / "all.json").err


def test_an_export_to_json_says_where_the_pictures_are(sample, tiles, tmp_path):
    picture = next(ROOT.joinpath("sample_db", "pictures").glob("*.*g"))
    assert tiles("photo", "M-41", picture).code == 0
    told = tiles("export", tmp_path / "all.json").err
    assert f"not in it: copy the folder {tmp_path / 'sample-photos'} as well.\n" in told
    assert "as well" not in tiles("export", tmp_path / "all.csv").err

"""The sample's files: valid, plausible, and each story in them can be found by counting.

The stories are counted with the csv module from the files themselves. What a plausible number is
(coats, thickness, peaks) is "common practice, no source" unless a check says otherwise.
"""

import csv
import shutil
from collections import defaultdict
from datetime import date

import pytest

from sample_db.build import FOLDER, read_records
from tiles.chemistry import cones
from tiles.errors import InvalidValue, TilesError, UnknownCone

LOW_FIRE_JARS = {"pond green", "studio clear", "brick red", "school white", "rain blue"}


def rows(file):
    with (FOLDER / file).open(newline="", encoding="utf-8") as opened:
        return list(csv.DictReader(opened))


def tiles():
    return {row["mark"]: row for row in rows("tiles.csv")}


def looks():
    by_mark = defaultdict(list)
    for row in rows("inspections.csv"):
        by_mark[row["mark"]].append(row)
    return by_mark


def marks_with(defect):
    return {row["mark"] for row in rows("inspections.csv") if row["defect"] == defect}


def saw(mark, area, defect):
    return any(row["defect"] == defect and row["area"] in ("", area) for row in looks()[mark])


def layers_of(glaze):
    return [row for row in rows("layers.csv") if row["glaze"] == glaze]


@pytest.fixture
def copied(tmp_path):
    folder = tmp_path / "sample"
    shutil.copytree(FOLDER, folder, ignore=shutil.ignore_patterns("*.py", "__pycache__"))
    return folder


def spoil(folder, file, old, new):
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert text.count(old) >= 1
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


# --- the files as a whole ---------------------------------------------------------------------


def test_every_row_passes_the_forms_and_the_size_is_as_told():
    sample = read_records()
    assert (len(sample.bodies), len(sample.glazes), len(sample.firings)) == (4, 16, 10)
    assert [glaze.kind for glaze in sample.glazes].count("jar") == 10
    assert len(sample.kilns) == 2
    assert 150 <= len(sample.tiles) <= 250
    assert all(date(2024, 9, 1) <= each.fired_on <= date(2026, 6, 30) for each in sample.firings)


def test_no_date_runs_backwards():
    for tile in read_records().tiles:
        firing, bisque = tile.firing, tile.bisque_firing
        steps = [tile.made_on, bisque and bisque.fired_on, firing and firing.fired_on]
        steps += [look.inspected_on for look in tile.inspections]
        known = [day for day in steps if day]
        assert known == sorted(known), tile.mark
        if tile.glazed_on and firing:
            assert tile.glazed_on < firing.fired_on, tile.mark
        for area in tile.areas:
            for layer in area.layers:
                if layer.batch and tile.glazed_on and layer.applied_on != "greenware":
                    assert layer.batch.mixed_on <= tile.glazed_on, tile.mark


def test_optional_facts_are_blank_as_often_as_real_people_leave_them():
    fired = [row for row in rows("tiles.csv") if row["firing"]]
    optional = [row[name] for row in fired for name in ("made_on", "glazed_on", "form", "stood")]
    coats = rows("layers.csv")
    optional += [row[name] for row in coats for name in ("thickness_mm", "method", "applied_on")]
    assert 0.25 <= optional.count("") / len(optional) <= 0.45


def test_a_coat_is_as_thick_as_its_number_of_coats_allows():
    for row in rows("layers.csv"):
        if row["thickness_mm"]:
            per_coat = float(row["thickness_mm"]) / int(row["coats"])
            low, high = (0.35, 0.85) if row["method"] == "dip" else (0.08, 0.55)
            assert low <= per_coat <= high, row


def test_a_fired_coat_is_about_half_the_dry_one():
    both = [
        float(row["fired_thickness_mm"]) / float(row["thickness_mm"])
        for row in rows("layers.csv")
        if row["fired_thickness_mm"] and row["thickness_mm"]
    ]
    assert len(both) >= 4
    assert all(0.4 <= share <= 0.65 for share in both)


def test_peaks_agree_with_the_published_chart_for_the_cone_seen():
    # Source: the cone maker's 2016 chart, held in tiles/chemistry/data/cones.csv. 12 C allows for
    # a shelf away from the thermocouple.
    for firing in read_records().firings:
        seen = [read.cone for read in firing.witness_cones if read.shelf in (None, "middle", "top")]
        if firing.peak_c:
            expected = cones.temperature_c(seen[-1], firing.rate_c_per_h)
            assert abs(firing.peak_c - expected) <= 12, firing.name


def test_recipes_use_materials_that_the_material_table_knows():
    table = FOLDER.parent / "tiles" / "chemistry" / "data" / "materials.csv"
    with table.open(newline="", encoding="utf-8") as opened:
        known = {row["material"] for row in csv.DictReader(opened)}
    assert {row["material"] for row in rows("recipes.csv")} <= known


def test_the_base_of_every_recipe_sums_to_a_hundred_parts():
    sums = defaultdict(float)
    for row in rows("recipes.csv"):
        if row["is_addition"] == "no":
            sums[row["glaze"], row["version"]] += float(row["parts"])
    assert len({glaze for glaze, _ in sums}) == 6
    assert set(sums.values()) == {100}


# --- the stories ------------------------------------------------------------------------------


def test_pond_green_crawls_when_thick_and_never_when_thin():
    inspected = [row for row in layers_of("pond green") if row["mark"] in looks()]
    thick = [row for row in inspected if row["thickness_mm"] and float(row["thickness_mm"]) > 1]
    thin = [row for row in inspected if row["thickness_mm"] and float(row["thickness_mm"]) < 1]
    assert len(thick) >= 8
    assert len(thin) >= 12
    assert all(saw(row["mark"], row["area"], "crawling") for row in thick)
    assert not any(saw(row["mark"], row["area"], "crawling") for row in thin)
    assert {tiles()[row["mark"]]["body"] for row in thick} >= {
        "red earthenware",
        "white earthenware",
        "buff stoneware",
    }
    assert any(row["coats"] == "3" for row in thin), "it is the thickness, not the count"


def test_three_area_tiles_crawl_on_the_third_area_only():
    three = {row["mark"] for row in layers_of("pond green") if row["area"] == "3"}
    assert len(three) >= 3
    for mark in three:
        assert [saw(mark, area, "crawling") for area in "123"] == [False, False, True]


def test_m41_is_the_thick_crawler():
    tile = tiles()["M-41"]
    assert (tile["body"], tile["firing"], tile["cone_reached"]) == ("red earthenware", "F12", "05")
    (layer,) = [row for row in rows("layers.csv") if row["mark"] == "M-41"]
    assert (layer["glaze"], layer["coats"], layer["thickness_mm"]) == ("pond green", "3", "1.6")
    seen = {row["defect"]: row["severity"] for row in looks()["M-41"]}
    assert seen == {"crawling": "severe", "pinholes": "slight"}


def test_studio_clear_crazes_later_on_the_porous_body():
    clear = {row["mark"] for row in layers_of("studio clear")}
    late = set()
    for mark in clear & marks_with("crazing"):
        own = sorted(looks()[mark], key=lambda row: row["inspected_on"])
        if not own[0]["defect"] and own[-1]["defect"] == "crazing":
            days = date.fromisoformat(own[-1]["inspected_on"]) - date.fromisoformat(
                own[0]["inspected_on"]
            )
            assert days.days >= 21
            late.add(mark)
    assert "M-17" in late
    assert sum(tiles()[mark]["body"] == "white earthenware" for mark in late) >= 5
    assert sum(tiles()[mark]["body"] == "red earthenware" for mark in late) == 1
    absorption = {row["name"]: float(row["absorption_pct"]) for row in rows("bodies.csv")}
    assert max(absorption, key=absorption.get) == "white earthenware"


def test_the_low_bisque_pinholes_and_the_same_ware_bisqued_again_does_not():
    in_f12 = {mark for mark, row in tiles().items() if row["firing"] == "F12"}
    low = {f"M-{number}" for number in range(53, 65)}
    assert low <= in_f12
    assert {tiles()[mark]["bisque_cone"] for mark in low} == {"08", ""}
    pinholed = marks_with("pinholes")
    assert len(low & pinholed) >= 9
    assert (in_f12 - low) & pinholed == {"M-41"}
    assert not {"M-65", "M-66"} & pinholed


def test_two_low_fire_tiles_ran_in_the_cone_5_load():
    (load,) = [row for row in rows("firings.csv") if row["name"] == "F17"]
    assert load["target_cone"] == "5"
    low_fire = {row["mark"] for row in rows("layers.csv") if row["glaze"] in LOW_FIRE_JARS}
    mixed_up = {mark for mark in low_fire if tiles()[mark]["firing"] == "F17"}
    assert mixed_up == {"M-51", "M-52"}
    assert mixed_up <= marks_with("running")
    assert all(tiles()[mark]["is_confirmed"] == "yes" for mark in mixed_up)


def test_underglaze_lies_half_under_clear_and_half_bare():
    stacks = defaultdict(list)
    for row in rows("layers.csv"):
        stacks[row["mark"], row["area"]].append(row["glaze"])
    halves = [
        mark
        for (mark, area), stack in stacks.items()
        if area == "1" and len(stack) == 2 and stacks.get((mark, "2")) == stack[:1]
        if "underglaze" in stack[0]
    ]
    assert len(halves) >= 6


def test_the_retired_jar_keeps_its_name_on_its_tiles():
    retired = [row["name"] for row in rows("glazes.csv") if row["is_retired"]]
    assert retired == ["mustard yellow"]
    assert len(layers_of("mustard yellow")) >= 3


def test_some_tiles_are_planned_glazed_or_never_inspected():
    from tiles.records.derived import stage

    stages = defaultdict(list)
    for tile in read_records().tiles:
        stages[stage(tile)].append(tile)
    assert all(len(stages[name]) >= 6 for name in ("planned", "glazed", "fired", "inspected"))
    assert len([tile for tile in stages["fired"] if tile.firing.name == "F31"]) == 12


def test_some_tiles_have_a_smooth_and_a_textured_half():
    surfaces = defaultdict(set)
    for row in rows("areas.csv"):
        surfaces[row["mark"]].add(row["surface"])
    assert sum(found == {"smooth", "textured"} for found in surfaces.values()) >= 4


def test_the_top_loader_is_a_cone_hot_on_the_bottom_shelf():
    kilns = {row["name"]: row["kiln"] for row in rows("firings.csv")}
    packs = defaultdict(dict)
    for row in rows("witness_cones.csv"):
        packs[row["firing"]][row["shelf"]] = row["cone"]
    above = {
        (kilns[name], cones.steps_between(read["middle"], read["bottom"]))
        for name, read in packs.items()
        if {"middle", "bottom"} <= read.keys()
    }
    assert above == {("top loader", 1)}


def test_a_batch_is_revived_and_another_is_part_of_a_dry_bag():
    batches = rows("batches.csv")
    assert [row["glaze"] for row in batches if row["is_revived"] == "yes"] == ["plum satin"]
    assert [row["glaze"] for row in batches if row["dry_portion"]] == ["school white"]


# --- the database built from the files --------------------------------------------------------


def test_the_database_gives_every_record_back_as_the_files_have_it(tmp_path):
    from sample_db.build import build
    from tiles.records.database import open_database
    from tiles.records.models import Glaze
    from tiles.records.photos import take_in
    from tiles.records.reading import find_records
    from tiles.records.store import find
    from tiles.settings import database_url

    opened = open_database(database_url(str(tmp_path / "sample.db")), create=True)
    with opened.transaction() as session:
        build(session, keep_photo=lambda picture: take_in(picture, tmp_path / "photos"))
    with opened.transaction() as session:
        asked = read_records().tiles
        stored = find_records(session, [tile.mark for tile in asked])
        retired = [
            find(session, Glaze, name).is_retired for name in ("mustard yellow", "rain blue")
        ]
    opened.engine.dispose()
    assert [without_photos(tile) for tile in stored] == [without_photos(tile) for tile in asked]
    assert retired == [True, False]
    pictures = [photo.file for tile in stored for photo in tile.photos]
    assert len(pictures) == len(rows("photos.csv"))
    assert all((tmp_path / "photos" / name).is_file() for name in pictures)


def without_photos(tile):
    return tile.model_dump(exclude={"photos"})


# --- wrong files and pictures -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("file", "old", "new", "error", "said"),
    [
        (
            "layers.csv",
            "M-41,1,1,pond green,,,3,1.6",
            "M-41,1,1,pond green,,,3,-1",
            InvalidValue,
            "-1",
        ),
        ("layers.csv", "M-1,1,1,pond green", "M-1,1,1,pond grey", InvalidValue, "pond grey"),
        ("tiles.csv", "M-2,", "M-1,", InvalidValue, "M-1"),
        ("inspections.csv", "M-4,", "M-999,", InvalidValue, "M-999"),
        ("witness_cones.csv", "F05,,05", "F05,,0.5", UnknownCone, "0.5"),
        ("bodies.csv", "12.5", "12.5,", InvalidValue, "bodies.csv, row 2"),
    ],
)
def test_a_wrong_cell_is_refused_with_its_value(copied, file, old, new, error, said):
    spoil(copied, file, old, new)
    with pytest.raises(error, match=said.replace(".", r"\.")):
        read_records(copied)


def test_a_missing_file_is_named(copied):
    (copied / "layers.csv").unlink()
    with pytest.raises(TilesError, match=r"layers\.csv"):
        read_records(copied)


def test_a_byte_order_mark_from_a_spreadsheet_is_no_part_of_a_header(copied):
    path = copied / "tiles.csv"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    assert read_records(copied).tiles[0].mark == "M-1"


def test_pictures_are_small_and_drawn_from_the_records(copied):
    from PIL import Image, ImageChops, ImageStat

    from sample_db.draw import draw_all

    committed = FOLDER / "pictures"
    drawn = draw_all(copied)
    assert {path.name for path in drawn} == {path.name for path in committed.glob("*.png")}
    for path in drawn:
        kept = committed / path.name
        assert kept.stat().st_size < 6000
        with Image.open(kept) as old, Image.open(path) as new:
            apart = ImageChops.difference(old.convert("RGB"), new.convert("RGB"))
        # Another Pillow may round a line end or a palette entry differently.
        assert max(ImageStat.Stat(apart).mean) < 2, path.name


def test_a_crawled_picture_shows_clay_where_a_sound_one_does_not():
    from PIL import Image

    from sample_db.draw import COLOURS

    def clay_share(mark):
        with Image.open(FOLDER / "pictures" / f"{mark}.png") as image:
            glazed = image.convert("RGB").crop((32, 24, 168, 150))
        clay = COLOURS["brick red"]
        data = glazed.tobytes()
        pixels = [data[start : start + 3] for start in range(0, len(data), 3)]
        near = [p for p in pixels if sum(abs(a - b) for a, b in zip(p, clay, strict=True)) < 24]
        return len(near) / len(pixels)

    assert clay_share("M-41") > 0.08
    assert clay_share("M-40") == 0

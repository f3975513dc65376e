"""``tiles body show``: what the own tiles say of the expansion a body bears."""

import json

import pytest

FRIT_PARTS = range(30, 80, 5)


def fired(mark, frit, defect):
    base = f"high alkali frit={frit}; kaolin=10; silica={90 - frit}"
    return {
        "mark": mark,
        "body": {"name": "red clay", "kind": "earthenware"},
        "areas": [
            {
                "number": 1,
                "layers": [
                    {
                        "glaze": {"name": f"alkali {frit}", "kind": "recipe", "role": "glaze"},
                        "recipe": {
                            "lines": [
                                {"material": name, "parts": float(parts)}
                                for name, parts in (each.split("=") for each in base.split("; "))
                            ]
                        },
                    }
                ],
            }
        ],
        "inspections": [
            {"inspected_on": "2024-03-01", "defects": [{"defect": defect}] if defect else []}
        ],
    }


@pytest.fixture
def red_clay(tiles, fresh, tmp_path):
    """Ten glazes on one body: the five richest in frit crazed."""
    records = [
        fired(f"R-{n}", frit, "crazing" if frit > 50 else None)
        for n, frit in enumerate(FRIT_PARTS, start=1)
    ]
    file = tmp_path / "red.json"
    file.write_text(json.dumps(records))
    ran = tiles("import", file)
    assert ran.code == 0, ran.err


def test_body_show_tells_the_crazing_limit_with_range_and_counts(tiles, red_clay):
    shown = tiles("body", "show", "red clay").out
    assert "from your tiles        of 10 inspected tiles 5 crazed" in shown
    assert "crazes above " in shown
    told = " ".join(shown.split())
    assert "5 crazed, 5 sound tiles of 10 glazes" in told
    assert "where it shivers cannot be told yet: 0 shivered, 10 sound tiles" in told
    assert max(map(len, shown.splitlines())) <= 96


def test_body_show_json_carries_the_limit(tiles, red_clay):
    found = json.loads(tiles("body", "show", "red clay", "--json").out)["fit_from_own_tiles"]
    crazing = found["crazing"]
    assert crazing["low"] < crazing["value"] < crazing["high"]
    assert (crazing["failed"], crazing["sound"], crazing["unit"]) == (5, 5, "1e-6/K")
    assert found["shivering"]["value"] is None


def test_body_show_of_a_new_body_says_nothing_of_tiles(tiles, fresh):
    tiles("body", "add", "grey clay")
    assert "from your tiles" not in tiles("body", "show", "grey clay").out


def test_what_became_of_all_tiles_comes_first_and_jars_do_not_count(tiles, sample):
    shown = " ".join(tiles("body", "show", "red earthenware").out.split())
    assert (
        "90 days after the firing or later); 63 of them, from a jar (recipe not known), cannot "
        "count towards a limit where it"
    ) in shown
    assert "from your tiles of 70 inspected tiles 3 crazed and none shivered (" in shown
    found = json.loads(tiles("body", "show", "red earthenware", "--json").out)
    crazing = found["fit_from_own_tiles"]["crazing"]
    told = [crazing[name] for name in ("tiles_inspected", "tiles_failed", "tiles_untold")]
    assert told == [70, 3, 63]
    assert sum(crazing["untold_because"].values()) == 63
    faulty = json.loads(
        tiles("find", "--body", "red earthenware", "--defect", "crazing", "--json").out
    )
    assert len({each["mark"] for each in faulty}) == 3


def test_next_for_a_body_says_first_what_became_of_all_its_tiles(tiles, sample):
    told = " ".join(tiles("next", "--body", "white earthenware").out.split())
    assert told.startswith(
        "white earthenware: of 29 inspected tiles 8 crazed (7 of them looked at "
    )
    assert "; 27 of them, from a jar (recipe not known), cannot count towards" in told


def test_a_body_of_known_recipes_alone_says_nothing_of_jars(tiles, red_clay):
    told = " ".join(tiles("body", "show", "red clay").out.split())
    assert (
        "of 10 inspected tiles 5 crazed and none shivered (no later look on record) crazes above"
        in told
    )


def test_fix_aims_below_the_limit_that_own_tiles_show(tiles, red_clay):
    found = json.loads(tiles("body", "show", "red clay", "--json").out)["fit_from_own_tiles"]
    told = tiles("fix", "R-10", "--all").out
    value, low, high = (f"{found['crazing'][name]:.1f}" for name in ("value", "low", "high"))
    assert (
        f"Your own tiles put the limit on red clay at {value}, range {low} to {high}; the safe end "
        "of it is aimed at. Expansion " in " ".join(told.split())
    )
    assert f"-> {low} (millionths" in " ".join(told.split())


def test_a_recipe_is_held_against_the_limits_that_own_tiles_tell(tiles, red_clay):
    limit = json.loads(tiles("body", "show", "red clay", "--json").out)["fit_from_own_tiles"]
    crazing = limit["crazing"]
    found = json.loads(tiles("recipe", "show", "alkali 30", "--json").out)
    assert found["own_limits"]["red clay"]["value"] == pytest.approx(crazing["value"])
    assert found["expansion"]["value"] < crazing["low"]
    told = " ".join(tiles("recipe", "show", "alkali 30").out.split())
    assert f"red clay: your tiles craze above {crazing['value']:.1f} (" in told
    assert "lies below it, on the safe side." in told and "No body" not in told
    far = " ".join(tiles("recipe", "show", "alkali 75").out.split())
    assert "lies above it: expect crazing." in far


def test_a_body_for_other_cones_or_out_of_use_is_left_out_beside_a_recipe(tiles, red_clay):
    assert tiles("body", "change", "red clay", "--cones", "06-04", "--yes").code == 0
    at = ("recipe", "show", "alkali 30", "--cone")
    assert "your tiles craze" in tiles(*at, "05").out
    assert "your tiles craze" not in tiles(*at, "6").out
    assert tiles("body", "retire", "red clay").code == 0
    assert "your tiles craze" not in tiles(*at, "05").out


def test_few_tiles_tell_no_limit_beside_a_recipe(tiles, fresh, tmp_path):
    file = tmp_path / "red.json"
    file.write_text(json.dumps([fired(f"R-{n}", 30, "crazing") for n in range(3)]))
    assert tiles("import", file).code == 0
    assert json.loads(tiles("recipe", "show", "alkali 30", "--json").out)["own_limits"] == {}
    assert "No body for this cone has a measured expansion" in (
        tiles("recipe", "show", "alkali 30").out
    )

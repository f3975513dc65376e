"""``tiles forecast``: what is said of own tiles made alike."""

import json

import pytest


@pytest.fixture
def crawls_on_both_bodies(imported):
    """Ink under moss crawled on 3 of 4 tiles of two bodies, on red on 1 of 2; the rest is sound."""
    lines = ["mark,body,glaze,coats,under_glaze,under_glaze_role,under_coats,inspected_on,"
             "defect_crawling"]  # fmt: skip
    bodies, seen = ("red", "red", "white", "white"), ("none", "severe", "severe", "slight")
    for number, (body, fault) in enumerate(zip(bodies, seen, strict=True)):
        lines.append(f"U-{number},{body},moss,3,ink,underglaze,2,2026-03-02,{fault}")
    for glaze in ("moss", "sand", "rust"):
        for number in range(12):
            fault = "slight" if number == 0 else "none"
            lines.append(f"{glaze[0]}-{number},red,{glaze},2,,,,2026-03-02,{fault}")
    imported(lines)


def test_where_few_on_this_body_tell_the_same_layers_on_any_body_are_counted(
    crawls_on_both_bodies, tiles
):
    layers = ("--glaze", "ink=2", "--glaze", "moss=3")
    ran = tiles("forecast", "--body", "red", *layers, "--json")
    (area,) = json.loads(ran.out)["areas"]
    (crawling,) = [each for each in area["forecasts"] if each["defect"] == "crawling"]
    assert (crawling["alike_seen"], crawling["alike_areas"]) == (1, 2)
    assert (crawling["layers_seen"], crawling["layers_areas"]) == (3, 4)
    told = " ".join(tiles("forecast", "--body", "red", *layers).out.split())
    assert (
        "on 1 of your 2 tiles of this glaze over an underglaze on this body; on 3 of the 4 with "
        "the very same layers on any body"
    ) in told
    assert "About as likely as on your tiles in general: crawling" not in told
    assert tiles("body", "add", "new clay").code == 0
    new = " ".join(tiles("forecast", "--body", "new clay", *layers).out.split())
    assert "on 3 of your 4 areas with the very same layers on other bodies" in new
    other = tiles("forecast", "--body", "red", "--glaze", "ink=1", "--glaze", "moss=3").out
    assert "very same layers" not in other


def test_where_coats_are_not_recorded_the_count_of_the_same_layers_says_that_it_is_of_any(
    crawls_on_both_bodies, tiles
):
    assert tiles("body", "add", "new clay").code == 0
    asked = ("forecast", "--body", "new clay", "--glaze", "ink=2", "--glaze")
    assert "any coats" not in tiles(*asked, "moss").out, "all of them have three"
    log = ("log", "--body", "white", "--glaze", "ink=2", "--glaze", "moss=1", "--mark", "N-1")
    assert tiles(*log, "--add-missing", "--clean").code == 0
    told = " ".join(tiles(*asked, "moss").out.split())
    assert "areas with the very same layers (with any coats of moss) on other bodies" in told
    ran = tiles(*asked, "moss=3", "--json")
    (area,) = json.loads(ran.out)["areas"]
    assert {each["layers_how"] for each in area["forecasts"]} == {""}


@pytest.fixture
def crawls_over_moss_alone(imported):
    """Honey crawled on all of 9 tiles over moss, on none of 6 over brick; other glazes on one."""
    lines = ["mark,body,glaze,coats,under_glaze,under_glaze_role,under_coats,inspected_on,"
             "defect_crawling"]  # fmt: skip
    beneath = [("moss", "moderate")] * 9 + [("brick", "none")] * 6
    for number, (under, fault) in enumerate(beneath):
        lines.append(f"U-{number},red,honey,2,{under},underglaze,2,2026-03-02,{fault}")
    for glaze in ("sand", "rust"):
        for number in range(12):
            fault, under = "slight" if number == 0 else "none", ("moss", "brick")[number % 2]
            lines.append(
                f"{glaze[0]}-{number},red,{glaze},2,{under},underglaze,2,2026-03-02,{fault}"
            )
    imported(lines)


def test_a_glaze_that_crawls_over_one_underglaze_alone_is_forecast_so(
    crawls_over_moss_alone, tiles
):
    def crawling(under):
        layers = ("--glaze", f"{under}=2", "--glaze", "honey=2")
        asked = ("forecast", "--body", "red", *layers, "--defect", "crawling")
        (area,) = json.loads(tiles(*asked, "--json").out)["areas"]
        return area["forecasts"][0]["chance"], " ".join(tiles(*asked).out.split())

    (over_moss, moss_told), (over_brick, brick_told) = crawling("moss"), crawling("brick")
    assert over_moss > 3 * over_brick
    assert "on 9 of your 15 tiles of this glaze over an underglaze on this body; " in moss_told
    assert "on 9 of the 9 with the very same layers" in moss_told
    assert "on none of your 6 tiles of this glaze over brick on this body" in brick_told
    assert "how honey does over brick, on your tiles" in brick_told


@pytest.fixture
def one_crawled_on_another_clay(imported):
    """Kelp with 3 coats was fired on white clay alone, once, and crawled; clear crazes on white."""
    lines = ["mark,body,glaze,coats,under_glaze,under_glaze_role,under_coats,inspected_on,"
             "defect_crawling,defect_crazing"]  # fmt: skip
    lines += ["K-3,white,kelp,3,,,,2026-03-02,severe,none"]
    lines += [f"K-{n},red,kelp,{n},,,,2026-03-02,none,none" for n in (1, 2)]
    for number in range(3):
        fault = "slight" if number < 2 else "none"
        lines.append(f"C-{number},white,clear,2,ink,underglaze,2,2026-03-02,none,{fault}")
    for glaze in ("sand", "rust"):
        for number in range(12):
            fault = "slight" if number == 0 else "none"
            lines.append(f"{glaze[0]}-{number},red,{glaze},2,,,,2026-03-02,{fault},none")
    imported(lines)


def test_what_came_on_the_one_tile_made_so_is_told_before_what_is_less_than_usual(
    one_crawled_on_another_clay, tiles
):
    said = tiles("forecast", "--body", "red", "--glaze", "kelp=3").out
    mind = "Mind crawling: it came on your one tile with the very same layers, on white."
    assert said.splitlines()[2].startswith(mind), said
    assert "Mind" not in tiles("forecast", "--body", "red", "--glaze", "kelp=2").out
    assert tiles("log", "--mark", "N-1", "--body", "red", "--glaze", "kelp=3").code == 0
    assert tiles("log", "--mark", "N-2", "--body", "red", "--glaze", "kelp=2").code == 0
    several = " ".join(tiles("forecast", "N-1", "N-2").out.split())
    assert several.count("mind crawling: your one with these layers on white had it") == 1


def test_what_stands_out_on_another_clay_alone_is_counted_there(one_crawled_on_another_clay, tiles):
    for number, seen in enumerate(("blisters", "blisters", "pinholes"), start=1):
        made = ("--mark", f"D-{number}", "--body", "white", "--glaze", "mud=2", "--add-missing")
        assert tiles("log", *made, "--defect", seen, "--yes").code == 0
    for mark, glaze in (("N-1", "mud=2"), ("N-2", "kelp=2")):
        assert tiles("log", "--mark", mark, "--body", "red", "--glaze", glaze).code == 0
    told = " ".join(tiles("forecast", "N-1", "N-2").out.split())
    assert "blisters on 2 of your 3 areas with the very same layers on other bodies" in told


def test_a_fault_of_fit_is_counted_over_whatever_lies_under_the_glaze(
    one_crawled_on_another_clay, tiles
):
    asked = ("forecast", "--body", "white", "--glaze", "clear=2")
    said = " ".join(tiles(*asked).out.split())
    assert "on 2 of your 3 tiles of this glaze over other layers or none on this body" in said
    (area,) = json.loads(tiles(*asked, "--json").out)["areas"]
    counted = {each["defect"]: each["alike_areas"] for each in area["forecasts"]}
    assert (counted["crazing"], counted["shivering"], counted["crawling"]) == (3, 3, 0)


def test_what_a_colour_beneath_was_put_on_can_be_asked_of(one_crawled_on_another_clay, tiles):
    changed = tiles("change", "C-0", "C-1", "--applied-on", "ink=bisque", "--yes")
    assert changed.code == 0, changed.err
    asked = ("forecast", "--body", "white", "--glaze", "ink=2", "--glaze", "clear=2", "--json")
    for put_on, areas in (("bisque", 2), ("greenware", 1)):
        (area,) = json.loads(tiles(*asked, "--applied-on", f"ink={put_on}").out)["areas"]
        counted = {each["defect"]: each["alike_areas"] for each in area["forecasts"]}
        assert (counted["crawling"], counted["crazing"]) == (areas, 3), "fit does not hang on it"
    assert "no layer of 'moss'" in tiles(*asked, "--applied-on", "moss=bisque").err


def test_one_tile_is_counted_in_plain_words(fresh, tiles):
    log = ("log", "--body", "red", "--glaze", "moss", "--add-missing", "--mark")
    assert tiles(*log, "T-1", "--defect", "pinholes").code == 0
    asked = ("forecast", "--body", "red", "--glaze", "moss")
    assert "pinholes: on your one tile of this glaze on this body" in tiles(*asked).out
    assert "crawling: not on your one tile of this glaze on this body" in (
        tiles(*asked, "--defect", "crawling").out
    )


def test_what_is_likelier_than_usual_comes_first_and_the_rest_in_a_line(
    crawls_on_both_bodies, tiles
):
    asked = ("forecast", "--body", "red", "--glaze", "ink=2", "--glaze", "moss=3", "--cone", "05")
    short, in_full = tiles(*asked).out.splitlines(), tiles(*asked, "--all").out.splitlines()
    assert short[2].startswith("crawling ")
    assert len(short) < len(in_full)
    text = " ".join(" ".join(short).split())
    assert "14 other faults can come too; your tiles tell no chance of them (--all)." in text
    assert "No chance told, seen on fewer than 3" in " ".join(" ".join(in_full).split())
    assert "bloating" not in text and any("bloating" in line for line in in_full)
    drivers = [line for line in in_full if line.startswith(("   raised by: ", "   lowered by: "))]
    assert len(drivers) > 1 or ";" in drivers[0]
    assert drivers[0].strip().partition(";")[0] in text


def test_where_no_chance_is_told_nothing_is_said_of_chances_below(fresh, tiles):
    log = ("log", "--body", "red", "--glaze", "moss", "--add-missing", "--mark")
    for mark in ("T-1", "T-2"):
        assert tiles(*log, mark, "--thickness-mm", "0.8", "--clean").code == 0
    ran = tiles("forecast", "--body", "red", "--glaze", "moss", "--thickness-mm", "3")
    text = " ".join(ran.out.split())
    assert "Unlike anything on your record: coat 3 mm" in text
    assert "chances below" not in text and "ranges" not in text
    assert "no fault on record on your 2 tiles of this glaze on this body" in text


def test_what_else_parts_own_tiles_of_the_glaze_is_counted_on_both_sides(imported, tiles):
    lines = ["mark,body,glaze,coats,firing,hold_min,inspected_on,defect_colour_shift"]
    for glaze in ("moss", "sand", "rust"):
        for number in range(12):
            held, firing = (25, "long") if number < 5 else (10, "short")
            fault = "severe" if glaze == "moss" and number < 4 else "none"
            mark = f"{glaze[0]}-{number}"
            lines.append(f"{mark},red,{glaze},2,{firing},{held},2026-03-02,{fault}")
    imported(lines)
    asked = ("forecast", "--body", "red", "--glaze", "moss=2", "--hold-min", "25")
    (area,) = json.loads(tiles(*asked, "--json").out)["areas"]
    counts = {each["defect"]: each["own_count"] for each in area["forecasts"]}
    assert counts.pop("colour shift") == (
        "of 7 others with a hold of 10 min or less none changed colour, "
        "of 5 like this one, with 25 min or more, 4 did."
    )
    assert set(counts.values()) == {""}
    assert "of 5 like this one, with 25 min or more, 4 did" in " ".join(tiles(*asked).out.split())


@pytest.fixture
def two_versions(made_once, tiles):
    """Version 1 of white crawled on 3 of 3 red and 2 of 2 buff tiles, version 2 on none of 3, 2."""
    base = ("--line", "soda feldspar=40", "--line", "silica=20")
    clays = (("--line", "kaolin=30"), ("--line", "kaolin=10", "--line", "calcined kaolin=17"))

    def make():
        for lines in clays:
            assert tiles("recipe", "add", "white", *base, *lines).code == 0
        for version, how in (("1", ("--defect", "crawling")), ("2", ("--clean",))):
            for number, body in enumerate(["red"] * 3 + ["buff"] * 2):
                log = ("log", "--mark", f"V{version}-{number}", "--body", body, "--glaze", "white")
                ran = tiles(*log, "--recipe-version", version, *how, "--add-missing")
                assert ran.code == 0, ran.err

    made_once("two versions of white", make)


def _crawling(tiles, *asked):
    how = ("forecast", "--glaze", "white", "--defect", "crawling", *asked)
    (area,) = json.loads(tiles(*how, "--json").out)["areas"]
    return area["forecasts"][0], " ".join(tiles(*how).out.split())


@pytest.mark.parametrize(("version", "seen"), [(1, 5), (2, 0)])
def test_another_version_of_a_recipe_is_not_the_very_same_layer(two_versions, tiles, version, seen):
    asked = ("--body", "red", "--recipe-version", str(version))
    found, told = _crawling(tiles, *asked)
    assert (found["layers_seen"], found["layers_areas"]) == (seen, 5)
    assert found["layers_how"] == f"white of version {version}"
    assert (found["alike_seen"], found["alike_areas"]) == (3, 6)
    assert (found["closest_seen"], found["closest_areas"]) == (3 if seen else 0, 3)
    of = f"on {seen and 3 or 'none'} of the 3 of version {version}"
    assert f"on 3 of your 6 tiles of this glaze on this body, {of}" in told


def test_a_version_that_no_tile_has_is_told_as_that(two_versions, tiles):
    assert tiles("recipe", "add", "white", "--line", "soda feldspar=60").code == 0
    found, told = _crawling(tiles, "--body", "red")
    assert (found["layers_areas"], found["closest_areas"]) == (0, 0)
    assert "6 tiles of this glaze on this body, all of other versions of its recipe" in told


def test_where_all_tiles_are_of_one_version_none_is_named(crawls_on_both_bodies, tiles):
    layers = ("--glaze", "ink=2", "--glaze", "moss=3")
    (area,) = json.loads(tiles("forecast", "--body", "red", *layers, "--json").out)["areas"]
    assert {each["alike_recipe"] for each in area["forecasts"]} == {""}


def test_a_forecast_of_a_version_by_its_sign_is_told_the_option(two_versions, tiles):
    ran = tiles("forecast", "--body", "red", "--glaze", "white@2")
    assert ran.code == 1 and "--recipe-version" in ran.err
    ran = tiles("forecast", "--body", "red", "--glaze", "white", "--recipe-version", "7")
    assert ran.code == 1 and "has no version 7" in ran.err

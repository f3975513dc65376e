"""``tiles why`` on the sample: text that leads with the answer, options, errors, JSON."""

import io
import json

import pytest

from diagnose.report import why
from tests.cli.records import all_rows, assert_one_line_error, shown
from tests.unit.diagnose.test_next_changes import over_leaf
from tests.unit.diagnose.test_next_swaps import sound
from tiles.cli.why_screen import lines

WIDTH = 80
SCREEN = 24
"""A plain terminal, with the command typed and the prompt that follows on it."""


@pytest.fixture(autouse=True)
def plain_terminal(monkeypatch):
    monkeypatch.setenv("COLUMNS", str(WIDTH))
    monkeypatch.setenv("LINES", str(SCREEN))


def failed_marks(tiles):
    found = json.loads(tiles("find", "--faulty", "--json").out)
    return sorted({row["mark"] for row in found})


def test_every_answer_fits_one_screen(sample, tiles):
    for mark in failed_marks(tiles):
        ran = tiles("why", mark)
        assert ran.code == 0, ran.err
        lines = ran.out.splitlines()
        assert len(lines) <= SCREEN - 2, mark
        assert max(map(len, lines)) <= WIDTH, mark


def test_an_answer_keeps_its_cautions_and_has_one_test_and_one_fix(sample, tiles):
    ran = tiles("why", "M-41", "--defect", "crawling")
    told = " ".join(ran.out.split())
    (diagnosis,) = json.loads(tiles("why", "M-41", "--defect", "crawling", "--json").out)[
        "diagnoses"
    ]
    first = diagnosis["causes"][0]
    assert first["cautions"] and all(text in told for text in first["cautions"])
    assert first["confirm"][0] in told and first["fixes"][0] in told
    assert told.count("to be sure") == told.count(" fix ") - told.count("tiles fix") == 1
    assert "tiles why M-41 --all" in told and "tiles fix M-41" in told


def test_several_defects_name_their_common_cause_first_and_once(sample, tiles):
    lines = tiles("why", "M-41").out.splitlines()
    assert lines[2].startswith("One cause would explain crawling and pinholes: the coat was too")
    told = " ".join(lines)
    assert told.count("One cause would explain") == 1
    assert told.index("CRAWLING") < told.index("PINHOLES")
    assert "the same cause" in told


def test_four_defects_still_fit_one_screen_with_every_caution(sample, tiles):
    seen = [part for name in ("crawling:severe", "pinholes", "crazing", "cloudiness")
            for part in ("--defect", name)]  # fmt: skip
    tiles("log", "--mark", "Z 4", "--body", "red earthenware", "--glaze", "pond green",
          "--thickness-mm", "2.2", "--cone-reached", "05", *seen, "--yes")  # fmt: skip
    ran = tiles("why", "Z 4")
    assert len(ran.out.splitlines()) <= SCREEN - 2
    told = " ".join(ran.out.split())
    for diagnosis in json.loads(tiles("why", "Z 4", "--json").out)["diagnoses"]:
        assert diagnosis["defect"].upper() in told
        assert all(caution in told for caution in diagnosis["causes"][0]["cautions"])
    assert 'tiles why "Z 4" --all' in told


def test_a_caution_whose_cause_is_not_named_above_names_it(sample, tiles):
    """Of pinholes the bisque is known to blame; of crawling nothing is recorded."""
    made = ("--body", "red earthenware", "--glaze", "pond green", "--bisque-cone", "08")
    faults = ("pinholes:severe", "crazing:moderate", "crawling:slight")
    seen = [word for fault in faults for word in ("--defect", fault)]
    assert tiles("log", "--mark", "Z-2", *made, *seen, "--cone-reached", "05", "--yes").code == 0
    told = " ".join(tiles("why", "Z-2").out.split())
    *_, crawling = json.loads(tiles("why", "Z-2", "--json").out)["diagnoses"]
    first = crawling["causes"][0]
    assert crawling["defect"] == "crawling" and first["cautions"]
    assert f"Crawling, perhaps {first['title']}: {first['cautions'][0]}" in told


def test_the_clearest_count_of_own_tiles_is_told_also_for_the_second_cause():
    """Own tiles crawled over the colour alone; a thick coat goes first by common practice."""
    bare, over = sound(9), [over_leaf() for _ in range(9)]
    crawled = [each.model_copy(update={"mark": f"C-{at}"}) for at, each in enumerate(over)]
    failed = over_leaf(mm=1.0).model_copy(update={"mark": "T-9"})
    (diagnosis,) = why(failed, None, [*bare, *crawled])
    told = " ".join(" ".join(lines(failed, [diagnosis])).split())
    first, second = diagnosis.causes[:2]
    assert (first.name, second.name) == ("coat_too_thick", "colour_beneath")
    assert second.your_tiles[0] in told and second.your_tiles[0] not in first.your_tiles
    assert f"That speaks for: {second.title}." in told


def test_what_is_clear_over_all_glazes_is_told_however_the_tiles_are_read(
    fresh, tiles, postgresql_url, tmp_path
):
    lines = ["mark,body,glaze,bisque_cone,cone_reached,inspected_on,defect_pinholes"]
    for number in range(20):
        cone, seen = ("08" if number < 10 else "04"), ("slight" if number < 9 else "none")
        lines.append(f"P-{number},red,g{number % 5},{cone},05,2026-03-02,{seen}")
    (tmp_path / "all.csv").write_text("\n".join(lines), encoding="utf-8")
    for db in ((), ("--db", postgresql_url)):
        assert tiles("import", tmp_path / "all.csv", "--yes", *db).code == 0
        assert (
            "your tiles Whatever the glaze, a bisque at cone 08 or cooler: 9 of 10 tiles had "
            "pinholes; all others: 0 of 10."
        ) in " ".join(tiles("why", "P-1", *db).out.split())


def test_the_evidence_stays_while_other_causes_and_notes_go(sample, tiles):
    told = tiles("why", "M-41").out
    assert "   for         It is worst where the glaze is thick" in told
    assert "   to be sure  Thin beside thick, as your own tiles show: of 14" in told
    assert told.index("   for ") < told.index("   to be sure") < told.index("   fix ")
    assert "%" not in told  # one cause in a list would only repeat the answer


@pytest.mark.parametrize("rows", [24, 50])
def test_on_a_narrow_screen_the_fix_of_the_worst_stays_longest(sample, tiles, monkeypatch, rows):
    monkeypatch.setenv("COLUMNS", "50")
    monkeypatch.setenv("LINES", str(rows))
    for mark in ("M-41", "M-106", "M-51"):
        out = tiles("why", mark).out
        worst = json.loads(tiles("why", mark, "--json").out)["diagnoses"][0]["causes"][0]
        told = " ".join(out.split())
        assert f"fix: {worst['fixes'][0]}" in told
        assert max(map(len, out.splitlines())) <= 50
        if rows == 50:
            assert f"to be sure: {worst['confirm'][0]}" in told
            assert len(out.splitlines()) <= rows - 2


def test_a_higher_window_is_used(sample, tiles, monkeypatch):
    plain = tiles("why", "M-41").out
    monkeypatch.setenv("LINES", "50")
    high = tiles("why", "M-41").out
    assert len(plain.splitlines()) < len(high.splitlines()) <= 48
    assert "%" not in plain and "%" in high
    monkeypatch.setenv("LINES", "10")
    assert tiles("why", "M-41").out == plain


def test_all_tells_every_cause_in_lines_that_fit_the_screen(sample, tiles):
    short, full = (tiles("why", "M-41", *more).out for more in ((), ("--all",)))
    assert len(full.splitlines()) > 2 * len(short.splitlines())
    assert "not recorded" in full and "basis" in full
    assert max(map(len, full.splitlines())) <= WIDTH


def test_the_answer_comes_before_the_causes(sample, tiles):
    lines = tiles("why", "M-41", "--defect", "crawling").out.splitlines()
    assert lines[2].startswith("CRAWLING")
    assert lines[3].startswith("Almost certainly (more than 9 in 10): the coat was too thick.")


def test_all_names_what_was_ruled_out_and_by_what(sample, tiles):
    told = tiles("why", "M-41", "--defect", "crawling", "--all").out
    told = " ".join(told.split())
    _, _, ruled_out = told.partition("RULED OUT by what is recorded")
    assert "The bisque was wiped" in ruled_out
    assert "fix" not in ruled_out


def test_the_arithmetic_adds_up_to_the_shares(sample, tiles):
    import math

    ran = tiles("why", "M-41", "--defect", "crawling", "--arithmetic", "--json")
    (told,) = json.loads(ran.out)["diagnoses"]
    numbers = told["arithmetic"]
    total = 0.0
    for cause in numbers["causes"]:
        sides = {"for": [], "against": []}
        for sign in cause["signs"]:
            assert sign["counts"] == pytest.approx(sign["weight"] * sign["grade"] * sign["trust"])
            sides[sign["side"]].append(sign["counts"])
        for side, weights in sides.items():
            first, second = [*sorted(weights, reverse=True), 0, 0][:2]
            assert cause[side] == pytest.approx(first + second / 2)
        odds = math.log(cause["prior"]) + cause["bonus"] + cause["for"] - cause["against"]
        general = sorted(cause["in_general"].values())
        first, second = [*sorted((v for v in general if v > 0), reverse=True), 0, 0][:2]
        least, next_least = [*(v for v in general if v < 0), 0, 0][:2]
        facts = 0.75 * (first + second / 2 + least + next_least / 2)
        assert cause["expected"] == pytest.approx(facts)
        odds += cause["expected"] + cause["own"]
        assert cause["log_odds"] == pytest.approx(odds)
        total += math.exp(odds)
    for cause in numbers["causes"]:
        assert cause["share"] == pytest.approx(math.exp(cause["log_odds"]) / total)
    text = tiles("why", "M-41", "--arithmetic").out
    assert "ARITHMETIC OF CRAWLING" in text
    assert "thickness_mm = 1.6 mm" in text
    assert max(map(len, text.splitlines())) <= WIDTH
    row = next(line.split() for line in text.splitlines() if line.startswith("  1 "))
    prior, share = (float(cell.rstrip("%")) for cell in (row[1], row[-1]))
    assert prior == pytest.approx(100 * numbers["causes"][0]["prior"], abs=0.006)
    assert share == pytest.approx(100 * numbers["causes"][0]["share"], abs=0.006)
    names = [cause["name"] for cause in numbers["causes"]]
    assert [line.split()[1] for line in text.partition("\n   sum of exp ")[2].splitlines()[1:]
            if line[:3].strip().isdigit()][: len(names)] == names  # fmt: skip


@pytest.mark.parametrize(
    ("arguments", "part"),
    [
        (["why"], "no tile is named"),
        (["why", "M-41", "--glaze", "pond green", "--defect", "crawling"], "together"),
        (["why", "M-41", "--ask", "--arithmetic"], "together"),
        (["why", "--glaze", "pond gren", "--defect", "crawling"], "pond green"),
        (["why", "M-41", "--defect", "crawlin"], "crawling"),
        (["why", "M-4100"], "no tile is marked"),
    ],
)
def test_what_cannot_be_asked_is_one_clear_line(sample, tiles, arguments, part):
    assert_one_line_error(tiles(*arguments), part)


class TestAsking:
    def answers(self, monkeypatch, *typed):
        left = iter(typed)

        def give(prompt=""):
            try:
                answer = next(left)
            except StopIteration:
                raise EOFError from None
            print(prompt)
            return answer

        monkeypatch.setattr("builtins.input", give)

    def test_asks_until_three_are_answered_shows_the_field_move_and_then_answers(
        self, sample, tiles, monkeypatch
    ):
        self.answers(monkeypatch, "no", "", "no", "no", "no")
        told = tiles("why", "M-41", "--defect", "pinholes", "--ask").out
        assert "1. " in told and "4. " in told and "5. " not in told.partition("PINHOLES, ")[0]
        assert " -> " in told
        assert "Not known: nothing changes." in told
        assert "PINHOLES, slight" in told

    def test_answers_are_kept_as_clues_only_if_wished(self, sample, tiles, monkeypatch):
        before = all_rows(sample)
        for wish in (["no"], []):  # no line at all is no wish
            self.answers(monkeypatch, "yes", *wish)
            ran = tiles("why", "M-41", "--defect", "pinholes", "--ask")
            assert "Keep on the record of M-41" in ran.out or not wish
            assert all_rows(sample) == before
        self.answers(monkeypatch, "no", "", "no")
        ran = tiles("why", "M-41", "--defect", "pinholes", "--ask", "--yes")
        assert "Kept on M-41" in ran.err
        record = shown(tiles, "M-41")
        clues = record["clues"] | record["areas"][0]["clues"]
        was_asked = json.loads(tiles("why", "M-41", "--defect", "pinholes", "--ask", "--json").out)
        assert len(clues) >= 2
        assert not {each["name"] for each in was_asked["questions"]} & set(clues)

    def test_a_wrong_answer_is_asked_for_again(self, sample, tiles, monkeypatch):
        self.answers(monkeypatch, "perhaps", "yes", "", "")
        ran = tiles("why", "M-41", "--defect", "pinholes", "--ask")
        assert "'perhaps' is not a known answer" in ran.err
        assert ran.code == 0

    def test_q_leaves_the_questions_and_gives_the_answer_on_what_was_said(
        self, sample, tiles, monkeypatch
    ):
        before = all_rows(sample)
        self.answers(monkeypatch, "no", "q", "q")
        ran = tiles("why", "M-41", "--defect", "pinholes", "--ask")
        assert "q: no more questions" in ran.out
        assert "2. " in ran.out and "3. " not in ran.out
        assert "PINHOLES, slight" in ran.out
        assert ran.code == 0 and all_rows(sample) == before

    def test_a_wrong_answer_is_told_how_to_leave(self, sample, tiles, monkeypatch):
        self.answers(monkeypatch, "perhaps", "q")
        assert "or q for no more questions" in tiles("why", "M-64", "--ask").err

    def test_what_will_be_kept_is_said_in_words_not_in_names(self, sample, tiles, monkeypatch):
        self.answers(monkeypatch, "no", "no", "no")
        ran = tiles("why", "M-41", "--defect", "pinholes", "--ask", "--yes")
        assert "Kept on M-41: thick and thin places show it alike;" in ran.err
        assert "_" not in ran.err

    def test_what_a_person_could_not_tell_is_not_advised_next(self, sample, tiles, monkeypatch):
        mark = self.open_case(tiles)
        asked = json.loads(tiles("why", mark, "--ask", "--json").out)["questions"]
        texts = [question["question"] for question in asked]
        plain = " ".join(tiles("why", mark).out.split())
        assert any(text in plain for text in texts)
        self.answers(monkeypatch, "", "", "", "", "", "")
        _, _, answer = tiles("why", mark, "--ask").out.partition(f"{mark}: red")
        told = " ".join(answer.split())
        assert "to find out" in told
        assert not any(text in told for text in texts)

    def open_case(self, tiles):
        """A tile of which too little is known to tell why it crawled."""
        tiles("log", "--mark", "Z-1", "--body", "red earthenware", "--glaze", "brick red",
              "--defect", "crawling", "--yes")  # fmt: skip
        return "Z-1"

    def test_the_questions_as_json_ask_nothing(self, sample, tiles):
        told = json.loads(tiles("why", "M-41", "--defect", "pinholes", "--ask", "--json").out)
        assert told["mark"] == "M-41"
        assert 1 <= len(told["questions"]) <= 3
        gains = [each["expected_gain_nats"] for each in told["questions"]]
        assert gains == sorted(gains, reverse=True)
        for question in told["questions"]:
            assert question["answers"][-1]["answer"] == "don't know"
            assert sum(each["chance"] for each in question["answers"]) == pytest.approx(1, abs=0.01)


@pytest.mark.parametrize("command", ["why", "fix", "next"])
def test_nobody_is_told_to_look_at_a_tile_that_is_broken(sample, tiles, command):
    made = ("--body", "red earthenware", "--glaze", "pond green", "--firing", "F12")
    assert tiles("log", "--mark", "N-1", *made, "--note", "broken").code == 0
    assert_one_line_error(tiles(command, "N-1"), "N-1 is noted as broken, and nobody looked at it")


def test_what_is_in_no_list_is_no_likeliest_cause_on_any_screen(sample, tiles, monkeypatch):
    ran = tiles(
        "log", "--mark", "N-9", "--body", "red earthenware", "--glaze", "pond green", "--coats",
        "2", "--firing", "F12", "--defect", "other (odd sheen)", "--inspected-on", "2026-03-02",
    )  # fmt: skip
    assert ran.code == 0, ran.err
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    asked = tiles("why", "N-9", "--ask").out
    assert "Now: nothing recorded speaks for any cause." in asked
    assert "Nothing recorded speaks for any cause." in tiles("next", "N-9").out
    over_all = tiles("why", "--defect", "other").out
    assert over_all.startswith("Another fault on ")
    for told in (asked, over_all, tiles("why", "N-9").out):
        assert "not in this list" not in told

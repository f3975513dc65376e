"""``tiles why`` over all tiles, or those of a glaze: the failing ones beside the sound ones."""

import re
from dataclasses import dataclass, replace
from datetime import date

from tiles.cli import common, output, stretch
from tiles.cli.prose import counted, percent
from tiles.errors import InvalidValue, shell_word

MOST_DIFFERENCES = 6
MOST_DOUBTFUL = 4
MOST_CAUSES = 5
MOST_TO_RECORD = 2
AMONG_THESE = "Among these alone:"


@dataclass(frozen=True)
class Asked:
    """Which tiles are asked about: of a glaze or of all, of a time, with words noted."""

    glaze: str | None
    defect: str | None = None
    since: date | None = None
    until: date | None = None
    note: str | None = None

    @property
    def narrowed(self) -> dict:
        """The time and the words, as a search names them."""
        return {"since": self.since, "until": self.until, "note": self.note}

    @property
    def find(self) -> str:
        """The command that lists them, as a shell reads it."""
        given = {"glaze": self.glaze, **self.narrowed}
        told = (f" --{name} {shell_word(str(each))}" for name, each in given.items() if each)
        return f"tiles find{''.join(told)}"

    @property
    def said(self) -> str:
        """The tiles in words: " with pond green, fired from 2025-01-01 on"."""
        told = stretch.said(**self.narrowed)
        if not self.glaze:
            return f" {told}" if told else ""
        return f" with {self.glaze}" + (f", {told}," if told else "")


def tell(asked: Asked, *, show_all: bool, as_json: bool, db: str | None) -> None:
    """Compare the tiles and print what they tell of a fault, or of the commonest one of a glaze."""
    from diagnose.comparing.over_tiles import over_tiles
    from diagnose.own_tiles.jar import OF_JAR
    from tiles.cli.studio import failures_only
    from tiles.cli.why_text import wrap

    asked, records = _records(asked, db)
    wanted, others = (asked.defect, {}) if asked.defect else _commonest_fault(records, asked)
    beside = _beside(records, db) if asked.glaze and wanted == OF_JAR else []
    found = over_tiles(records, asked.glaze, wanted, beside)
    if not found.failing + found.sound:
        raise _not_inspected(asked)
    then, is_clear = _of_stretch(asked, records, wanted, db)
    if as_json:
        narrowed = {name: each and str(each) for name, each in asked.narrowed.items()}
        output.print_json(found.as_dict() | narrowed | {"other_times": then})
        return
    note = failures_only(records, db)
    above = [*_above(asked, records), *([*wrap(then), "", AMONG_THESE] if then else [])]
    lines = [*above, *_lines(found, show_all, is_clear=is_clear), *_also(others, found)]
    lines += _by_words(wanted, asked, records) + _to_record(wanted, asked, records)
    print("\n".join([*lines, *(["", *wrap(note)] if note else [])]))


def _records(asked: Asked, db: str | None) -> tuple[Asked, list]:
    """The glaze's name as it is on record, and every tile with it; or every tile."""
    from tiles.queries.search import Search, records_of
    from tiles.records import models
    from tiles.records.store import belongings

    with common.reading(db) as session:
        if asked.glaze is None:
            return asked, records_of(session, Search(is_inspected=True, **asked.narrowed))
        name = belongings.find(session, models.Glaze, asked.glaze).name
        found = records_of(session, Search(glazes=(name,), **asked.narrowed))
        return replace(asked, glaze=name), found


def _above(asked: Asked, records: list) -> list[str]:
    """The line that tells the time and the words, where any were asked for."""
    from tiles.cli.why_text import wrap

    fired = (each.firing and each.firing.fired_on for each in records if each.inspections)
    told = stretch.heading(asked, fired)
    return [*wrap(told), ""] if told else []


def _of_stretch(asked: Asked, records: list, defect: str, db: str | None) -> tuple[str, bool]:
    """How the tiles of a time did beside those of all other times; and whether that is clear."""
    from diagnose.comparing.of_stretch import of_stretch

    if not asked.since and not asked.until:
        return "", False
    _, ever = _records(replace(asked, since=None, until=None), db)
    return of_stretch(ever, {each.mark for each in records}, asked.glaze, defect)


def _beside(records: list, db: str | None) -> list:
    """The other tiles of their glaze firings."""
    from tiles.queries.search import Search, records_of

    marks = {record.mark for record in records}
    firings = {record.firing.name for record in records if record.inspections and record.firing}
    with common.reading(db) as session:
        loads = [records_of(session, Search(firing=name, is_inspected=True)) for name in firings]
    found = {each.mark: each for load in loads for each in load}
    return [found[mark] for mark in sorted(found.keys() - marks)]


def _commonest_fault(records: list, asked: Asked) -> tuple[str, dict[str, int]]:
    """The fault on most areas of the glaze, of equals the worst; on how many each other one is."""
    from diagnose.comparing.over_tiles import faults_of

    if not any(record.inspections for record in records):
        raise _not_inspected(asked)
    faults = faults_of(records, asked.glaze)
    if not faults:
        raise InvalidValue(f"no fault is on record on a tile{asked.said.rstrip(',')}.", asked.find)
    first, *others = faults
    return first, {defect: faults[defect] for defect in others}


def _by_words(defect: str, asked: Asked, records: list) -> list[str]:
    """Of faults without a word of their own what they are, where they are several."""
    from diagnose.comparing.over_tiles import other_words
    from tiles.cli.why_text import wrap
    from tiles.records.words import OTHER_FAULT

    words = other_words(records, asked.glaze) if defect == OTHER_FAULT else {}
    if len(words) < 2:
        return []
    told = ", ".join(f"{said} on {areas}" for said, areas in words.items())
    return ["", *wrap(f"These are several faults, so what parts them tells little: {told}.")]


def _to_record(defect: str, asked: Asked, records: list) -> list[str]:
    """What was noted of failing tiles alone, so that it could not be counted."""
    from diagnose.comparing.compared import compared
    from diagnose.comparing.one_sided import noted_of_failing_alone
    from tiles.cli.why_text import capital, wrap

    areas = compared(records, asked.glaze, defect).areas
    found = noted_of_failing_alone(areas)[:MOST_TO_RECORD]
    return [
        line
        for name, answer, many in found
        for line in (
            "",
            *wrap(
                f"{capital(name.replace('_', ' '))}: {answer} on {many} failing tiles, and not "
                "recorded on any sound one, so it cannot be counted. To record it would help: "
                f"'tiles change MARK --clue {name}={'no' if answer == 'yes' else 'yes'}', or "
                f"{answer} where that is so."
            ),
        )
    ]


def _also(others: dict[str, int], found) -> list[str]:
    """The other faults, with how to ask for the commonest of them; why one on more is no first."""
    from tiles.cli.why_text import wrap
    from tiles.records.words import OTHER_FAULT

    if not others:
        return []
    told = ", ".join(f"{defect} on {areas}" for defect, areas in others.items())
    ask = f"--defect {shell_word(next(iter(others)))}"
    is_passed = others.get(OTHER_FAULT, 0) > found.ever
    why = " 'other' comes last, as it may be several faults." if is_passed else ""
    return ["", *wrap(f"Other faults of it, by {found.unit}s: {told} ({ask}).{why}")]


def _not_inspected(asked: Asked) -> InvalidValue:
    return InvalidValue(f"no tile{asked.said} has been inspected yet.", asked.find)


def _lines(found, show_all: bool, *, is_clear: bool = False) -> list[str]:
    """What they tell of the fault; ``is_clear``: a count told above them is clear already."""
    from tiles.cli.why_text import capital, labelled, wrap

    told = wrap(found.say)
    if found.together:
        told += wrap(f"Two together tell more than either: {found.together}")
    told += wrap(found.versions) if found.versions else []
    if not found.failing:
        return told
    told += _set_apart(found, show_all) if found.sound else []
    if found.causes if show_all else _in_question(found.causes, found.defect):
        weighed = [" and how other glazes did beside them"] if found.of_jar else []
        weighed += [" and the first count above"] if found.is_weighed else []
        beside = "".join(weighed) or " alone"
        is_firm = any(each.is_firm for each in found.differences) and not found.is_too_few
        is_clear = is_clear or is_firm
        is_less = is_clear and not weighed
        weighs_more = " (where the counts above are clear, trust those more)" if is_less else ""
        tiles = found.causes[0].tiles
        many = counted(tiles, "failing tile")
        told += ["", *wrap(f"By common practice{beside}, on {many}, each by itself{weighs_more}:")]
        open_ = _in_question(found.causes, found.defect)
        for cause in found.causes if show_all else open_[:MOST_CAUSES]:
            first = f", first on {cause.first_on} of {cause.tiles}" if cause.first_on else ""
            told += labelled(f"{percent(cause.mean_share)}", f"{capital(cause.title)}{first}.")
        told += wrap(found.against) if found.against else []
    return told


def _in_question(causes: list, defect: str) -> list:
    """The causes worth a line; of a fault without a word of its own those that something names."""
    from diagnose.weighing import OTHER
    from tiles.records.words import OTHER_FAULT

    if defect == OTHER_FAULT:
        return [each for each in causes if each.ruled_out_on < each.tiles and each.title != OTHER]
    return [each for each in causes if each.first_on or each.ruled_out_on < each.tiles]


def _set_apart(found, show_all: bool) -> list[str]:
    """What differs beyond chance or is a hint; below it what may well be chance."""
    from diagnose.comparing.comparison_words import BY_CHANCE
    from tiles.cli.why_text import capital, hanging, wrap

    further = [each for each in found.differences if capital(each.say) not in found.say]
    clear = [each for each in further if each.is_firm or each.is_hint]
    doubtful = [each for each in further if each not in clear]
    if not show_all:
        clear, doubtful = clear[:MOST_DIFFERENCES], _worth_asking(found, doubtful)
    among = "Failing and sound ones"
    among += f" {found.within}" if found.within else ""
    told = []
    for title, listed in (
        (f"{among} set apart, the most telling first:", clear),
        ("Not clearer than chance would make it:", doubtful),
    ):
        lines = [
            line
            for each in _each_told(found, listed, clear)
            for line in hanging("   ", each.replace(f" ({BY_CHANCE})", ""))
        ]
        told += ["", *wrap(title), *lines] if lines else []
    if not found.differences:
        told += ["", "Nothing recorded tells failing and sound ones apart."]
    return [*told, "", *wrap(_honest(found))] if told else []


def _each_told(found, listed: list, clear: list) -> list[str]:
    """Differences; with one that is told, what parts the tiles alike and stands nowhere else."""
    from diagnose.comparing.over_tiles import also_alike
    from tiles.cli.why_text import capital

    said = " ".join([found.say, *(each.say for each in clear)]).casefold()
    told = []
    for one in listed:
        alike = [each for each in one.along if not _stands_in(said, each)] if one in clear else []
        said += " ".join(alike).casefold()
        told.append(capital(one.say) + also_alike(alike))
    return told


def _stands_in(said: str, fact: str) -> bool:
    """Whether a fact was told, or its other side: "another body than buff" with "body buff"."""
    bare = fact.casefold().removeprefix("with ")
    return bare in said or re.sub(r"^another (.+?) than ", r"\1 ", bare) in said


def _worth_asking(found, doubtful: list) -> list:
    """Of what may be chance the questions asked first, then what would tell if asked alone.

    The bisque is asked as well. Nothing of too few tiles, nor of one alone on its side, nor beside
    what is clearer.
    """
    from diagnose.comparing.comparison_words import HINT

    is_clearer = any(each.is_firm or each.is_hint for each in found.differences)
    if is_clearer or found.is_too_few:
        return []
    asked = {*found.asked_first, "bisque_cones_below_04"}
    wanted = [each for each in doubtful if each.name in asked or each.p_value < HINT]
    wanted = [each for each in wanted if min(each.with_all, each.without_all) > 1]
    return sorted(wanted, key=lambda each: each.name not in asked)[:MOST_DOUBTFUL]


def _honest(found) -> str:
    first = "clay, coat, cone, what lies beneath and over it, and batch"
    of_all = "glaze, clay, coat, cone, what lies beneath, which layers meet, and bisque"
    first = first if found.glaze else of_all
    is_of_areas = found.tiles < found.failing + found.sound
    both = "A tile with areas on both sides counts on both. " if is_of_areas else ""
    return (
        f"{both}Chance: how often luck alone would split them so unevenly, allowing for all that "
        f"was looked at: {first} first, then the rest. A difference is not yet a cause: fire a "
        "tile that tests it."
    )

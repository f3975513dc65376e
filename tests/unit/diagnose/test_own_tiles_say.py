"""What own tiles say of one failed tile: counts, what they are worth, and silence."""

import pytest

from diagnose.case import weigh_case
from diagnose.own_tiles import joined, your_tiles_say
from tests.unit.diagnose.test_own_tiles import tile


def sound(count, mm=0.7, start=100):
    return [tile(start + n, mm=mm) for n in range(count)]


def crawled(count, mm=1.5, start=200):
    return [tile(start + n, mm=mm, defects=["crawling"]) for n in range(count)]


FAILED = tile(1, mm=1.4, defects=["crawling"])


def said(records, record=FAILED, defect="crawling"):
    return your_tiles_say(records, record, 1, defect)


def test_counts_of_the_issues_kind_are_told():
    told = said([*sound(9), *crawled(4), *sound(1, 1.5, 300), FAILED])
    (lesson,) = told.lessons
    assert (lesson.here_failed, lesson.here_all) == (4, 5)
    assert (lesson.there_failed, lesson.there_all) == (0, 9)
    assert "none crawled, of 5 like this one, with" in lesson.say
    assert lesson.say.endswith("4 did.")


def test_the_tile_asked_about_does_not_count_itself():
    told = said([*sound(4), *crawled(2), FAILED])
    assert (told.failed, told.areas) == (2, 6)


def test_other_glazes_do_not_count():
    others = [tile(n, mm=1.5, glaze="moss", defects=["crawling"]) for n in range(300, 304)]
    assert said([*others, FAILED]).areas == 0


@pytest.mark.parametrize("records", [[], sound(5), sound(1) + crawled(1), crawled(6)])
def test_too_few_or_one_sided_counts_say_nothing(records):
    told = said([*records, FAILED])
    assert told.lessons == []
    case = weigh_case(FAILED, "crawling")
    for name, share, prior, lift in joined(case, told):
        assert share == pytest.approx(prior), name
        assert lift == 0


def test_own_tiles_raise_the_cause_they_bear_out():
    case = weigh_case(FAILED, "crawling")
    together = joined(case, said([*sound(9), *crawled(5), FAILED]))
    name, share, prior, lift = next(each for each in together if each[0] == "coat_too_thick")
    assert share > prior
    assert 0 < lift <= 1.5
    assert sum(each[1] for each in together) == pytest.approx(1)


def test_own_tiles_lower_the_cause_they_speak_against():
    """As many thin tiles crawled as thick ones: thickness is not what tells."""
    thin = [*sound(4, 0.7), *crawled(6, 0.7, 400)]
    thick = [*sound(6, 1.5, 500), *crawled(4, 1.5)]
    case = weigh_case(FAILED, "crawling")
    together = joined(case, said([*thin, *thick, FAILED]))
    lift = next(each[3] for each in together if each[0] == "coat_too_thick")
    assert lift < 0


def test_more_tiles_are_worth_more():
    few = said([*sound(3), *crawled(3), FAILED]).lessons[0].lift
    many = said([*sound(12), *crawled(12), FAILED]).lessons[0].lift
    assert 0 < few < many

"""The next tiles of one failed tile, from what is on record of the whole studio."""


def count_over_all(records: list):
    """What is clear of a defect over all inspected tiles of the studio, where they are not many."""
    from diagnose.comparing.of_studio import counter
    from tiles.cli.studio import few_enough

    return counter(lambda: few_enough([each for each in records if each.inspections]))


def next_of(
    record, defect: str | None, stock, records: list, db: str | None, count_of=None
) -> tuple:
    """The diagnosis of a tile and its next tiles; under its right name, where it was misnamed.

    With what trials for tiles akin told, also of each change. ``stock`` is what can be used,
    ``records`` every tile on record, ``count_of`` what was counted over them already.
    """
    from diagnose.next_tiles.of_tile import next_tiles
    from tiles.cli.studio import others, why_beside_all

    count_of = count_of or count_over_all(records)
    told = why_beside_all(record, defect, others(record, db), count_of)
    diagnosis = next((each for each in told if not each.look_alike), told[0])
    limit = _limit(record, diagnosis.defect, records, db)
    found = next_tiles(diagnosis, stock, others=records, **limit)
    return diagnosis, _with_kin(found, diagnosis.case, records, db)


def _with_kin(found, case, records: list, db: str | None):
    """The next tiles with what trials for tiles akin told, also of each change."""
    from dataclasses import replace

    from diagnose.fixes.kin import kin_had, kin_says

    akin = akin_to(case.record, [case.defect], records, db)
    cases = [kin for kin, _ in akin]
    tiles = [
        replace(
            each, on_kin=kin_had(cases, each.trial.change, each.twin.marks if each.twin else ())
        )
        for each in found.tiles
    ]
    told = [text for each in akin for text in kin_says(case, *each)[1]]
    return replace(found, tiles=tiles, of_kin=told)


def _limit(record, defect: str, records: list, db: str | None) -> dict:
    """What is believed of the body's limit, where the defect is one of fit."""
    from diagnose.body_limit.fit import RISES, believe
    from diagnose.body_limit.glaze_expansion import Expansions
    from diagnose.body_limit.tiles import seen_on_body
    from tiles.cli.studio import own_materials

    if defect not in RISES:
        return {}
    own = own_materials(db)
    seen, _ = seen_on_body(records, record.body.name, defect, own)
    belief = believe(seen, defect, record.body.expansion_ppm_per_k)
    return {"belief": belief, "expansions": Expansions(own)}


def akin_to(record, defects: list[str], others: list, db: str | None) -> list:
    """The tiles whose trials tell of this one as well, weighed, with how they are spoken of."""
    from diagnose.fixes.kin import kin_of
    from diagnose.report import defects_seen, why
    from tiles.cli import studio

    found, known = [], {each.mark: each for each in others}
    for defect in defects:
        for mark, start in kin_of(record, defect, others).items():
            kin = known.get(mark) or _fetch(mark, db)
            if kin and defect in defects_seen(kin):
                (told, *_) = why(kin, defect, studio.others(kin, db))
                found.append((told.case, start))
    return found


def with_akin(record, diagnoses: list, others: list, db: str | None) -> list:
    """The diagnoses of a tile with what trials for tiles akin told of each fault."""
    from diagnose.fixes.kin import with_kin

    return with_kin(diagnoses, akin_to(record, [each.defect for each in diagnoses], others, db))


def _fetch(mark: str, db: str | None):
    """A tile; None where it was removed."""
    from tiles.cli.record import fetch
    from tiles.errors import UnknownName

    try:
        return fetch(mark, db)
    except UnknownName:
        return None

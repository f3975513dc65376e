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

    ``stock`` is what can be used, ``records`` every tile on record, ``count_of`` what was counted
    over them already.
    """
    from diagnose.next_tiles.of_tile import next_tiles
    from tiles.cli.studio import others, why_beside_all

    count_of = count_of or count_over_all(records)
    told = why_beside_all(record, defect, others(record, db), count_of)
    diagnosis = next((each for each in told if not each.look_alike), told[0])
    limit = _limit(record, diagnosis.defect, records, db)
    return diagnosis, next_tiles(diagnosis, stock, others=records, **limit)


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
    from tiles.cli.record import fetch
    from tiles.errors import UnknownName

    found = []
    for defect in defects:
        for mark, start in kin_of(record, defect, others).items():
            try:
                kin = fetch(mark, db)
            except UnknownName:  # the tile that it was a trial for was removed
                continue
            if defect in defects_seen(kin):
                (told, *_) = why(kin, defect, studio.others(kin, db))
                found.append((told.case, start))
    return found

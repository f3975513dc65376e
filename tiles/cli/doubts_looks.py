"""First looks noted as one person's that all found nothing, where others found faults."""

from collections.abc import Iterator

from tiles.cli.doubts import Doubt
from tiles.errors import shell_line


def of_lookers(session, records: list) -> Iterator[Doubt]:
    """One for each such note on some tiles; what counts is on the whole record."""
    from diagnose.comparing.comparison_words import often
    from diagnose.comparing.nothing_seen import LATE, first_looks, nothing_seen, tells_who
    from diagnose.wording import listed
    from tiles.queries.search import Search, records_of

    noted = {each.mark for each in records if any(map(tells_who, first_looks(each)))}
    if not noted:
        return
    for each in nothing_seen(records_of(session, Search())):
        said = (
            f"all {len(each.marks)} tiles noted {each.note!r} were found clean at the first look; "
            f"at that of {each.others} others of the same loads {each.faulty} had a fault "
            f"({listed(LATE)} not counted: they may come later). Chance would do this "
            f"{often(each.chance)}."
        )
        if marks := [mark for mark in each.marks if mark in noted]:
            mend = shell_line(["tiles", "find", "--note", each.note])
            yield Doubt(marks, said, mend, mend_if="nobody looked closely")

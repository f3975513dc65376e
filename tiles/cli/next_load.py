"""The answer of ``tiles next MARK`` where its whole load failed: one control, alone."""

from tiles.cli.load_told import ALONE, FIRST, meanwhile, outcomes, serves, step, suspect
from tiles.cli.next_text import done_told, leading, look_again
from tiles.cli.prose import beside, between_words, percent, wrap
from tiles.cli.same_db import with_db
from tiles.errors import shell_word


def screen(found, marked: list, *, is_planned: bool) -> list[str]:
    """The fault and its causes, the load, and the one tile that tells it from the make."""
    from diagnose.wording import sentence
    from tiles.cli.next_screen import made

    load = found.load
    named = "; ".join(f"{title} ({percent(share)})" for title, share in leading(found))
    likeliest = f"Likeliest so far: {named}" if named else "Nothing recorded speaks for any cause"
    lines = [*wrap(f"{found.mark}, {found.defect}. {likeliest}."), *wrap(suspect(load))]
    lines += [*done_told(found), ""]
    if not marked:
        lines += wrap(sentence(step(load)))
    for each in marked:
        where = f" in {found.kiln}" if found.kiln else ""
        lines += wrap(f"Fire one tile {ALONE}{where}, {FIRST}:")
        head = f"{each.mark}  "
        lines += beside(head, f"{each.trial.change} (the control){made(each.values)}")
        for told in outcomes(load):
            lines += beside(" " * len(head), told)
        lines += wrap(serves(load))
    lines += [*wrap(meanwhile(load)), *wrap(found.saves_shelf), *wrap(found.hot_shelf)]
    lines += wrap(look_again(found))
    if marked and not is_planned:
        lines += between_words(
            with_db(f"Put it on record: tiles next {shell_word(found.mark)} --plan")
        )
    return lines

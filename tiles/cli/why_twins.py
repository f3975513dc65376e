"""What ``tiles why`` tells of sound tiles that are alike but for one thing."""

IN_LIST = 3
"""So many causes are named, and a twin is told to speak for or against one of them."""
MOST_TWINS = 3
NEW_BAG = "body_changed"
"""The clue that a bag, or its recipe, is a new one."""


def twins(diagnosis) -> list:
    """The sound tiles alike but for one thing, and what each such thing would speak for.

    Returns
    -------
    list of Said
        One sentence for all of them.
    """
    from diagnose.answer import Said
    from diagnose.wording import listed

    case, found = diagnosis.case, diagnosis.case.twins[:MOST_TWINS]
    if len(found) < 2:
        return [with_what_it_tells(case, each) for each in found]
    told = "; ".join(each.in_short for each in found)
    speaks = [(listed(each.named), _would_speak(case, each)) for each in found]
    further = " ".join(f"{who} {what}" for who, what in speaks if what)
    all_ = f"No {diagnosis.defect}, though alike but for one thing: {told}."
    return [Said(all_, found, further)]


def with_what_it_tells(case, twin):
    """A twin in a sentence, and what it would speak for or against in another one."""
    from diagnose.answer import Said

    speaks = _would_speak(case, twin)
    return Said(twin.say, (twin,), f"That {speaks}" if speaks else "")


def _would_speak(case, twin) -> str:
    """The cause of the first few that a twin bears on, where no count told beside it says so."""
    from diagnose.own_tiles.twins import bearing_on, speaking_against

    if case.own and any(each.measure == twin.factor for each in case.own.lessons):
        return ""
    open_ = [row for row in case.rows[:IN_LIST] if row.cause and not row.is_ruled_out]
    row = next((row for row in open_ if twin in bearing_on(case, row.cause)), None)
    if row is not None and row is not case.first:
        return f"would speak for: {row.title}."
    against = (row for row in open_ if twin in speaking_against(case, row.cause))
    if row is None and (row := next(against, None)):
        return f"would speak against: {row.title}."
    return _of_the_clay(case) if twin.factor == "body" else ""


def _of_the_clay(case) -> str:
    """What a sound twin on another clay speaks for, and whether a new bag may be why."""
    asked = {sign.measure for row in case.rows if row.cause for sign in row.cause.signs}
    is_open = NEW_BAG in asked and NEW_BAG not in case.facts
    return f"would speak for the clay{': is it a new bag or recipe?' if is_open else '.'}"

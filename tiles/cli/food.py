"""What the labels say about food, beside tiles that were not fired as the label asks."""


def unmet(areas: list, labels: dict) -> list[str]:
    """A line for each glaze with clean tiles at another cone than its label speaks of."""
    from tiles.records.spoken import some

    lines = []
    for glaze, label, others, unsure in _by_glaze([each for each in areas if each.clean], labels):
        told = []
        if marks := list(dict.fromkeys(each.mark for each in others)):
            told.append(f"at another cone, or none read: {some(marks)}")
        if marks := list(dict.fromkeys(each.mark for each in unsure)):
            told.append(f"not judged, so read it: {some(marks)}")
        if told:
            lines.append(f'The label of {glaze} says "{label.text}"; {"; ".join(told)}.')
    return lines


def claims(areas: list, labels: dict) -> list[str]:
    """What the labels say about food, each once with its glazes and the cones that do not meet it.

    A heading, then a line each; nothing where no label speaks of food.
    """
    glazes: dict[tuple[str, str], list[str]] = {}
    for glaze, label, others, unsure in _by_glaze(areas, labels):
        glazes.setdefault((label.text, _not_so_fired(others, unsure)), []).append(glaze)
    # A warning stays one: only the words are the label's.
    lines = [f'   "{text}": {", ".join(names)}.{told}' for (text, told), names in glazes.items()]
    return ["On food, in the words of the labels, not ours:", *lines] if lines else []


def _not_so_fired(others: list, unsure: list) -> str:
    from tiles.chemistry.cones import step

    cones = sorted({each.cone_reached for each in others if each.cone_reached}, key=step)
    at = [f"at cone {', '.join(cones)}"] if cones else []
    at += ["where no cone was read"] if any(not each.cone_reached for each in others) else []
    told = f" Not so fired: {' and '.join(at)}." if at else ""
    return f"{told} Not judged whether so fired: read it." if unsure else told


def _by_glaze(areas: list, labels: dict) -> list[tuple]:
    """Each glaze with such a label, the label, its areas not fired so, and those not judged."""
    found = {name: ([], []) for each in areas for name in each.glazes if name in labels}
    for each in areas:
        for name in found.keys() & set(each.glazes):
            is_met = labels[name].is_met(each.cone_reached)
            if not is_met:
                found[name][is_met is None].append(each)
    return [(name, labels[name], *found[name]) for name in sorted(found)]

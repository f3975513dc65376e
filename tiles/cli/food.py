"""What the labels say about food, beside tiles that were not fired as the label asks."""


def unmet(areas: list, labels: dict[str, str]) -> list[str]:
    """A line for each glaze with clean tiles at another cone than its label speaks of."""
    from tiles.records.spoken import some

    lines = []
    for glaze, text, others in _by_glaze([each for each in areas if each.clean], labels):
        if marks := list(dict.fromkeys(each.mark for each in others)):
            lines.append(
                f'The label of {glaze} says "{text}"; at another cone, or none read: {some(marks)}.'
            )
    return lines


def claims(areas: list, labels: dict[str, str]) -> list[str]:
    """A line for each glaze whose label speaks of food, with the cones that do not meet it."""
    lines = []
    for glaze, text, others in _by_glaze(areas, labels):
        cones = list(dict.fromkeys(each.cone_reached for each in others if each.cone_reached))
        at = [f"at cone {', '.join(cones)}"] if cones else []
        at += ["where no cone was read"] if any(not each.cone_reached for each in others) else []
        told = f" Not so fired: {' and '.join(at)}." if at else ""
        # A warning stays one: only the words are the label's.
        lines.append(f'{glaze} and food, in the words of its label, not ours: "{text}".{told}')
    return lines


def _by_glaze(areas: list, labels: dict[str, str]) -> list[tuple[str, str, list]]:
    """Each glaze with such a label, what it says, and its areas that were not fired so."""
    from tiles.records.food_label import is_met

    found = {name: [] for each in areas for name in each.glazes if name in labels}
    for each in areas:
        for name in found.keys() & set(each.glazes):
            if not is_met(labels[name], each.cone_reached):
                found[name].append(each)
    return [(name, labels[name], others) for name, others in sorted(found.items())]

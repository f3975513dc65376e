"""``tiles next --body NAME``: the glazes whose tiles tell what expansion a body bears."""

from dataclasses import dataclass

from tiles.cli.next_text import poison
from tiles.cli.prose import between_words, wrap
from tiles.cli.same_db import with_db
from tiles.errors import InvalidValue, shell_word


@dataclass(frozen=True)
class ForBody:
    """The glazes to fire on a body, and what its tiles say so far.

    ``seen`` tells what became of all tiles of the body. ``near_ppm_per_k`` is where the limit is
    believed to lie: a glaze near it tells most.
    """

    body: str
    defect: str
    seen: str
    say: str
    glazes: list
    near_ppm_per_k: float


def choose(body: str, defect: str, db: str | None) -> tuple:
    """The glazes of known recipe that tell most, and a planned tile for each."""
    from diagnose.body_limit.fit import RISES, believe, fit
    from diagnose.body_limit.tiles import EARLY, looked_at, looked_at_later, seen_on_body
    from diagnose.body_limit.words import looked_at as said_of
    from diagnose.fixes.shapes import Trial
    from diagnose.handling import poisons_in
    from diagnose.next_tiles.glazes import next_glazes
    from tiles.cli.body_limits import tiles_of_body
    from tiles.cli.next_stock import owned
    from tiles.records import words

    defect = words.read_word(defect, words.DEFECTS, "defect")
    if defect not in RISES:
        raise InvalidValue(f"{defect} is no question of fit.", "--defect crazing or shivering.")
    found, records, own = tiles_of_body(body, db)
    seen, untold = seen_on_body(records, found.name, defect, own)
    failed, tiles = looked_at(records, found.name, defect)
    said = said_of({defect: failed}, tiles, {defect: untold}, looked_at_later(records, found.name))
    belief = believe(seen, defect, found.expansion_ppm_per_k)
    stock = owned(db)
    poisons = {each.name: poisons_in(each, stock.recipes.get(each.name)) for each in stock.glazes}
    chosen = next_glazes(_glasses(found, own, stock), belief, defect, poisons)
    limit = fit(seen, defect, found.expansion_ppm_per_k, untold.get(EARLY, 0))
    trials = [Trial(each.glaze, each.glaze, _tile(found.name, each.glaze)) for each in chosen]
    near = round(belief.quantile(0.5), 1)
    return ForBody(found.name, defect, said, limit.say, chosen, near), trials


def _glasses(body, own: tuple, stock) -> list:
    """The recipes in use whose cone range meets the body's."""
    from diagnose.body_limit.glaze_expansion import Expansions

    expansions = Expansions(own)
    fitting = [
        each
        for each in stock.glazes
        if each.name in stock.recipes and (each.role or "glaze") == "glaze" and _meets(each, body)
    ]
    computed = [expansions.of_recipe(each.name, stock.recipes[each.name]) for each in fitting]
    return [each for each in computed if each is not None]


def _meets(glaze, body) -> bool:
    from tiles.chemistry.cones import step
    from tiles.records.derived import label_range

    label, stands = label_range(glaze), label_range(body)
    if label is None or stands is None:
        return True
    return step(label[0]) <= step(stands[1]) and step(stands[0]) <= step(label[1])


def _tile(body: str, glaze: str) -> dict:
    return {
        "body": {"name": body},
        "areas": [{"number": 1, "layers": [{"glaze": {"name": glaze}}]}],
        "note": f"To find the expansion that {body} bears.",
    }


def as_dict(found: ForBody, marked: list) -> dict:
    """The documented JSON shape."""
    tiles = [
        vars(each) | {"mark": one.mark, "tile": one.values}
        for each, one in zip(found.glazes, marked, strict=True)
    ]
    told = {
        name: getattr(found, name) for name in ("body", "defect", "seen", "say", "near_ppm_per_k")
    }
    return told | {"tiles": tiles}


def screen(found: ForBody, marked: list, *, is_planned: bool) -> list[str]:
    """What a person reads."""
    from diagnose.wording import in_ten, sentence

    lines = wrap(f"{found.body}: {found.seen}. {sentence(found.say)}")
    wanted = (
        "another one of known recipe, best one that works out near "
        f"{found.near_ppm_per_k:g} ppm/K (see 'tiles recipe show')."
    )
    if not found.glazes:
        return [*lines, *wrap(f"No glaze on record would tell more: it takes {wanted}")]
    lines += ["", *wrap("Fire one tile of each on this body, and look again after some weeks:"), ""]
    wide = max(len(each.glaze) for each in found.glazes)
    for each, one in zip(found.glazes, marked, strict=True):
        own = f", {_so_far(each)} so far" if each.tiles or each.others else ""
        said = (
            f"{one.mark:<10} {each.glaze:<{wide}}  {each.value:.1f} ({each.low:.1f} to "
            f"{each.high:.1f}) ppm/K, {found.defect} {in_ten(each.chance)}{own}"
        )
        lines += wrap(said, " " * 11)
        lines += wrap(f"{' ' * 11}{poison(each.holds)}", " " * 11) if each.holds else []
    if any(each.holds for each in found.glazes):
        lines += wrap(f"Better: {wanted}")
    if not is_planned:
        of = "" if found.defect == "crazing" else f" --defect {found.defect}"
        typed = f"tiles next --body {shell_word(found.body)}{of} --plan"
        lines += ["", *between_words(with_db(f"Put them on record: {typed}"))]
    return lines


def _so_far(each) -> str:
    """What own tiles of the glaze did on the body, and those of other versions of its recipe."""
    others = f"{_came(each.others_failed, each.others)} of another version of its recipe"
    told = [_came(each.failed, each.tiles)] if each.tiles else []
    return ", ".join([*told, *([others] if each.others else [])])


def _came(failed: int, tiles: int) -> str:
    if tiles == 1:
        return f"your one tile {'failed' if failed else 'sound'}"
    return f"{failed} of your {tiles} tiles"

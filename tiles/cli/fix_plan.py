"""The trial tiles of a fix: their marks, the commands that plan them, and planning them at once."""

from collections.abc import Collection
from dataclasses import dataclass

from tiles.cli import common, notices
from tiles.cli.marks import just_handed_out, load_hint, runs
from tiles.cli.prose import counted
from tiles.cli.same_db import with_db
from tiles.errors import AlreadyOnRecord, InvalidValue, shell_line

OF_ONE_FAULT = ("note", "trial_defect")
"""What may differ between the trials for two faults though one tile serves both."""

OF_TILE, OF_TOP = ("form", "stood", "shelf", "note"), ("method", "applied_on", "beneath")
"""What `tiles plan` takes no option for and `tiles change` does."""


@dataclass(frozen=True)
class Marked:
    """One trial with the mark it is to get; ``values`` are those of its record.

    ``waits`` where it is on record already and was not looked at yet.
    """

    mark: str
    defect: str
    trial: object
    waits: bool = False

    @property
    def values(self) -> dict:
        """The record of the planned tile."""
        return self.trial.tile | {"mark": self.mark}

    @property
    def own_firing(self) -> str:
        """How it is fired, where that is what is changed; empty where it goes with the others."""
        from diagnose.fixes.trials import OWN_FIRING

        own = OWN_FIRING.search(self.trial.tile.get("note") or "")
        return own[1] if own else ""


def refuse_beside_commands(*, plan: bool, as_json: bool, commands: bool) -> None:
    """Commands that would plan what was just planned, or that JSON leaves out, help nobody."""
    if commands and (plan or as_json):
        other = "--plan" if plan else "--json"
        raise InvalidValue(f"{other} and --commands together.", "one of the two.")


def give_marks(answers: list, record, first_mark: str | None, db: str | None) -> list[Marked]:
    """A free mark for each tile to fire; one that serves two defects is one tile.

    What waits already, for the tile or for one made alike, keeps its mark; a control is fired
    beside others only, but for one that is for a whole load.
    """
    from diagnose.trials.controls import sets_of
    from tiles.cli.plan import free_marks

    of = [*sets_of(record), *(mark for each in answers for mark in each.sisters)]
    with common.reading(db) as session:
        waiting = _waiting(session, of)
    wanted = [(*each, _on_record(waiting, *each, of)) for each in _each_once(answers)]
    is_of_load = any(each.is_of_load and each.trials for each in answers)
    if not is_of_load and all(mark or trial.is_control for _, trial, mark in wanted):
        wanted = [each for each in wanted if each[-1]]
    new = sum(not mark for *_, mark in wanted)
    free = iter(free_marks(new, first_mark, db, record.mark) if new else [])
    return [
        Marked(mark or next(free), defect, trial, waits=bool(mark))
        for defect, trial, mark in wanted
    ]


def _each_once(answers: list) -> list[tuple]:
    """The defect and the trial of each different tile; the control of a load stays one of it."""
    wanted = []
    seen: list = []
    for answer in sorted(answers, key=lambda each: not each.is_of_load):
        for trial in answer.trials:
            same = {key: value for key, value in trial.tile.items() if key not in OF_ONE_FAULT}
            done = (trial.change, same)
            if done not in seen:
                seen.append(done)
                wanted.append((answer.defect, trial))
    return wanted


def _waiting(session, of: Collection[str]) -> list:
    """The trials for tiles that are on record, were not looked at yet, and are not gone."""
    from sqlalchemy import select

    from tiles.records import models, reading
    from tiles.records.gone import is_gone

    looked_at = select(models.Inspection.tile_id)
    wanted = (
        select(models.Tile.mark)
        .where(models.Tile.trial_of.in_(of))
        .where(models.Tile.tile_id.not_in(looked_at))
    )
    found = reading.find_records(session, list(session.scalars(wanted)))
    return [each for each in found if not is_gone(each)]


def waiting_for_load(record, db: str | None) -> list:
    """The trials for any tile of its firing that were not looked at yet."""
    from sqlalchemy import select

    from tiles.records import models

    if record.firing is None or record.firing.name is None:
        return []
    beside = select(models.Tile.mark).join(
        models.Firing, models.Tile.firing_id == models.Firing.firing_id
    )
    with common.reading(db) as session:
        of = session.scalars(beside.where(models.Firing.name == record.firing.name))
        return _waiting(session, list(of))


def _on_record(waiting: list, defect: str, trial, of: Collection[str] = ()) -> str | None:
    """The mark under which a trial waits, for its tile or for one ``of`` these.

    A control is one for each fault of its tile.
    """
    from diagnose.fixes.tried import carries_out

    return next(
        (
            each.mark
            for each in waiting
            if each.trial_of in (trial.tile["trial_of"], *of)
            and (trial.is_control or each.trial_defect == defect)
            and carries_out(each, each.trial_change, trial)
        ),
        None,
    )


def print_commands(marked: list[Marked]) -> None:
    """What to type to plan the tiles one by one; beside it, what a plan cannot hold of each."""
    new = [each for each in marked if not each.waits]
    for each in new:
        common.talk(f"{each.mark}: {each.trial.change}")
    _tell_waiting(marked)
    if not new:
        common.talk(f"There is no {'further ' if marked else ''}tile to plan.")
    for line in command_lines(new):
        print(with_db(line))


def _tell_waiting(marked: list[Marked]) -> None:
    waiting = [each.mark for each in marked if each.waits]
    if waiting:
        common.talk(f"On record already, and not looked at yet: {', '.join(waiting)}.")


def command_lines(marked: list[Marked]) -> list[str]:
    """The commands alone, a line each."""
    lines: list[str] = []
    for each in marked:
        layers = each.values["areas"][0]["layers"]
        if each.trial.recipe:
            own = next(layer for layer in layers if layer.get("recipe") is each.trial.recipe)
            lines.append(_recipe_command(own))
        lines.append(_plan_command(each, layers))
        if not lines[-1].startswith("#"):
            lines += _rest_command(each.values, layers[-1])
    return lines


def _rest_command(values: dict, top: dict) -> list[str]:
    """What else is known of how the tile is glazed and fired."""
    known = {key: values.get(key) for key in OF_TILE} | {key: top.get(key) for key in OF_TOP}
    known["batch"] = top.get("batch", {}).get("name")
    told = ((f"--{key.replace('_', '-')}", value) for key, value in known.items() if value)
    words = [word for pair in told for word in pair]
    for holder in (values, *values["areas"]):
        words += [w for of in holder.get("clues", {}).items() for w in ("--clue", "=".join(of))]
    return [shell_line(["tiles", "change", values["mark"], *words])] if words else []


def _recipe_command(layer: dict) -> str:
    words = ["tiles", "recipe", "add", layer["glaze"]["name"]]
    for line in layer["recipe"]["lines"]:
        option = "--extra" if line["is_addition"] else "--line"
        words += [option, f"{line['material']}={line['parts']:g}"]
    return shell_line(words)


def _plan_command(each: Marked, layers: list[dict]) -> str:
    values, (*below, top) = each.values, layers
    if len(below) > 1:
        return f"# {each.mark} has more layers than one line takes: --plan in place of --commands"
    words = ["tiles", "plan", "--body", values["body"]["name"], "--glaze", top["glaze"]["name"]]
    if top.get("coats"):
        words += ["--coats", str(top["coats"])]
    if version := (top.get("recipe") or {}).get("version"):
        words += ["--recipe-version", str(version)]
    if below:
        coats = f"={below[-1]['coats']}" if below[-1].get("coats") else ""
        words += ["--under", f"{below[-1]['glaze']['name']}{coats}"]
    if values.get("bisque_cone"):
        words += ["--bisque-cone", values["bisque_cone"]]
    trial = ("trial_of", "trial_defect", "trial_change")
    words += [word for key in trial for word in (f"--{key.replace('_', '-')}", values[key])]
    return shell_line([*words, "--first-mark", each.mark])


def put_on_record(
    marked: list[Marked], *, db: str | None, yes: bool, beside: Collection[str] = ()
) -> None:
    """Store the trial recipes and the planned tiles, all or none.

    ``beside``: marks of trials that were known to wait when these were chosen.
    """
    from tiles.records import forms
    from tiles.records.store import add_tile
    from tiles.records.store.named import Names

    _tell_waiting(marked)
    new = [each for each in marked if not each.waits]
    if not new:
        common.talk(f"There is no {'further ' if marked else ''}tile to plan.")
        return
    records = [forms.read(forms.TileRecord, each.values, each.mark) for each in new]
    common.ask_to_plan(counted(len(records), "planned tile"), yes=yes)

    def write(confirmed: bool) -> None:
        with common.writing(db) as session:
            _refuse_planned_meanwhile(session, new, beside)
            # Everything but the trial recipes is on record already, and stays as it stands.
            names = Names(session, add_missing=True, keep_blanks=True)
            for record in records:
                _take_newest_recipes(session, record)
                add_tile(session, record, names=names, confirmed=confirmed)

    with just_handed_out():
        common.confirmed(write, yes=yes)
    notices.tell_new_marks([record.mark for record in records], db)
    common.talk(f"Planned. {load_hints(new)}")


def _refuse_planned_meanwhile(session, new: list[Marked], beside: Collection[str]) -> None:
    """Trials that another person has put on record since these were chosen are not stored twice.

    Raises
    ------
    AlreadyOnRecord
        Names them.
    """
    of = {name for each in new if (name := each.values.get("trial_of"))}
    waiting = [each for each in _waiting(session, of) if each.mark not in beside]
    trials = [each for each in new if each.values.get("trial_of")]
    twice = [mark for each in trials if (mark := _on_record(waiting, each.defect, each.trial))]
    if twice:
        raise AlreadyOnRecord(
            f"{', '.join(runs(twice))} {'was' if len(twice) == 1 else 'were'} just planned by "
            f"somebody else, for {' and '.join(sorted(of))} as well; nothing more was stored.",
            "the same command again: it says what waits.",
            field="trial_of",
            value=twice[0],
        )


def load_hints(marked: list[Marked]) -> str:
    """What to type once they are glazed: those that need a firing of their own go by themselves."""
    by_firing: dict[str, list[str]] = {}
    for each in marked:
        by_firing.setdefault(each.own_firing, []).append(each.mark)
    together = [load_hint(by_firing.pop(""))] if "" in by_firing else []
    apart = (f"By itself, {own}. {load_hint(marks)}" for own, marks in by_firing.items())
    return "\n".join([*together, *apart])


def _take_newest_recipes(session, record) -> None:
    """Another glaze than those of the failed tile is glazed as it is mixed now, as a plan is.

    What the failed tile had stays as it was, also where its version is not recorded.
    """
    from tiles.records import models, reading, store

    was_on = _glazes_of(session, record.trial_of)
    for area in record.areas:
        for layer in area.layers:
            row = store.look_up(session, models.Glaze, layer.glaze.name)
            if layer.recipe is None and row and row.glaze_id not in was_on and row.recipe_versions:
                layer.recipe = reading.recipe_record(row.recipe_versions[-1])


def _glazes_of(session, mark: str | None) -> set[int]:
    from sqlalchemy import select

    from tiles.records import models

    wanted = select(models.Layer.glaze_id).join(models.Area).join(models.Tile)
    return set(session.scalars(wanted.where(models.Tile.mark == mark))) if mark else set()

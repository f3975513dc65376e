"""Finding, or for an import adding, what a tile record names."""

from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from sqlalchemy.orm import Session

from tiles.errors import InvalidValue, UnknownName
from tiles.records import forms, models, reading
from tiles.records.derived import recipe_key
from tiles.records.problems import shown
from tiles.records.spoken import some
from tiles.records.store import belongings
from tiles.records.store.bucket import change_batch
from tiles.records.store.changing import change
from tiles.records.store.recipe import add_recipe_version


@dataclass(frozen=True)
class Added:
    """What was not on record before: "glaze", "pond green"."""

    what: str
    name: str

    def __str__(self) -> str:
        return f"{self.what} {self.name}"


@dataclass
class Names:
    """Turns the names of a record into rows.

    Parameters
    ----------
    session : Session
        The open transaction.
    add_missing : bool
        Add bodies, glazes, recipe versions, batches, kilns and firings that are not on record.
    keep_stored : bool
        Where a record describes one otherwise than it is stored, keep what is stored, its blanks
        too; without it that is an error, since the two may be different things under one name.
    keep_blanks : bool
        Nothing is changed of what is stored, not even where the record only fills a blank.
    newest_recipe : bool
        A recipe glaze without a recipe is the newest version of it: so at the bench, but not for
        a record from elsewhere, where the version is then not recorded.
    ask_of_firings : bool
        Question a new firing whose witness cones or peak lie far from its target.
    asked_before : collection of str
        Questions about its firings that a record comes with the answer to.
    earlier : collection of Added
        What the same file has added before.
    parted : collection of Added
        What a merge had taken off the record, and the file of that merge puts back.
    known : dict
        Rows that were found before, in the same transaction: none is looked up twice.

    ``told`` says in a sentence each what a record names and is stored otherwise, ``gained`` what
    was blank of it and is on record now; ``filled`` has each such field by itself.
    """

    session: Session
    add_missing: bool = False
    keep_stored: bool = False
    keep_blanks: bool = False
    newest_recipe: bool = False
    ask_of_firings: bool = False
    asked_before: Collection[str] = ()
    earlier: Collection[Added] = ()
    added: list[Added] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    gained: list[str] = field(default_factory=list)
    filled: list[Added] = field(default_factory=list)
    parted: Collection[Added] = ()
    known: dict[tuple, models.SQLModel] = field(default_factory=dict)

    def body(self, record: forms.BodyRecord) -> models.ClayBody:
        """The clay body of this name."""
        return self._named(models.ClayBody, record, reading.body_record, belongings.add_body)

    def firing(self, record: forms.FiringRecord | None, kind: str) -> models.Firing | None:
        """The firing of this name; ``kind`` is what it must be, "bisque" or "glaze"."""
        if record is None:
            return None
        if record.kind is None:
            record = record.model_copy(update={"kind": kind})
        if record.kiln and self.add_missing:
            self._kiln_of_name(record.kiln)
        known = self._look_up(models.Firing, record.name)
        if (known.kind if known else record.kind) != kind:
            raise InvalidValue(
                f"{record.name} is a {known.kind if known else record.kind} firing, "
                f"not a {kind} firing.",
                f"the {kind} firing the tile was in.",
                field="firing",
                value=record.name,
            )
        how = {"ask": self.ask_of_firings, "before": self.asked_before, "is_by_itself": False}
        add = partial(belongings.add_firing, **how)
        return self._named(models.Firing, record, reading.firing_record, add)

    def glaze(self, record: forms.GlazeRecord, has_recipe: bool) -> models.Glaze:
        """The glaze of this name; a new one that comes with a recipe is a recipe."""
        if has_recipe and record.kind is None:
            record = record.model_copy(update={"kind": "recipe"})
        return self._named(models.Glaze, record, reading.glaze_record, belongings.add_glaze)

    def recipe(
        self, glaze: models.Glaze, record: forms.RecipeRecord | None
    ) -> models.RecipeVersion | None:
        """The version with these lines."""
        if record is None:
            newest = glaze.recipe_versions[-1:] if self.newest_recipe else []
            return newest[0] if newest else None
        self._refuse_other_version(glaze, record)
        for version in glaze.recipe_versions:
            if recipe_key(reading.recipe_record(version)) == recipe_key(record):
                self._tell_other_version(glaze, record, version)
                return version
        if not self.add_missing:
            raise UnknownName(
                f"no version of {glaze.name!r} has these lines.", "'tiles recipe add' first."
            )
        new = record.model_copy(update={"version": None})
        self.added.append(Added("recipe of", glaze.name))
        version = add_recipe_version(self.session, glaze.name, new)
        self._tell_other_version(glaze, record, version)
        return version

    def _tell_other_version(
        self, glaze: models.Glaze, record: forms.RecipeRecord, found: models.RecipeVersion
    ) -> None:
        """The lines tell which version it is; where it bears another number, buckets do too."""
        if record.version not in (None, found.version):
            is_known = any(each.version == record.version for each in glaze.recipe_versions)
            self.told.append(
                f"version {record.version} of {glaze.name!r} in the file is version "
                f"{found.version} here, by its lines"
                if is_known
                else f"there is no version {record.version} of {glaze.name!r}, and its lines are "
                f"those of version {found.version}, so it is on record as that"
            )
        if record.note and found.note != record.note:
            own = f"its note {shown(found.note)}" if found.note else "no note"
            self.told.append(
                f"version {found.version} of {glaze.name!r} keeps {own}; {shown(record.note)} is "
                "not taken"
            )

    def _refuse_other_version(self, glaze: models.Glaze, record: forms.RecipeRecord) -> None:
        """A number that is on record with other lines: one of the two is a slip.

        Where this file added recipes of the glaze, their numbers here may be others than there.
        """
        if self.keep_stored or Added("recipe of", glaze.name) in [*self.earlier, *self.added]:
            return
        for row in glaze.recipe_versions:
            is_it = row.version == record.version
            if is_it and recipe_key(reading.recipe_record(row)) != recipe_key(record):
                raise InvalidValue(
                    f"version {row.version} of {glaze.name!r} comes with other lines than it has "
                    "on record.",
                    "its own lines ('tiles recipe show'), no version where the lines are right, "
                    "or --keep-stored to go by the lines.",
                    field="version",
                    value=record.version,
                )

    def batch(self, glaze: models.Glaze, record: forms.BatchRecord | None) -> models.Batch | None:
        """The batch of this name."""
        if record is None:
            return None
        if self.add_missing and belongings.look_up_batch(glaze, record.name) is None:
            self.added.append(Added("batch", f"{record.name} of {glaze.name}"))
            return belongings.add_batch(self.session, glaze.name, record)
        batch = belongings.find_batch(glaze, record.name)
        added = Added("batch", f"{batch.name} of {glaze.name}")
        fill = partial(change_batch, self.session, glaze.name, batch.name)
        self._settle(added, record, reading.batch_record(batch), fill)
        return batch

    def kiln(self, record: forms.KilnRecord) -> models.Kiln:
        """The kiln of this name."""

        def add(session: Session, new: forms.KilnRecord) -> models.Kiln:
            return belongings.add_kiln(session, new.name, new.remark)

        return self._named(models.Kiln, record, reading.kiln_record, add)

    def _kiln_of_name(self, name: str) -> None:
        if self._look_up(models.Kiln, name) is None:
            self.added.append(Added("kiln", name))
            belongings.add_kiln(self.session, name)

    def _look_up(self, model, name: str):
        """The row of this name; one that was taken back with a refused record is none any more."""
        row = self.known.get((model, name))
        if row is None or row not in self.session:
            row = belongings.look_up(self.session, model, name)
            if row is not None:
                self.known[model, name] = row
        return row

    def _named(self, model, record, read_row, add):
        row = self._look_up(model, record.name)
        noun = belongings.noun(model)
        if row is not None:
            how = {"confirmed": not self.ask_of_firings}
            fill = partial(change, self.session, model, row.name, **how)
            self._settle(Added(noun, row.name), record, read_row(row), fill)
            return row
        if not self.add_missing:
            return belongings.find(self.session, model, record.name)
        self.added.append(Added(noun, record.name))
        return add(self.session, record)

    def _settle(self, added: Added, record, stored, fill: Callable[[dict], Any]) -> None:
        """Fill in what a record tells that is blank on record; what it tells otherwise is refused.

        ``added``: how it was noted when it was added, by this file perhaps.
        """
        differing = list(belongings.differing_fields(record, stored))
        if not differing or self.keep_blanks:
            return
        blank = [key for key in differing if getattr(stored, key) in (None, [])]
        if other := [key for key in differing if key not in blank or not self.add_missing]:
            if not self.keep_stored:
                self._refuse_difference(added, other[0], record, stored)
            self._tell_kept(added, differing, record, stored)
            return
        try:
            fill({key: record.model_dump()[key] for key in blank})
        except InvalidValue as error:
            if not self.keep_stored:
                raise
            self._tell_kept(added, blank, record, stored, f": {error.message.rstrip('.')}")
            return
        self.filled += [_filled(added, key) for key in blank]
        if added not in self.earlier:
            self.gained.append(f"{added} gained {some([_fact(record, key) for key in blank])}")

    def _tell_kept(self, added: Added, differing: list[str], record, stored, why: str = "") -> None:
        kept = some([_of_field(key, getattr(stored, key)) for key in differing])
        told = some([_told(getattr(record, key)) for key in differing])
        are = "are" if len(differing) > 1 else "is"
        self.told.append(f"{added.what} {record.name!r} keeps {kept}; {told} {are} not taken{why}")

    def _refuse_difference(self, added: Added, key: str, record, stored) -> None:
        given, kept = getattr(record, key), getattr(stored, key)
        said = f"{added.what} {record.name!r} comes with {key} {_told(given)}, but"
        if added in self.earlier or _filled(added, key) in self.earlier:
            said = f"{said} stands earlier in this file {_with(kept)}."
            hint = "the same everywhere, or another name if it is another one."
        else:
            said = f"{said} is on record {_with(kept)}."
            is_bucket = added.what == "batch"
            change = "tiles batch" if is_bucket else belongings.command_of(added.what)
            hint = (
                "another name if it is another one, --keep-stored to use yours as it stands, or "
                f"'{change} change' to correct yours."
            )
        raise InvalidValue(said, hint, field=key, value=given)


def _filled(of: Added, key: str) -> Added:
    """How it is noted that a file filled a blank field of something on record."""
    return Added(f"{key} of {of.what}", of.name)


def _fact(record, key: str) -> str:
    return f"{key} {_told(getattr(record, key))}"


def _told(value) -> str:
    """A value as a sheet has it; the witness cones of a firing as "top=05; 06"."""
    if not isinstance(value, list):
        return shown(value)
    return "; ".join(f"{each.shelf}={each.cone}" if each.shelf else each.cone for each in value)


def _of_field(key: str, kept) -> str:
    return f"no {key}" if kept in (None, []) else f"{key} {_told(kept)}"


def _with(kept) -> str:
    return "without" if kept in (None, []) else f"with {_told(kept)}"

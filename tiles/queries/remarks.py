"""Words that were written of a glaze, a clay, a bucket, a kiln or a firing, and of no tile."""

from sqlalchemy import select
from sqlalchemy.orm import Session

from tiles.queries.written import has_words
from tiles.records import models
from tiles.records.mark_looks import natural_key

_OF_TABLES = {
    models.Glaze: "glaze",
    models.ClayBody: "body",
    models.Firing: "firing",
    models.Kiln: "kiln",
}


def remarks_with(session: Session, wanted: str) -> dict[tuple[str, str], list[str]]:
    """What has such words in its remark, by name; of a glaze also in the notes of its own.

    Returns
    -------
    dict
        By the option of ``tiles find`` and what holds them ("glaze" and "remark", "batch note" or
        "recipe note"): the names.
    """
    asked = {
        (option, "remark"): select(model.name, model.remark) for model, option in _OF_TABLES.items()
    }
    for model, part in ((models.Batch, "batch note"), (models.RecipeVersion, "recipe note")):
        asked["glaze", part] = select(models.Glaze.name, model.note).join(
            models.Glaze, model.glaze_id == models.Glaze.glaze_id
        )
    found = {
        key: {name for name, text in session.execute(each) if text and has_words([text], wanted)}
        for key, each in asked.items()
    }
    return {key: sorted(names, key=natural_key) for key, names in found.items() if names}

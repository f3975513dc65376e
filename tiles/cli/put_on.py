"""``--applied-on``: what each layer was put on, the top one or one beneath by its name."""

from tiles.errors import InvalidValue

HELP = (
    "What the top layer was put on: greenware, bisque or fired glaze; or a layer beneath: "
    '"NAME=greenware". Repeat for more.'
)


def put(areas: list[dict], texts: list[str]) -> None:
    """Give the top layers what they were put on, or with ``NAME=`` in front those of a glaze.

    Raises
    ------
    InvalidValue
        No layer is there, or none of that glaze.
    """
    from tiles.records.words import same_name

    for text in texts:
        name, sign, put_on = text.rpartition("=")
        tops = [area["layers"][-1] for area in areas if area["layers"]]
        layers = [layer for area in areas for layer in area["layers"]]
        found = (
            [each for each in layers if same_name(glaze_of(each), name.strip())] if sign else tops
        )
        if not found:
            names = ", ".join(dict.fromkeys(map(glaze_of, layers)))
            raise InvalidValue(
                f"no layer of {name.strip()!r} is there." if sign else "there is no layer.",
                f"a layer's own name: {names}." if names else "--glaze NAME.",
                field="applied_on",
                value=text,
            )
        for layer in found:
            layer["applied_on"] = put_on.strip() or None


def glaze_of(layer: dict) -> str:
    """The name of its glaze, whether that is given alone or with all that is known of it."""
    return layer["glaze"] if isinstance(layer["glaze"], str) else layer["glaze"]["name"]

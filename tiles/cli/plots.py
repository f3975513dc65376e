"""Pictures, for where a person would rather look."""

from pathlib import Path

from tiles.errors import InvalidValue, shell_word

MOST_NUMBERS = 25
"""Points that can have their number beside them."""

BLUE, RED, GREY = "#2f6690", "#b5483a", "#555555"


def line_blend(
    rows: list[dict], titles: list[str], body: tuple[str, float | None] | None, file: Path
) -> None:
    """Save a line blend's predicted expansion band beside the body's measured expansion.

    Parameters
    ----------
    rows : list of dict
        From the first corner to the second, each with ``shares`` and ``expansion``.
    titles : list of str
        Names of the two corners.
    body : (name, expansion [ppm/K]) or None
        The body to draw; its expansion must have been measured.
    file : Path
        Ends in .png or .svg.

    Raises
    ------
    InvalidValue
        The body has no measured expansion, a point none that can be told, or the file cannot be
        written.
    """
    from matplotlib.figure import Figure

    _check(rows, body)
    figure = Figure(figsize=(8, 5), layout="constrained")
    axes = figure.add_subplot()
    _draw_band(axes, rows, titles)
    if body:
        _draw_body(axes, *body)
    _label(axes, rows, titles)
    save(figure, file, dpi=150)


def save(figure, file: Path, *, dpi: int) -> None:
    """Write a picture.

    Raises
    ------
    InvalidValue
        The file cannot be written.
    """
    from tiles.cli.user_files import written

    with written(file, "another place.") as part:
        figure.savefig(part, dpi=dpi)


def _check(rows: list[dict], body) -> None:
    if body and body[1] is None:
        raise InvalidValue(
            f"no expansion of {body[0]!r} is on record to draw.",
            f"'tiles body change {shell_word(body[0])} --expansion-ppm-per-k' if it was "
            "measured, or leave --body out.",
            field="body",
            value=body[0],
        )
    if any(row["expansion"] is None for row in rows):
        raise InvalidValue("the expansion of a mixture cannot be told.", "no --plot.", field="plot")


def _draw_band(axes, rows: list[dict], titles: list[str]) -> None:
    shares = [100 * row["shares"][titles[1]] for row in rows]
    low, value, high = ([row["expansion"][key] for row in rows] for key in ("low", "value", "high"))
    axes.fill_between(shares, low, high, color=BLUE, alpha=0.2, label="nine in ten lie here")
    axes.plot(shares, value, color=BLUE, marker="o", label="glaze, predicted")
    each = -(-len(rows) // MOST_NUMBERS)  # more would be printed over each other
    for share, row in list(zip(shares, rows, strict=True))[::each]:
        axes.annotate(
            str(row["number"]),
            (share, row["expansion"]["value"]),
            textcoords="offset points",
            xytext=(0, 7),
            ha="center",
            fontsize=9,
        )


def _draw_body(axes, name: str, expansion: float) -> None:
    from tiles.chemistry.expansion import USUAL_MARGIN_PPM_PER_K

    least, most = USUAL_MARGIN_PPM_PER_K
    axes.axhline(expansion, color=RED, linewidth=2, label=f"{name}, measured ({expansion:g})")
    axes.axhspan(
        expansion - most,
        expansion - least,
        facecolor="none",
        edgecolor=RED,
        alpha=0.35,
        hatch="///",
        label=f"usual aim, {least:g} to {most:g} below the body (estimate)",
    )


def _label(axes, rows: list[dict], titles: list[str]) -> None:
    axes.set_title(f"{titles[0]} to {titles[1]}: does it fit?", loc="left")
    axes.set_xlabel(f"share of {titles[1]} [% of the dry weight]; the rest is {titles[0]}")
    unknown = max(row["not_understood_pct"] for row in rows)
    if unknown:
        told = f"up to {unknown:.0f} % is not understood: the figures are of the rest only"
        axes.text(0.01, 0.01, told, transform=axes.transAxes, color=RED, fontsize=9)
    axes.set_ylabel("thermal expansion [ppm/K]")
    axes.set_xlim(-3, 103)
    axes.grid(color=GREY, alpha=0.15)
    axes.legend(loc="upper center", bbox_to_anchor=(0.5, -0.14), ncols=2, frameon=False)

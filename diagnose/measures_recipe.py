"""Measures of a recipe in plain materials, given only when every material is recognised."""

from collections.abc import Iterator

from diagnose.measures_application import Reading
from diagnose.view import View
from tiles.errors import TilesError

# Usual names of the shipped materials, by what they do to a coat or a melt (common practice).
GROUPS = {
    "raw_zinc_oxide_pct": ("zinc oxide",),
    "magnesium_carbonate_pct": ("light magnesium carbonate", "magnesium carbonate"),
    "borate_mineral_pct": ("colemanite", "ulexite"),
    "feldspar_pct": (
        "potash feldspar",
        "potash feldspar (ideal)",
        "soda feldspar",
        "soda feldspar (ideal)",
        "nepheline syenite",
        "potash nepheline syenite",
        "china stone",
    ),
    "opacifier_pct": ("tin oxide", "zirconium silicate", "zirconia"),
    "colour_carbonate_pct": ("copper carbonate", "cobalt carbonate", "manganese carbonate"),
    "fluxing_colour_pct": (
        "copper carbonate",
        "copper oxide",
        "manganese dioxide",
        "manganese carbonate",
    ),
    "iron_oxide_pct": ("red iron oxide", "black iron oxide", "yellow iron oxide"),
}
SAID = {
    "raw_zinc_oxide_pct": "raw zinc oxide",
    "magnesium_carbonate_pct": "magnesium carbonate",
    "borate_mineral_pct": "raw borate mineral",
    "feldspar_pct": "feldspar and the like",
    "opacifier_pct": "tin oxide and zircon",
    "colour_carbonate_pct": "colouring carbonates",
    "fluxing_colour_pct": "copper and manganese",
    "iron_oxide_pct": "iron oxide",
}


def read(view: View) -> Iterator[Reading]:
    """Shares of the dry batch by kind of material. [wt %]."""
    recipe = view.top.recipe if view.top else None
    lines = _recognised(recipe) if recipe else None
    if not lines:
        return
    whole = sum(line.parts for line in lines)

    def share(chosen) -> float:
        return round(100 * sum(line.parts for line in lines if chosen(line)) / whole, 1)

    clay = share(lambda line: line.material.clay == "raw")
    yield "raw_clay_pct", clay, f"{clay:g} % raw clay in the recipe"
    for name, materials in GROUPS.items():
        percent = share(lambda line, those=materials: line.title in those)
        yield name, percent, f"{percent:g} % {SAID[name]} in the recipe"
    lost = sum(line.parts * line.material.loss_percent for line in lines)
    loss = round(lost / whole, 1)
    yield "loss_on_ignition_pct", loss, f"the dry recipe loses {loss:g} % of its weight as gas"


def _recognised(recipe):
    """The lines with their materials, or None when one of them cannot be told."""
    from tiles.chemistry.recipes import read_recipe

    base = [(line.material, line.parts) for line in recipe.lines if not line.is_addition]
    extras = [(line.material, line.parts) for line in recipe.lines if line.is_addition]
    try:
        return read_recipe(base, extras=extras, strict=True)
    except TilesError:
        # A frit or stain of the user's own, or one material twice: no share can be trusted.
        return None

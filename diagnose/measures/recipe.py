"""Measures of a recipe in plain materials, given only when the base is wholly recognised."""

from collections.abc import Iterable, Iterator
from functools import lru_cache

from diagnose.measures.application import Reading
from diagnose.view import View
from tiles.errors import TilesError

# Usual names of the shipped materials, by what they do to a coat or a melt (common practice).
GROUPS = {
    "ball_clay_pct": ("ball clay", "red earthenware clay"),
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
    "soluble_flux_pct": (
        "nepheline syenite",
        "potash nepheline syenite",
        "soda feldspar",
        "soda feldspar (ideal)",
        "high alkali frit",
        "soda borate frit",
        "lithium carbonate",
        "soda ash",
        "pearl ash",
    ),
    "opacifier_pct": ("tin oxide", "zirconium silicate", "zirconia"),
    "tin_oxide_pct": ("tin oxide",),
    "titania_pct": ("titanium dioxide", "rutile", "ilmenite"),
    "chromium_oxide_pct": ("chromium oxide",),
    "fluoride_pct": ("fluorspar", "cryolite"),
    "colour_carbonate_pct": ("copper carbonate", "cobalt carbonate", "manganese carbonate"),
    "copper_pct": ("copper carbonate", "copper oxide"),
    "fluxing_colour_pct": (
        "copper carbonate",
        "copper oxide",
        "manganese dioxide",
        "manganese carbonate",
    ),
    "iron_oxide_pct": ("red iron oxide", "black iron oxide", "yellow iron oxide"),
}
WASH_FLUXES = (
    *GROUPS["feldspar_pct"],
    *GROUPS["borate_mineral_pct"],
    "borax",
    "anhydrous borax",
    "spodumene",
    "petalite",
    "lithium carbonate",
    "soda ash",
)
"""What a wash melts with, frits aside (common practice)."""
SAID = {
    "ball_clay_pct": "ball clay and the like",
    "raw_zinc_oxide_pct": "raw zinc oxide",
    "magnesium_carbonate_pct": "magnesium carbonate",
    "borate_mineral_pct": "raw borate mineral",
    "feldspar_pct": "feldspar and the like",
    "soluble_flux_pct": "soda feldspar, nepheline and the like",
    "opacifier_pct": "tin oxide and zircon",
    "tin_oxide_pct": "tin oxide",
    "titania_pct": "titania and rutile",
    "chromium_oxide_pct": "chromium oxide",
    "fluoride_pct": "fluorspar and cryolite",
    "colour_carbonate_pct": "colouring carbonates",
    "copper_pct": "copper",
    "fluxing_colour_pct": "copper and manganese",
    "iron_oxide_pct": "iron oxide",
}
FULL_COLOUR = {
    "cobalt carbonate": 1.0,
    "cobalt oxide": 0.7,
    "copper carbonate": 3.0,
    "copper oxide": 2.0,
    "red iron oxide": 4.0,
    "black iron oxide": 4.0,
    "yellow iron oxide": 4.5,
    "manganese dioxide": 4.0,
    "manganese carbonate": 5.0,
    "nickel oxide": 2.0,
    "chromium oxide": 0.3,
    "rutile": 5.0,
}
"""Share of the batch that gives a full colour (common practice, no source). [wt %]"""
FULL_STAIN = 8.0
MAIN_OXIDE_PERCENT = 10.0
"""What a material holds less of does not tell what it is. [wt %], estimate."""
ENOUGH_ZINC = 3.0
"""So much raw zinc oxide makes the age of a bucket matter (estimate). [wt %]"""
ONLY_IF_PRESENT = ("opacifier_pct", "tin_oxide_pct", "chromium_oxide_pct", "copper_pct")
"""An addition that is not understood may be one of these: their absence is then not certain."""


def read(view: View) -> Iterator[Reading]:
    """Shares of the dry batch by kind of material. [wt %]."""
    recipe = view.top.recipe if view.top else None
    lines = recognised(recipe) if recipe else None
    if not lines:
        return
    whole = sum(line.parts for line in lines)
    is_certain = all(line.material for line in lines)
    nameless = _nameless(lines)

    def share(chosen) -> float:
        known = (line for line in lines if line.material)
        return round(100 * sum(line.parts for line in known if chosen(line)) / whole, 1)

    clay = share(lambda line: line.material.clay == "raw")
    yield "raw_clay_pct", clay, f"{clay:g} % raw clay in the recipe"
    for name, materials in GROUPS.items():
        if _may_hold_one(nameless, materials):
            continue
        percent = share(lambda line, those=materials: _shipped_name(line) in those)
        if percent or is_certain or name not in ONLY_IF_PRESENT:
            yield name, percent, f"{percent:g} % {SAID[name]} in the recipe"
    if share(lambda line: _shipped_name(line) in GROUPS["raw_zinc_oxide_pct"]) >= ENOUGH_ZINC:
        yield from _age_of_bucket(view.top.batch, view.record.glazed_on)
    if not _may_hold_one(nameless, FULL_COLOUR):
        yield from _colour_strength(lines, whole)
    if is_certain and view.top.glaze.role == "wash" and not _may_hold_one(nameless, WASH_FLUXES):
        flux = share(lambda line: _shipped_name(line) in WASH_FLUXES or _is_frit(line))
        yield "wash_flux_pct", flux, f"{flux:g} % flux in the wash"
    if is_certain:
        lost = sum(line.parts * line.material.loss_percent for line in lines)
        loss = round(lost / whole, 1)
        yield "loss_on_ignition_pct", loss, f"the dry recipe loses {loss:g} % of its weight as gas"


def _shipped_name(line) -> str | None:
    """The shipped material that a line stands for, also where an own analysis goes before it."""
    return _shipped(line.title)


@lru_cache(maxsize=4096)
def _shipped(title: str) -> str | None:
    """The shipped material of this name; asked of each line many times over."""
    from tiles.chemistry.materials import fold, index

    found = index().get(fold(title))
    return found.name if found else None


def _is_frit(line) -> bool:
    return "frit" in line.title.casefold()


def _is_stain(line) -> bool:
    return "stain" in line.name.casefold()


def _nameless(lines) -> list:
    """The user's own materials, clays aside, whose names do not say what they are."""
    return [
        line.material
        for line in lines
        if line.material
        and not (line.material.clay or _is_frit(line) or _is_stain(line) or _shipped_name(line))
    ]


def _may_hold_one(nameless: list, names: Iterable[str]) -> bool:
    """Whether one of them may be one of these materials, going by what it is made of."""
    from tiles.chemistry.materials import find

    return any(_is_alike(each, find(name)) for each in nameless for name in names)


def _is_alike(one, other) -> bool:
    """Whether two materials are made of the same oxides, as far as those that matter."""
    return all(
        there.analysis.get(oxide, 0.0) >= percent / 2
        for here, there in ((one, other), (other, one))
        for oxide, percent in here.analysis.items()
        if percent >= MAIN_OXIDE_PERCENT
    )


def _age_of_bucket(batch, glazed_on) -> Iterator[Reading]:
    if batch and batch.mixed_on and glazed_on and glazed_on >= batch.mixed_on:
        weeks = round((glazed_on - batch.mixed_on).days / 7, 1)
        said = f"the bucket, which holds raw zinc oxide, was {weeks:g} weeks old"
        yield "zinc_bucket_weeks", weeks, said


def _colour_strength(lines, whole: float) -> Iterator[Reading]:
    """The colour in it as a share of a usual full amount; not given when an addition is unknown."""
    shares = []
    for line in lines:
        name = _shipped_name(line) or ("stain" if _is_stain(line) else None)
        if line.material is None and name is None:
            return
        full = FULL_STAIN if name == "stain" else FULL_COLOUR.get(name)
        if full:
            shares.append((100 * line.parts / whole / full, line))
    if shares:
        named = ", ".join(f"{100 * line.parts / whole:.2g} % {line.name}" for _, line in shares)
        yield "colour_strength", round(sum(share for share, _ in shares), 2), f"it holds {named}"


def recognised(recipe):
    """The lines with their materials, or None when one of the base cannot be told.

    The user's own analyses go before the shipped ones. An addition that is not understood (a
    stain) keeps its parts and has no material: the base's shares stand without it.
    """
    from tiles.chemistry.recipes import read_recipe

    try:
        lines = read_recipe(recipe.base, extras=recipe.extras, own=recipe.own)
    except TilesError:  # one material twice: no share can be trusted
        return None
    # A frit that nobody has an analysis of: no share can be trusted.
    return lines if all(line.material or line.is_extra for line in lines) else None

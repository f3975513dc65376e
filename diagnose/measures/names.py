"""What the names of body, glaze and materials give away: a colour, a speckle, what is in it.

A name is the owner's own word, recorded like any other; what it does not say is never taken for
"no", except where a recipe lists every material.
"""

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from diagnose.measures.application import Reading
from diagnose.view import OF_COLOUR, View
from tiles.chemistry.hazards import is_named
from tiles.records.words import COLOUR_ROLES

if TYPE_CHECKING:
    from tiles.records.forms import GlazeRecord, LayerRecord

COLOURS = (
    "red", "orange", "yellow", "pink", "green", "turquoise", "blue", "white", "black", "brown",
)  # fmt: skip
SPECKLE = re.compile(r"\b(speckled?|speckles|flecked|flecks?|granite)\b")
# Looks that some glazes are made for, by the words that sell them (common practice, no source).
MADE_FOR = {
    "named_for_crawling": re.compile(
        r"\b(crawl|crawls|crawling|bead|beads|beading|beaded|lichen)\b"
    ),
    "named_for_bubbles": re.compile(r"\b(craters?|lava|volcanic|foam|froth|bubbl(?:e|es|ing))\b"),
}
# Materials by the words that name them (common practice).
HOLDS = {
    "chromium": re.compile(r"\b(chrome|chromium|chromic)\b"),
    "tin": re.compile(r"\b(tin|stannic|cassiterite)\b"),
    "cobalt": re.compile(r"\bcobalt\b"),
    "umber": re.compile(r"\b(umber|sienna|manganese)\b"),
    "lithium": re.compile(r"\b(lithium|lithia|spodumene|petalite|lepidolite)\b"),
    "silicon carbide": re.compile(r"\b(silicon carbide|carborundum)\b"),
}
ZINC = re.compile(r"\bzinc\b")
SENSITIVE_RED = re.compile(r"\b(cadmium|selenium)\b")
# Colouring oxides that melt a glaze further (common practice, no source).
FLUXES = re.compile(r"\b(cobalt|copper|cupric|iron|ferric|manganese|umber|sienna)\b")

CLEAR = "clear"
"""The finish through which a colour is seen."""
FINISHES = {
    **{word: word for word in ("clear", "matt", "satin", "gloss", "crackle")},
    **{"transparent": "clear", "matte": "matt", "glossy": "gloss"},
}


def words_of(text: str) -> str:
    """Lower case words with single spaces, so that a rule can look for one of them."""
    return " ".join(re.findall(r"[a-z]+", text.casefold()))


def read(view: View) -> Iterator[Reading]:
    """Colour, speckle and telling materials, over all layers of the area."""
    body = view.record.body
    told = [each for each in (body.name, body.colour) if each and SPECKLE.search(words_of(each))]
    if told:
        yield "speckled_body", "yes", f"the body is {told[0]}"
    if view.top is None:
        return
    yield from _colour(view.top.glaze)
    yield from _finish(view.top.glaze)
    yield from _flux_beneath(view)
    for key, pattern in MADE_FOR.items():
        if pattern.search(words_of(view.top.glaze.name)):
            yield key, "yes", f"the glaze is called {view.top.glaze.name}"
    if view.defect == OF_COLOUR:
        yield from _of_the_colour(view)
    glazes = [layer.glaze for layer in reversed(view.layers)]
    speckled = next((each for each in glazes if SPECKLE.search(words_of(each.name))), None)
    if speckled:
        said = f"the {speckled.role or 'glaze'} is called {speckled.name}"
        yield "speckled_glaze", "yes", said
    layers = [*view.layers, *view.over]
    texts = [each for layer in layers for each in _texts(layer, view.defect)]
    found = {name: _where(texts, pattern) for name, pattern in HOLDS.items()}
    found["umber"] = found["umber"] or _earth_of_wash(view)
    is_listed = bool(view.top.recipe) and (not view.over or all(each.recipe for each in layers))
    whole = is_listed and not any("stain" in text.casefold() for text, _ in texts)
    for name, where in found.items():
        key = f"holds_{name.replace(' ', '_')}"
        if where:
            yield key, "yes", f"there is {name} in it ({where})"
        elif whole:
            yield key, "no", f"there is no {name} in the recipe"
    if found["chromium"] and found["tin"]:
        yield "holds_chrome_tin", "yes", "there is chromium with tin in it"
    elif whole:
        yield "holds_chrome_tin", "no", "there is no chromium with tin in the recipe"


def _colour(glaze) -> Iterator[Reading]:
    """The recorded colour, else the colour its name holds."""
    if glaze.colour:
        yield "glaze_colour", words_of(glaze.colour), f"{glaze.name} is {glaze.colour}"
        return
    named = [word for word in words_of(glaze.name).split() if word in COLOURS]
    if named:
        yield "glaze_colour", " ".join(named), f"it is called {glaze.name}"


def _finish(glaze: "GlazeRecord") -> Iterator[Reading]:
    """The finish that name or colour holds, where none is recorded."""
    finish = None if glaze.finish else finish_of(glaze)
    if finish:
        told = ", ".join(filter(None, (glaze.name, glaze.colour)))
        yield "finish", finish, f"going by its name ({told})"


def finish_of(glaze: "GlazeRecord") -> str | None:
    """The finish on record, else the one that name or colour holds where they hold just one."""
    if glaze.finish:
        return glaze.finish
    words = words_of(f"{glaze.name} {glaze.colour or ''}").split()
    named = {FINISHES[word] for word in words if word in FINISHES}
    return named.pop() if len(named) == 1 else None


def is_clear(glaze: "GlazeRecord") -> bool:
    """Whether it is a clear glaze, by its finish or, without one, by its name."""
    return finish_of(glaze) == CLEAR


def _of_the_colour(view: View) -> Iterator[Reading]:
    """What is written of zinc in the glaze that melts, and of cadmium in what holds the colour."""
    layers = [*view.layers, *view.over]
    melting = [each for each in layers if each.glaze.role not in COLOUR_ROLES] or [view.top]
    for key, pattern, what, read in (
        ("holds_zinc", ZINC, "zinc in the glaze", melting),
        ("label_sensitive_red", SENSITIVE_RED, "cadmium or selenium in the colour", [view.top]),
    ):
        texts = [each for layer in read for each in _texts(layer, view.defect)]
        if where := _where(texts, pattern):
            yield key, "yes", f"there is {what} ({where})"
        elif denied := next((said for text, said in texts if pattern.search(words_of(text))), ""):
            yield key, "no", f"there is no {what} ({denied})"


def zinc_in(glaze: "GlazeRecord") -> bool | None:
    """Whether its name or remark names zinc; False where they say that it is free of it."""
    texts = [words_of(each) for each in (glaze.name, glaze.remark or "")]
    if any(is_named(ZINC, each) for each in texts):
        return True
    return False if any(ZINC.search(each) for each in texts) else None


def _texts(layer: "LayerRecord", defect: str | None) -> Iterator[tuple[str, str]]:
    """Names of a layer and of the materials of its recipe, each with how it is told.

    Of a fault of colour its remark as well: labels say there what a colour cannot stand.
    """
    lines = layer.recipe.lines if layer.recipe else []
    yield from ((text, text) for text in (layer.glaze.name, *(line.material for line in lines)))
    if defect == OF_COLOUR and layer.glaze.remark:
        yield layer.glaze.remark, f"remark on {layer.glaze.name}"


def _where(texts: "list[tuple[str, str]]", pattern: re.Pattern) -> str:
    return next((said for text, said in texts if is_named(pattern, words_of(text))), "")


def _flux_beneath(view: View) -> Iterator[Reading]:
    """A colour under the glaze that is named for an oxide that fluxes, or holds one."""
    for layer in view.colours:
        lines = layer.recipe.lines if layer.recipe else []
        texts = [layer.glaze.name, *(line.material for line in lines)]
        told = next((each for each in texts if FLUXES.search(words_of(each))), None)
        if told:
            within = "" if told == layer.glaze.name else f", with {told} in it,"
            yield "flux_beneath", "yes", f"{layer.glaze.name}{within} lies under the glaze"
            return


def _earth_of_wash(view: View) -> str:
    """The colour of a wash that is named for its earth; of a glaze it is a mere shade."""
    washes = [layer.glaze for layer in view.layers if layer.glaze.role == "wash"]
    colours = [glaze.colour for glaze in washes if glaze.colour]
    return next((each for each in colours if HOLDS["umber"].search(words_of(each))), "")

"""What the headings of a home-made sheet most often stand for. Common practice, no source."""

import re

from tiles.exchange.flat_columns import defect_column
from tiles.records.clues import clues
from tiles.records.words import DEFECTS, find_word

_OF_FAULTS = "faults: crawling; severe crazing; none"
_OF_LATER = "a further row of that mark with its own inspected_on and faults"
_OF_PUPILS = "none: leave pupils' names out"
_OF_BAGS = "body, as white clay bag 3"
_OF_MAKER_OR_LOAD = "glaze_maker, or firing"
"""In English a brand is who made it, in German a firing."""
_MOST = {
    "mark": "no, nr, number, tile, tile no, tile number, id, code, test, test no, piece, pot",
    "body": "body, clay, clay body, clay type",
    "body_colour": "clay colour, clay color, body color",
    "body_remark": "clay maker, clay brand",
    "made_on": "made, date made",
    "glazed_on": "glazed, date glazed, glaze date, glazing date",
    "glaze": "glaze, glaze name, top glaze, jar, glaze brand no",
    "glaze_colour": "colour, color, glaze colour, glaze color",
    "glaze_maker": "maker, make, glaze brand",
    _OF_MAKER_OR_LOAD: "brand",
    "glaze_finish": "finish",
    "batch": "bucket",
    "batch_specific_gravity": "sg, specific gravity, gravity",
    "under_glaze": "under, underglaze, slip, engobe, base coat",
    "over_glaze": "over, overglaze",
    "coats": "coats, no of coats",
    "thickness_mm": "mm, thick, thickness",
    "method": "how applied, application, applied",
    "cone_reached": "cone, fired to, cone fired, actual cone, witness cone",
    "target_cone": "target, set to, set for, set at, programme, program",
    "bisque_cone": "bisque, bisq, biscuit",
    "bisque_firing": "bisque firing, biscuit firing, bisque load",
    "bisque_fired_on": "bisque date, date bisque, date bisqued",
    "bisque_peak_c, in C": "bisque f, bisque c, bisque temp, bisque temperature",
    "peak_c, in C": "temp, top temp, temperature, peak, max temp",
    "hold_min": "hold, soak",
    "firing": "firing, load, firing no, kiln load",
    "fired_on": "date, date fired, fired, date out, unloaded",
    "inspected_on": "looked, looked at, date looked, seen on",
    "kiln": "kiln, which kiln",
    "shelf": "shelf, position, place, level",
    "note": "note, notes, remark, remarks, comment, comments",
    _OF_BAGS: "bag, bags, clay bag, bag of clay",
    _OF_FAULTS: "result, results, what happened, what went wrong, went wrong, wrong, problem, "
    "problems, fault, faults, defect, defects, outcome",
    _OF_LATER: "again, looked again, looked at again, second look, later, later look, "
    "later fault, later faults",
    _OF_PUPILS: "who, student, students, pupil, name, initials, made by",
}
"""What to take for it, and the headings that people give it."""
_ELSEWHERE = {
    "mark": "nummer, probe, kachel, fliese, numéro, échantillon, carreau, tegel, campione, numero, "
    "muestra",
    "body": "ton, tonsorte, masse, terre, argile, pâte, klei, argilla, impasto, arcilla, pasta",
    "glaze": "glasur, émail, glaçure, glazuur, smalto, esmalte, vidriado",
    "glaze_colour": "farbe, couleur, kleur, colore",
    "glaze_maker": "hersteller, fabricant, fabrikant, produttore, fabricante",
    "coats": "schichten, couches, lagen, mani, strati, capas",
    "thickness_mm": "dicke, schichtdicke, épaisseur, dikte, spessore, espesor, grosor",
    "cone_reached": "kegel, cône, kegel nr, cono",
    "peak_c, in C": "temperatur, brenntemperatur, température, temperatuur, temperatura",
    "firing": "brennung, brand nr, brand nummer, cuisson, stook, cottura, cocción, hornada",
    "fired_on": "datum, brenndatum, data, fecha",
    "kiln": "ofen, four, oven, forno, horno",
    "shelf": "etage, étagère, ripiano, estante",
    "note": "bemerkung, bemerkungen, notiz, kommentar, anmerkung, remarque, remarques, "
    "observation, observations, opmerking, opmerkingen, osservazioni, observaciones, nota",
    _OF_BAGS: "sack, sac, zak, sacco, saco",
    _OF_FAULTS: "fehler, ergebnis, resultat, défaut, défauts, résultat, fout, fouten, resultaat, "
    "difetto, difetti, risultato, defecto, defectos, resultado",
    _OF_PUPILS: "schüler, schülerin, élève, élèves, leerling, alunno, allievo, alumno",
}
"""The same in German, French, Dutch, Italian and Spanish. A Seger cone is of another scale, so
that it is none of these."""
_MEANT = {
    heading: column
    for table in (_ELSEWHERE, _MOST)
    for column, named in table.items()
    for heading in named.split(", ")
}
_COUNTS = {"no", "nr", "number", "nummer", "numéro", "numero", "id", "code", "name"}
"""Beside another word they say nothing of their own: "Kiln no"."""
_OF = {"of", "de", "du", "des", "del", "della", "di", "van"}
_SET = {"target", "set", "aim", "goal", "planned", "wanted", "programme", "program"}
_HEAT = {"temp", "temperature", "peak"}
_WORD = re.compile(r"[^\W\d_]+")


def most_often(heading: str) -> str:
    """The column, or what to do, that a person's own heading most often stands for; "" for none.

    Of several words that say something the last one is meant: "Kiln shelf". What a kiln was set
    to is never what it reached, wherever that word stands.

    Examples
    --------
    >>> most_often("Clay"), most_often("Crawled"), most_often("Glaze brand/no")
    ('body', 'defect_crawling', 'glaze')
    >>> most_often("Brand Nr."), most_often("Brand"), most_often("Bemerkung")
    ('firing', 'glaze_maker, or firing', 'note')
    >>> most_often("Cone target"), most_often("Glaze thickness")
    ('target_cone', 'thickness_mm')
    >>> most_often("Bisque dusty?"), most_often("Dusty"), most_often("Bisque")
    ('clue_bisque_dusty', 'clue_bisque_dusty', 'bisque_cone')
    """
    said = _WORD.findall(heading.casefold())
    if fault := find_word(" ".join(said), DEFECTS):
        return defect_column(fault)
    if clue := _clue(set(said)):
        return clue
    if _SET & set(said) and (_HEAT | {"cone"}) & set(said):
        return "firing_remark" if _HEAT & set(said) else "target_cone"
    more = _before_of([word for word in said if word not in _COUNTS])
    return _MEANT.get(" ".join(said)) or _of_most_words(more) or _of_most_words(said)


def _before_of(said: list[str]) -> list[str]:
    """In "date de cuisson" and the like the first word is what is meant, not the last."""
    at = next((place for place, word in enumerate(said) if word in _OF), None)
    return said[:at] or said[at + 1 :] if at is not None else said


def _clue(said: set[str]) -> str:
    """The column of the clue that a heading names, be it without the word bisque; "" for none."""
    names = (name for name in clues() if set(name.split("_")) in (said, said | {"bisque"}))
    return next((f"clue_{name}" for name in names), "")


def _of_most_words(said: list[str]) -> str:
    """What the most of these words together stand for; of as many, the last ones."""
    for many in range(len(said), 0, -1):
        for at in range(len(said) - many, -1, -1):
            if meant := _MEANT.get(" ".join(said[at : at + many])):
                return meant
    return ""

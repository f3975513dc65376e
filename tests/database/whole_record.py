"""A tile of which everything is recorded, and how it is stored and read back."""

from tiles.records import forms, reading, store
from tiles.records.store.named import Names

FULL = {
    "mark": "M-1",
    "made_on": "2026-01-10",
    "glazed_on": "2026-02-01",
    "form": "angle",
    "stood": "upright",
    "body": {"name": "red earthenware", "kind": "earthenware", "cone_low": "06", "cone_high": "02",
             "absorption_pct": 12.5, "remark": "bag 7"},
    "bisque_cone": "04",
    "bisque_firing": {"name": "F1", "kind": "bisque", "kiln": "top loader"},
    "firing": {"name": "F2", "kind": "glaze", "kiln": "top loader", "fired_on": "2026-02-03",
               "target_cone": "05", "rate_c_per_h": 60.5, "hold_min": 10, "peak_c": 1035,
               "opened_c": 90, "atmosphere": "oxidation",
               "witness_cones": [{"shelf": "top", "cone": "05"}, {"shelf": None, "cone": "04"}]},
    "shelf": "top",
    "cone_reached": "05",
    "areas": [
        {"number": 1, "label": "left", "surface": "smooth", "clues": {"raw_coat_cracked": "yes"},
         "layers": [
             {"glaze": {"name": "white slip", "role": "slip"}, "coats": 2,
              "applied_on": "greenware"},
             {"glaze": {"name": "house clear", "kind": "recipe"}, "coats": 1, "thickness_mm": 0.4,
              "fired_thickness_mm": 0.2, "method": "dip", "applied_on": "bisque", "beneath": "dry",
              "recipe": {"lines": [{"material": "frit", "parts": 80}, {"material": "kaolin",
                         "parts": 20}, {"material": "tin oxide", "parts": 6, "is_addition": True}]},
              "batch": {"name": "bucket 1", "mixed_on": "2026-01-20", "specific_gravity": 1.45,
                        "sieve_mesh": 80, "dry_portion": "whole bag", "is_revived": False}},
         ]},
        {"number": 2, "layers": [{"glaze": "house clear", "coats": 2}]},
    ],
    "clues": {"bisque_wiped": "no"},
    "inspections": [
        {"inspected_on": "2026-02-04", "defects": []},
        {"inspected_on": "2026-05-02", "note": "on the shelf since",
         "defects": [{"defect": "crazing", "severity": "slight", "area": 1, "place": "foot",
                      "note": "seen with ink"}, {"defect": "specks"}]},
    ],
    "photos": [{"file": "a.png", "caption": "front"}],
    "note": "ünïcode – 釉",
}  # fmt: skip


def full(**changed):
    return forms.read(forms.TileRecord, FULL | changed)


def stored(session, mark="M-1"):
    session.expire_all()
    return reading.tile_record(store.get_tile(session, mark))


def put(session, record):
    return store.add_tile(session, record, names=Names(session, add_missing=True))

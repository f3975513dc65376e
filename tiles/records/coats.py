"""What is possible but unlikely of a coat of glaze."""

from tiles.records.forms import TileRecord

THICKEST_COAT_MM = 3.0
"""Brushed coats are 0.3 to 2 mm dry, trailed ones below 3 (common practice, no source)."""


def coat_questions(record: TileRecord) -> list[str]:
    """A coat thicker than glaze is put on: 8 for 0.8, most often."""
    return [
        f"{what} of {layer.glaze.name} {thickness:g} mm is far thicker than a coat of glaze "
        f"(0.3 to 2 mm dry)."
        for area in record.areas
        for layer in area.layers
        for what, thickness in [
            ("the dry coat", layer.thickness_mm),
            ("the fired coat", layer.fired_thickness_mm),
        ]
        if thickness and thickness > THICKEST_COAT_MM
    ]

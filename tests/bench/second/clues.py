"""The clues of the second studio: what was so of a tile or an area, and whether it was told."""

from tests.bench.second.notebook import Notebook


def tell_clues(book: Notebook, row: dict) -> dict:
    """All clues of an area, by flat column."""
    carelessness = row["user"]["carelessness"]
    of_tile = book.answers(row["mark"], _of_tile(row), carelessness)
    return of_tile | book.answers((row["mark"], row["area"]), _of_area(row), carelessness)


def _of_tile(row: dict) -> dict[str, bool]:
    firing = row["firing"]
    return {
        "bisque_wiped": row["is_wiped"],
        "bisque_dusty": row["is_dusty"],
        "bisque_greasy": row["is_greasy"],
        "bisque_packed_airless": row["bisque"]["is_airless"],
        "shared_brushes": row["shares_brushes"],
        "glaze_stirred": row["is_stirred"],
        "jar_half_dry": row["is_half_dry"],
        "loaded_damp": row["is_damp"],
        "cooled_slowly": firing["is_slow"],
        "cooled_fast": firing["is_fast"],
        "glaze_kiln_unvented": firing["is_unvented"],
        "fired_before": row["is_refired"],
        "washed_or_soaked": row["is_soaked"],
        "wide_flat_piece": row["is_wide"],
        "wall_uneven": row["is_uneven"],
        "glazed_inside_only": row["is_inside_only"],
        "label_sensitive_red": row["glaze"]["is_sensitive"],
        "chrome_in_load": row["has_chrome"],
        "colour_stirred_in_dry": row["is_unsieved"],
    }


def _of_area(row: dict) -> dict[str, bool]:
    return {
        "raw_coat_cracked": row["is_cracked"],
        "raw_coat_powdery": row["is_powdery"],
        "raw_coat_pitted": row["is_pitted"],
        "coats_left_powder_dry": row["is_recoated_dry"],
        "thick_at_edges": row["is_thick_at_edges"],
        "glaze_near_foot": row["is_near_foot"],
    }

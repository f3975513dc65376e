"""What each row counts: areas of one tile, and tiles of one studio, share what failed them."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np


def area_weights(tiles: "np.ndarray", here: "np.ndarray", area_share: float) -> "np.ndarray":
    """What each row counts: the areas of one tile share its clay, firing and hands.

    Parameters
    ----------
    tiles : ndarray of int
        The tile of each row, numbered from 0. shape (n,).
    here : ndarray of bool
        Rows that were looked at; the others are no evidence and take none away.
    area_share : float
        How much a further area repeats the first, from 0 to 1.

    Examples
    --------
    >>> import numpy as np
    >>> area_weights(np.array([0, 0, 0]), np.array([True, True, False]), 1.0).tolist()
    [0.5, 0.5, 0.5]
    """
    import numpy as np

    counts = np.bincount(tiles, here)[tiles]
    return 1.0 / (1.0 + area_share * (counts - 1).clip(0))


SHARED, HALF_SHARED = 0.25, 100
"""So much is taken off each of very many tiles, and half of it at so many (estimates)."""


def tile_weight(inspected: int) -> float:
    """What each of so many tiles counts: the more there are, the more they share.

    Tiles of one firing, bucket or pair of hands fail together by what nobody wrote down.

    Examples
    --------
    >>> tile_weight(0), tile_weight(100), round(tile_weight(1000), 2)
    (1.0, 0.875, 0.77)
    """
    return 1.0 - SHARED * inspected / (inspected + HALF_SHARED)

"""Least depths of blocks by plain array arithmetic, to compare with what the compiled code draws."""

import numpy as np

from toilewright.packing.weighing import BLOCK, SHIFT


def least_of_blocks(depths: np.ndarray) -> np.ndarray:
    """Least depth of each block of places that meets a map of depth, which is 0 beyond its edges.

    Returns:
        [column modulo BLOCK, row modulo BLOCK, column // BLOCK, row // BLOCK]: the block ends in that column and row of
        the map. A move wants every BLOCK-th of both, and so finds them next to each other.
    """
    low = np.pad(depths, BLOCK - 1)
    for _ in range(2):
        low = np.minimum.reduce([low[n:len(low) - BLOCK + 1 + n] for n in range(BLOCK)]).T
    low = np.pad(low, [(0, -size % BLOCK) for size in low.shape])
    columns, rows = low.shape
    return np.ascontiguousarray(low.reshape(columns >> SHIFT, BLOCK, rows >> SHIFT, BLOCK).transpose(1, 3, 0, 2))

"""The flat lengths of a pattern: what a tape laid on its pieces would read, at the seam line."""

from __future__ import annotations

from toilewright.fit.flat.laid import HIP_DEPTH, times
from toilewright.fit.flat.reading import NAMES, Flat, flat_of

__all__ = ["HIP_DEPTH", "NAMES", "Flat", "flat_of", "times"]

"""Stripes and checks: what has to meet where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from toilewright.cutting.cloth import Cloth
from toilewright.cutting.lay.certificate import Meeting
from toilewright.cutting.lay.plan import CutPiece
from toilewright.cutting.lay.sections import Part, Ways
from toilewright.pattern.garment import Garment


@dataclass(frozen=True, slots=True)
class Matching:
    """What is matched.

    Attributes:
        meetings: what the certificate has to look at.
        notes: what is matched, and what cannot be, in sentences.
    """

    meetings: tuple[Meeting, ...] = ()
    notes: tuple[str, ...] = ()

    def ways(self, cloth: Cloth) -> Ways:
        """How pieces may lie."""
        return Ways(cloth)

    def at(self, part: Part, start: float) -> Part:
        """A section with its repeats counted from where it starts along the cloth (mm)."""
        return part


def matching_of(cloth: Cloth, places: Sequence[str], pieces: Sequence[CutPiece],
                garments: Sequence[tuple[str, Garment]]) -> Matching:
    """What a cloth with stripes or checks asks at the places where she wants them to meet.

    Args:
        places: names of seams and centre lines, the most important first.
        garments: (make, its pieces with their seams).
    """
    return Matching()

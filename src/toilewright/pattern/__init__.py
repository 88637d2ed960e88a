"""Pattern pieces by name: edges, darts, notches, landmarks, seams, sizes; and the walk."""

from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.nest import BodyChart, Pattern
from toilewright.pattern.parts import (
    Cut,
    Dart,
    Edge,
    EdgeKind,
    Grain,
    InnerLine,
    Landmark,
    Notch,
    Press,
)
from toilewright.pattern.piece import Piece

__all__ = [
    "BodyChart", "Cut", "Dart", "Edge", "EdgeKind", "EdgeRef", "Garment", "Grain", "InnerLine",
    "Landmark", "Notch", "Pattern", "Piece", "Press", "Seam",
]

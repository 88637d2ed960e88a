"""Pattern pieces by name: edges, darts, notches, landmarks, seams, sizes; and the walk."""

from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.nest import BodyChart, Pattern
from toilewright.pattern.parts import (
    Corner,
    CornerCut,
    Cut,
    Dart,
    Edge,
    EdgeKind,
    Grain,
    InnerLine,
    Landmark,
    Notch,
    NotchCut,
    Press,
)
from toilewright.pattern.piece import Piece

__all__ = [
    "BodyChart", "Corner", "CornerCut", "Cut", "Dart", "Edge", "EdgeKind", "EdgeRef", "Garment", "Grain", "InnerLine",
    "Landmark", "Notch", "NotchCut", "Pattern", "Piece", "Press", "Seam",
]

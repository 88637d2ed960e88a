"""What else to buy for a garment, as far as its pieces tell, and what is done to the cloth before it is cut."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.cutting.cloth import Cloth
from toilewright.cutting.offers import Notion
from toilewright.pattern.garment import EdgeRef, Garment
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.piece import Piece
from toilewright.units import show_length

THREAD = 3.0
"""Thread in a lockstitch seam, as a multiple of its length (common practice, no published source)."""


def notions(garments: Sequence[Garment], unit: str) -> tuple[Notion, ...]:
    """Thread by the length of all seams, and what closes each opening."""
    seams = sum(seam_length(garment) for garment in garments)
    found = []
    if seams > 0.0:
        found.append(Notion(
            "thread", f"about {_long(THREAD * seams, unit)}",
            f"The seams are {_long(seams, unit)} long together, and a machine seam takes about three times its length; "
            "hems, topstitching and neatened edges come on top."))
    for garment in garments:
        for name, length in openings(garment).items():
            found.append(Notion(
                f"fastening, {name}", show_length(length, unit),
                "The edges that open there are so long together; how much of it stays open and what closes it (zip, "
                "buttons, hooks), the pattern's instructions say."))
    return tuple(dict.fromkeys(found))


def seam_length(garment: Garment) -> float:
    """All seams of a garment as they are sewn, both sides of the body (mm)."""
    pieces = {piece.name: piece for piece in garment.pieces}
    return sum(_sewn(ref, pieces) for seam in garment.seams for ref in seam.a)


def openings(garment: Garment) -> dict[str, float]:
    """The edges at which a garment opens, by name, one side of each (mm); a wrap is closed by its ties."""
    found: dict[str, float] = {}
    for piece in garment.pieces:
        if piece.cut.cloth == "self" and not any(word in piece.name for word in ("facing", "wrap")):
            for edge in piece.edges:
                if edge.kind is EdgeKind.OPENING:
                    found[edge.name] = found.get(edge.name, 0.0) + edge.path.length
    return found


def _sewn(ref: EdgeRef, pieces: dict[str, Piece]) -> float:
    piece = pieces.get(ref.piece)
    if piece is None:
        return 0.0
    hands = 2 if piece.on_fold or (piece.cut.mirrored and piece.cut.count > 1) else 1
    return ref.length(piece) * max(ref.times, hands)


def before_cutting(cloths: Sequence[Cloth]) -> tuple[str, ...]:
    """What is done to the cloth before it is laid, in order."""
    steps = []
    if any(cloth.shrinks_along == 0.0 and cloth.shrinks_across == 0.0 for cloth in cloths):
        steps.append("Where the shrinkage of a cloth is not known, nothing was added for it: have a sample cut off, "
                     "mark a square on it, wash it as the garment will be washed, press it, measure the square again "
                     "both ways, and write what you found into the make file before you buy.")
    steps += [
        "Wash all cloth as the garment will be washed, and dry it the same way.",
        "Press it along the grain; take care with iron and steam.",
        "Square both ends: pull a thread or tear across, and cut along it; then see that the selvedges lie on each "
        "other without a pull.",
        "Look it over in good light for flaws, and mark them; `toilewright lay` keeps clear of them.",
    ]
    return tuple(steps)


def _long(mm: float, unit: str) -> str:
    """A length of many metres."""
    return f"{mm / 914.4:.0f} yd" if unit == "in" else f"{mm / 1000:.0f} m"

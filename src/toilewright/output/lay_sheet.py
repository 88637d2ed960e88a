"""What a drawing of a lay starts from, and the words that stand on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from toilewright.cutting.lay.order import turns_of
from toilewright.cutting.lay.pieces import area_of
from toilewright.cutting.lay.placing import hand_of
from toilewright.cutting.lay.plan import Laid, Lay, Layer, Section
from toilewright.cutting.lay.reading import other_hand
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece
from toilewright.units import show_length

CARE = ("Shears and rotary blades are sharp: cut away from the hand. Count the pins, and keep them off the floor and "
        "away from children. The plan advises; look twice before the first cut.")


@dataclass(frozen=True)
class LaySheet:
    """A lay with all that is written on it.

    Attributes:
        title: of the make.
        unit: ``cm`` or ``in``.
        pieces: pattern pieces by make and name, for their marks; those that are missing are drawn as outlines.
        notes: size and for whom, by make.
    """

    lay: Lay
    title: str
    unit: str = "cm"
    pieces: Mapping[tuple[str, str], Piece] = field(default_factory=dict)
    notes: Mapping[str, str] = field(default_factory=dict)

    @property
    def cuts(self) -> tuple[OneCut, ...]:
        """What is cut, in order; both layers of a double one are one cut."""
        found: dict[int, list[Laid]] = {}
        for one, turn in zip(self.lay.laid, turns_of(self.lay.laid), strict=True):
            found.setdefault(turn, []).append(one)
        counts: dict[tuple[str, str], int] = {}
        for one in self.lay.laid:
            counts[key_of(one)] = counts.get(key_of(one), 0) + 1
        return tuple(self._cut(turn, ones, counts[key_of(ones[0])]) for turn, ones in found.items())

    def piece_of(self, one: Laid) -> Piece | None:
        """The pattern piece that a laid one was cut from."""
        return self.pieces.get(key_of(one))

    def _cut(self, turn: int, ones: list[Laid], count: int) -> OneCut:
        return OneCut(turn, ones[0], self._how(ones, count), self.notes.get(ones[0].piece.make, ""))

    def _how(self, ones: Sequence[Laid], count: int) -> str:
        first = ones[0]
        if first.layer is Layer.BOTH:
            return "on the fold"
        if len(ones) == 2:
            return "left and right, 2 layers" if first.piece.mirrored and not first.piece.even else "2 layers"
        copy = f"{first.copy} of {count}" if count > 1 else "1 layer"
        if first.piece.mirrored and not first.piece.even:
            piece = self.piece_of(first)
            hand = hand_of(first, piece) if piece is not None else None
            return f"{hand or ('mirrored' if other_hand(first) else 'as drawn')}, {copy}"
        return copy


@dataclass(frozen=True, slots=True)
class OneCut:
    """One cut of a lay.

    Attributes:
        turn: its number in the order of cutting, from 1.
        one: what is cut; of a double layer, the upper copy.
        how: in which layers, which hand, which copy.
        note: size and for whom.
    """

    turn: int
    one: Laid
    how: str
    note: str = ""

    @property
    def hand(self) -> str:
        """L or R for one copy of a pair, else nothing: what is chalked on it."""
        return {"left,": "L", "right,": "R"}.get(self.how.split(" ")[0], "")

    @property
    def name(self) -> str:
        """The piece's name."""
        return self.one.piece.name

    @property
    def full_name(self) -> str:
        """The piece's name, and whose it is where several makes share the lay."""
        return f"{self.name} ({self.one.piece.make})" if self.one.piece.make else self.name


def pieces_by_key(garments: Sequence[tuple[str, Garment]]) -> dict[tuple[str, str], Piece]:
    """The pieces of garments by make and name."""
    return {(make, piece.name): piece for make, garment in garments for piece in garment.pieces}


def key_of(one: Laid) -> tuple[str, str]:
    """Make and name of a piece."""
    return one.piece.make, one.piece.name


def height_of(lay: Lay, section: Section) -> float:
    """How far the cloth reaches across the table (mm)."""
    return lay.cloth.width - (section.fold_depth or 0.0)


def end_of_lay(lay: Lay) -> float:
    """Where the last section or piece ends (mm)."""
    return max([lay.length, *(s.start + s.length for s in lay.sections)])


def size_words(sheet: LaySheet) -> str:
    """How long and how wide the lay is, and how much of it is used."""
    lay = sheet.lay
    used = sum(abs(area_of(one.outline)) * (2 if one.layer is Layer.BOTH else 1) for one in lay.laid)
    share = f", {100 * used / (lay.length * lay.cloth.width):.0f} % of it in the pieces" if lay.length else ""
    return (f"{show_length(lay.length, sheet.unit)} of cloth {show_length(lay.cloth.width, sheet.unit)} wide between "
            f"its selvedges{share}")


def lies_words(section: Section, unit: str) -> str:
    """How a section lies."""
    if section.fold_depth is None:
        return "open, one layer, right side up"
    return f"folded {show_length(section.fold_depth, unit)} deep, right sides inside"


def checked_words(lay: Lay) -> str:
    """The certificate in one line."""
    failed = [c for c in lay.certificate.checks if not c.passed]
    if failed:
        return "DO NOT CUT BY THIS LAY: " + " ".join(c.said for c in failed)
    if not lay.certificate.checks:
        return "This lay was not checked; do not cut by it."
    names = ", ".join(c.name for c in lay.certificate.checks)
    return f"Checked by an independent geometry library, all {len(lay.certificate.checks)} hold: {names}."


def sure_words(lay: Lay) -> str:
    """How the lay was found, and how sure its length is."""
    how = f"Found by {lay.how}" if lay.how else "Found by a search"
    return (f"{how}. The length is exact for these outlines; a longer search may find a shorter lay. "
            "Measure your cloth before the first cut.")

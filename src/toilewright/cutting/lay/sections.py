"""What is cut double, what on the fold and what in one layer: pieces turned into items to be packed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from toilewright.cutting.cloth import Cloth
from toilewright.cutting.lay.folding import Spread
from toilewright.cutting.lay.pieces import opened
from toilewright.cutting.lay.plan import CutPiece, Layer
from toilewright.errors import InputError
from toilewright.packing.problem import Beat, Item, Pose
from toilewright.units import show_both

DOUBLE = (Layer.UPPER, Layer.LOWER)

Beats = Callable[[CutPiece], tuple[Beat | None, Beat | None]]
"""The repeats that a piece must meet, along and across, in the frame of its outline."""


@dataclass(frozen=True, slots=True)
class Slot:
    """An item to be packed and what one copy of it yields on the lay.

    Attributes:
        piece: as it is laid: a piece on the fold that is cut in one layer is opened out.
        layers: one cut piece for each of these.
    """

    item: Item
    piece: CutPiece
    layers: tuple[Layer, ...] = (Layer.SINGLE,)


@dataclass(frozen=True, slots=True)
class Part:
    """A section to be packed: how the cloth lies there and what lies on it."""

    way: Spread
    slots: tuple[Slot, ...]


@dataclass(frozen=True, slots=True)
class Ways:
    """How pieces may lie on this cloth.

    Attributes:
        cloth: the cloth.
        beats: what stripes and checks ask.
        one_way: pieces, by make and name, that must lie with their heads towards the end though the cloth does not ask.
    """

    cloth: Cloth
    beats: Beats = lambda piece: (None, None)
    one_way: frozenset[tuple[str, str]] = frozenset()

    def turns(self, piece: CutPiece) -> tuple[float, ...]:
        """Turns of a piece that is free to lie anywhere (degrees)."""
        headings = (0.0,) if self.cloth.one_way or (piece.make, piece.name) in self.one_way else (0.0, 180.0)
        off = self.cloth.grain_tolerance
        return tuple(t + d for t in headings for d in ((0.0, -off, off) if off > 0.0 else (0.0,)))

    def single(self, piece: CutPiece, band: tuple[float, float] | None = None) -> tuple[Slot, ...]:
        """A piece cut in one layer: on a cloth with a right side, a pair is two items, one the mirror image."""
        piece = opened(piece)
        if piece.even:
            return (self._slot(piece, piece.count, (False,), band=band),)
        if not self.cloth.sided:
            return (self._slot(piece, piece.count, (False, True), band=band),)
        if not piece.mirrored:
            return (self._slot(piece, piece.count, (False,), band=band),)
        slots = [self._slot(piece, piece.count - piece.count // 2, (False,), band=band)]
        if piece.count > 1:
            slots.append(self._slot(piece, piece.count // 2, (True,), " other hand", band=band))
        return tuple(slots)

    def double(self, piece: CutPiece, band: tuple[float, float]) -> Slot:
        """A piece cut through both layers; either hand may lie uppermost, as the other layer gives the other one."""
        hands = (False,) if piece.even else (False, True)
        return self._slot(piece, piece.count // 2, hands, " double", DOUBLE, band)

    def on_fold(self, piece: CutPiece, band: tuple[float, float]) -> Slot:
        """A piece with its fold edge on the fold; turned end for end where the cloth has no direction."""
        ends = [Pose()] + [Pose(180.0, True)] * (180.0 in self.turns(piece))
        slot = self._slot(piece, piece.count, (False,), " on the fold", (Layer.BOTH,), band)
        return replace(slot, item=replace(slot.item, poses=tuple(ends), origin_y=0.0, beat_y=None))

    def _slot(self, piece: CutPiece, count: int, hands: tuple[bool, ...], kind: str = "",
              layers: tuple[Layer, ...] = (Layer.SINGLE,), band: tuple[float, float] | None = None) -> Slot:
        poses = tuple(Pose(turn, hand) for hand in hands for turn in self.turns(piece))
        along, across = self.beats(piece)
        return Slot(Item(key_of(piece) + kind, piece.outline, count, poses, band, None, along, across), piece, layers)


def key_of(piece: CutPiece) -> str:
    """A piece's name, with whose it is."""
    return f"{piece.make}: {piece.name}" if piece.make else piece.name


def all_open(pieces: Iterable[CutPiece], way: Spread, ways: Ways) -> Part:
    """Everything in one layer.

    Raises:
        InputError: a piece is wider than the cloth.
    """
    slots = tuple(s for piece in pieces for s in (on_border(piece, way, ways) or ways.single(piece)))
    if ways.cloth.border > 0.0:
        slots = tuple(clear_of_border(s, way, ways.cloth.border) for s in slots)
    for slot in slots:
        if (across := height_of(slot.item)) > way.height + 1e-6:
            raise InputError(f'"{key_of(slot.piece)}" takes {show_both(across)} across the cloth, which is only '
                             f"{show_both(way.height)} wide; take a wider cloth, or divide the piece.")
    return Part(way, slots)


def folded(pieces: Iterable[CutPiece], way: Spread, ways: Ways,
           out: frozenset[str] = frozenset()) -> tuple[Part, tuple[CutPiece, ...]]:
    """What a folded cloth takes, and the pieces that remain to be cut in one layer elsewhere.

    Args:
        out: keys of pieces that shall not be cut from the folded part though they could.
    """
    slots: list[Slot] = []
    rest: list[CutPiece] = []
    depth = way.depth or 0.0
    band = (0.0, depth if ways.cloth.border <= 0.0 else min(depth, max(way.height - ways.cloth.border, 0.0)))
    beside = (depth, way.height)
    for piece in pieces:
        taken: list[Slot] = []
        left = piece.count
        if key_of(piece) not in out and not (piece.hem and ways.cloth.border > 0.0):
            if piece.on_fold:
                taken, left = [ways.on_fold(piece, band)], 0
            elif cut_double(piece, ways.cloth):
                taken, left = [ways.double(piece, band)], piece.count % 2
        if any(height_of(s.item) > band[1] + 1e-6 for s in taken):
            taken, left = [], piece.count
        slots += taken
        if left:
            single = ways.single(replace(piece, count=left), beside)
            if ways.cloth.border <= 0.0 and all(height_of(s.item) <= beside[1] - beside[0] + 1e-6 for s in single):
                slots += single
            else:
                rest.append(replace(piece, count=left))
    return Part(way, tuple(slots)), tuple(rest)


def on_border(piece: CutPiece, way: Spread, ways: Ways) -> tuple[Slot, ...]:
    """A piece with its hem on the border along the far selvedge, its grain across the cloth; nothing where it has no
    straight hem, or is longer than the cloth is wide."""
    if ways.cloth.border <= 0.0 or not piece.hem or way.depth is not None:
        return ()
    slots = []
    for slot in replace(ways, beats=lambda piece: (None, None)).single(piece):
        hem = next(m.at.real for m in slot.piece.marks if m.name == f"{piece.hem} start")
        middle = sum(p.real for p in slot.item.outline) / len(slot.item.outline)
        poses = tuple(Pose(270.0 if hem < middle else 90.0, hand) for hand in {p.mirrored for p in slot.item.poses})
        tops = [max(pose.of(p).imag for p in slot.item.outline) for pose in poses]
        item = replace(slot.item, poses=poses, origin_y=way.height - tops[0])
        if height_of(item) > way.height or max(tops) - min(tops) > 1e-6:
            return ()
        slots.append(replace(slot, item=item))
    return tuple(slots)


def clear_of_border(slot: Slot, way: Spread, border: float) -> Slot:
    """A piece that need not lie on the border keeps off it where it can."""
    if slot.item.origin_y is not None or height_of(slot.item) > way.height - border:
        return slot
    return replace(slot, item=replace(slot.item, band=(0.0, way.height - border)))


def cut_double(piece: CutPiece, cloth: Cloth) -> bool:
    """May two of it be cut through both layers at once?"""
    return not piece.on_fold and piece.count > 1 and (piece.mirrored or piece.even or not cloth.sided)


def height_of(item: Item) -> float:
    """Least room that an item takes across the cloth (mm)."""
    return min(max(ys) - min(ys) for ys in ([pose.of(p).imag for p in item.outline] for pose in item.poses))

"""Stripes and checks: which pieces have to lie in step, so that the cloth runs on across a seam.

Lengthways, the mark at which two pieces meet lies equally far from a main line on both; pieces that are sewn to each
other one after the other make a chain, and whichever seam would close it into a ring can only be looked at. Across, a
centre line lies on a main line, so that both hands of a pair show the same. (Common practice, no published source.)
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from toilewright.cutting.cloth import Cloth, Repeat
from toilewright.cutting.lay.certificate_repeat import STRIPE, Meeting
from toilewright.cutting.lay.plan import CutPiece
from toilewright.cutting.lay.sections import Part, Slot, Ways, key_of
from toilewright.errors import NameUnknown
from toilewright.packing.problem import Beat
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.units import show_length

Key = tuple[str, str]
"""Make and name of a piece."""

STEEP = 2.0
"""A seam that runs more than so many times as far across the cloth as along it is matched across."""


@dataclass(frozen=True, slots=True)
class Matching:
    """What is matched.

    Attributes:
        repeat: of the cloth.
        along: by piece, a mark and how far after a main line it lies (mm, along the cloth).
        across: by piece, a mark that lies on a main line.
        meetings: what the certificate has to look at.
        notes: what is matched, and what cannot be, in sentences.
    """

    repeat: Repeat = field(default_factory=Repeat)
    along: Mapping[Key, tuple[str, float]] = field(default_factory=dict)
    across: Mapping[Key, str] = field(default_factory=dict)
    meetings: tuple[Meeting, ...] = ()
    notes: tuple[str, ...] = ()

    def ways(self, cloth: Cloth) -> Ways:
        """How pieces may lie: what is matched lengthways lies one way, as marks keep their distances only so."""
        return Ways(cloth, self.beats, frozenset(self.along))

    def beats(self, piece: CutPiece) -> tuple[Beat | None, Beat | None]:
        """What a piece must meet, counted from the cut end and from the near selvedge of the open cloth."""
        key, repeat = (piece.make, piece.name), self.repeat
        along = across = None
        if key in self.along:
            mark, off = self.along[key]
            along = Beat(_at(piece, mark), (repeat.first_along + off) % repeat.along, repeat.along)
        if key in self.across:
            across = Beat(_at(piece, self.across[key]), repeat.first_across % repeat.across, repeat.across)
        return along, across

    def at(self, part: Part, start: float) -> Part:
        """A section with its repeats counted from where it starts along the cloth (mm), and from its fold."""
        if not self.along and not self.across:
            return part
        return replace(part, slots=tuple(_shifted(s, start, part.way.depth or 0.0) for s in part.slots))


def _shifted(slot: Slot, start: float, depth: float) -> Slot:
    x, y = slot.item.beat_x, slot.item.beat_y
    return replace(slot, item=replace(slot.item, beat_x=x and replace(x, phase=(x.phase - start) % x.pitch),
                                      beat_y=y and replace(y, phase=(y.phase - depth) % y.pitch)))


def matching_of(cloth: Cloth, places: Sequence[str], pieces: Sequence[CutPiece],
                garments: Sequence[tuple[str, Garment]]) -> Matching:
    """What a cloth with stripes or checks asks at the places where she wants them to meet.

    Args:
        places: names of seams and of centre lines, the most important first.
        garments: (make, its pieces with their seams).

    Raises:
        NameUnknown: there is no such seam or edge.
    """
    repeat = cloth.repeat
    if repeat.along <= 0.0 and repeat.across <= 0.0:
        said = ("Nothing repeats on the cloth, so nothing is matched on it; give its  repeat.",) if places else ()
        return Matching(notes=said)
    if not places:
        return Matching(notes=('The cloth has a repeat, but nothing is matched on it; say where it shall meet with a '
                               'line such as  match = ["centre front", "side seam"].',))
    work = _Work(repeat, {(p.make, p.name): p for p in pieces})
    for place in places:
        found = [work.seam(make, seam) for make, garment in garments for seam in _seams(garment, place)]
        if not found:
            found = [work.edge((p.make, p.name), edge) for p in pieces for edge in _edges(p, place)]
        if not found:
            raise NameUnknown.among("seam or edge", place, _known(pieces, garments), '"match"')
    return work.done()


def _seams(garment: Garment, place: str) -> Iterator[Seam]:
    """Seams of that name; "side seam" is the skirt's too."""
    for seam in garment.seams:
        if seam.name.lower() == place.lower() or seam.name.lower().endswith(f" {place.lower()}"):
            yield seam


def _edges(piece: CutPiece, place: str) -> Iterator[str]:
    """The edge of that name, where it runs along the grain, as a centre line does."""
    for mark in piece.marks:
        name = mark.name.removesuffix(" start")
        if mark.name.endswith(" start") and name.lower() == place.lower() and _runs_along(piece, name):
            yield name
            return


def _known(pieces: Sequence[CutPiece], garments: Sequence[tuple[str, Garment]]) -> list[str]:
    seams = [seam.name for _, garment in garments for seam in garment.seams]
    centres = [m.name.removesuffix(" start") for p in pieces for m in p.marks
               if m.name.startswith("centre ") and m.name.endswith(" start")]
    return list(dict.fromkeys([*centres, *seams]))


def _runs_along(piece: CutPiece, edge: str) -> bool:
    chord = _at(piece, f"{edge} end") - _at(piece, f"{edge} start")
    return abs(chord.imag) * 20 < abs(chord.real)


def _at(piece: CutPiece, mark: str) -> complex:
    return next(m.at for m in piece.marks if m.name == mark)


def _has(piece: CutPiece, mark: str) -> bool:
    return any(m.name == mark for m in piece.marks)


class _Work:
    """Pieces being put in step, place by place."""

    def __init__(self, repeat: Repeat, pieces: Mapping[Key, CutPiece]) -> None:
        self.repeat, self.pieces = repeat, pieces
        self.chain: dict[Key, Key] = {}  # the head of the chain that a piece hangs in
        self.phase: dict[Key, float] = {}  # of its origin, lengthways
        self.mark: dict[Key, str] = {}
        self.across: dict[Key, str] = {}
        self.meetings: list[Meeting] = []
        self.matched: dict[str, dict[str, None]] = {}
        self.notes: list[str] = []

    # -- one place ------------------------------------------------------------------------------

    def seam(self, make: str, seam: Seam) -> bool:
        """A seam: every two pieces that meet at a mark of it."""
        if seam.ratio is not None:
            self.notes.append(f'"{seam.name}" is gathered, so nothing can be matched along it.')
            return True
        pairs = [pair for a in seam.a for b in seam.b if (pair := self._pair(make, seam, a, b)) is not None]
        for one, other, marks in sorted(pairs, key=lambda pair: "front" not in pair[2][0]):  # the front shows most
            self._meet(seam.name, one, other, marks)
        return True

    def edge(self, key: Key, edge: str) -> bool:
        """A centre line: on a main line across; both hands of a pair alike lengthways."""
        mark = f"{edge} start"
        if self.repeat.across > 0.0:
            self._on_line(edge, key, mark)
        if self.repeat.along > 0.0 and self.pieces[key].mirrored:
            self._hang(key, mark)
            self.meetings.append(Meeting(edge, (key,) * 2, (mark,) * 2))
            self._say(edge, key)
        return True

    def _pair(self, make: str, seam: Seam, a: EdgeRef, b: EdgeRef) -> tuple[Key, Key, tuple[str, str]] | None:
        """The two pieces at a seam, and the marks at which they meet: a balance mark, the front one before others;
        without any, the lower end of the seam."""
        one, other = (make, a.piece), (make, b.piece)
        if one not in self.pieces or other not in self.pieces:
            return None
        first, second = self.pieces[one], self.pieces[other]
        mine, theirs = _notches(first, a.edge), _notches(second, b.edge)
        shared = sorted((n for n in mine if n in theirs), key=lambda n: ("front" not in n, n))
        if shared:
            return one, other, (mine[shared[0]], theirs[shared[0]])
        if len(seam.a) > 1 or len(seam.b) > 1:
            return None
        ends = [_end(first, a, start) for start in (True, False)]
        low = ends.index(min(ends, key=lambda name: _at(first, name).real))
        return one, other, (ends[low], _end(second, b, low == 0))

    def _meet(self, name: str, one: Key, other: Key, marks: tuple[str, str]) -> None:
        chord = _chord(self.pieces[one], marks[0], self.pieces[other], marks[1])
        if abs(chord.imag) > STEEP * abs(chord.real):
            if self.repeat.across > 0.0:
                for key, mark in zip((one, other), marks, strict=True):
                    self._on_line(name, key, mark)
            return
        if self.repeat.along <= 0.0:
            return
        at_one, at_other = (_at(self.pieces[k], m).real for k, m in zip((one, other), marks, strict=True))
        self._hang(one, marks[0])
        if other not in self.chain:
            self.chain[other] = self.chain[one]
            self.phase[other] = self.phase[one] + at_one - at_other
            self.mark[other] = marks[1]
        elif self.chain[other] != self.chain[one]:
            self._join(self.chain[other], self.chain[one], self.phase[one] + at_one - at_other - self.phase[other])
        off = self._apart(self.phase[one] + at_one - self.phase[other] - at_other, self.repeat.along)
        if off > STRIPE:
            self._cannot(name, one, other, off)
        else:
            self.meetings.append(Meeting(name, (one, other), marks))
            self._say(name, one, other)

    def _hang(self, key: Key, mark: str) -> None:
        """A piece that is in no chain yet begins one, its mark on a main line."""
        if key not in self.chain:
            self.chain[key], self.mark[key] = key, mark
            self.phase[key] = -_at(self.pieces[key], mark).real

    def _join(self, head: Key, to: Key, by: float) -> None:
        for key in [k for k, h in self.chain.items() if h == head]:
            self.chain[key] = to
            self.phase[key] += by

    def _on_line(self, name: str, key: Key, mark: str) -> None:
        piece = self.pieces[key]
        if key in self.across:
            off = self._apart(_at(piece, mark).imag - _at(piece, self.across[key]).imag, self.repeat.across)
            if off > STRIPE:
                self._cannot(name, key, key, off)
            return
        if piece.on_fold and _at(piece, mark).imag > STRIPE:
            off = self._apart(_at(piece, mark).imag, self.repeat.across)
            if off > STRIPE:
                self.notes.append(f'The lengthways stripes cannot be matched at "{name}" on "{key_of(piece)}", whose '
                                  f"fold lies on a main stripe: they are {show_length(off)} off there.")
                return
        self.across[key] = mark
        self.meetings.append(Meeting(name, (key,), (mark,), along=False, across=True))
        self._say(name, key)

    # -- what is said -----------------------------------------------------------------------------

    def _cannot(self, name: str, one: Key, other: Key, off: float) -> None:
        named = " and ".join(dict.fromkeys(f'"{key_of(self.pieces[k])}"' for k in (one, other)))
        self.notes.append(f'Stripes cannot meet at "{name}" as well ({named}), as places before it in the list decide '
                          f"how these lie: they are {show_length(off)} off there.")

    def _say(self, name: str, *keys: Key) -> None:
        self.matched.setdefault(name, {}).update(dict.fromkeys(key_of(self.pieces[k]) for k in keys))

    @staticmethod
    def _apart(a: float, pitch: float) -> float:
        off = abs(a) % pitch
        return min(off, pitch - off)

    def done(self) -> Matching:
        """Everything in step."""
        along = {k: (m, self.phase[k] + _at(self.pieces[k], m).real) for k, m in self.mark.items()}
        said = "; ".join(f"{name} ({', '.join(names)})" for name, names in self.matched.items())
        notes = [f"Matched: {said}."] if said else []
        if along:
            notes.append("Pieces that are matched lengthways all lie one way.")
        return Matching(self.repeat, along, dict(self.across), tuple(self.meetings), (*notes, *self.notes))


def _notches(piece: CutPiece, edge: str) -> dict[str, str]:
    """Balance marks of an edge, by their own names, with the names of their marks; marks that other edges share by
    name carry their edge's name."""
    found = {}
    for mark in piece.marks:
        if mark.edge == edge and not mark.name.endswith((" start", " end")):
            found[mark.name.removeprefix(f"{edge}: ")] = mark.name
    return found


def _end(piece: CutPiece, ref: EdgeRef, start: bool) -> str:
    return f"{ref.edge} {'start' if start != ref.reverse else 'end'}"


def _chord(one: CutPiece, mark: str, other: CutPiece, other_mark: str) -> complex:
    """Which way the seam runs: the chord of the edge that a mark lies on, of the side that runs more lengthways."""
    chords = []
    for piece, name in ((one, mark), (other, other_mark)):
        edge = next(m.edge for m in piece.marks if m.name == name)
        chords.append(_at(piece, f"{edge} end") - _at(piece, f"{edge} start"))
    return max(chords, key=lambda c: abs(c.real) / (abs(c.imag) + 1e-9))

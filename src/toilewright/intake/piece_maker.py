"""One named piece in one size, at the seam line, from its printed outline and its label."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from toilewright.cutting.allowances import seam_line
from toilewright.errors import Finding, GeometryError, Severity
from toilewright.geometry.meeting import line_meetings, ray_meeting
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, unit
from toilewright.intake.kinds import CORNER_NAMES, LINE_LANDMARKS, NOTCH_LANDMARKS
from toilewright.intake.label_types import EdgeLabel, PieceLabel
from toilewright.intake.piece_corners import Ring, leg_foot
from toilewright.intake.raw import RawDart, RawNotch, RawPiece
from toilewright.known import Origin
from toilewright.pattern.parts import Dart, Edge, EdgeKind, Grain, InnerLine, Landmark, Notch, Press
from toilewright.pattern.piece import Piece
from toilewright.pattern.truing import mouth, true_darts
from toilewright.tolerance import JOINT

MOUTH_OFF = 3.0
"""mm; a printed dart mouth farther than this from the one that is caught in the seam is reported."""

AT_FOOT = 3.0
"""mm; a notch this near to a dart's foot marks the dart, and is no notch of its own."""

NARROW = 1.0
"""mm; a dart narrower than this where it opens takes up nothing."""

PRESS_TELLS = 0.3
"""mm; the printed mouth shows which way a dart is pressed only when one way fits better by this much."""

BUST_DARTS = ("bust dart", "armhole dart", "shoulder dart", "neck dart", "waist dart")
"""Darts of a bodice front that aim at the bust point, the surest first."""

TOWARDS = {"side seam": "waist", "armhole": "side seam"}
"""The edge towards which darts on an edge are pressed (down; elsewhere towards the centre; common practice)."""


@dataclass(frozen=True, slots=True)
class Run:
    """One named edge of a ring: its label, its line as printed (mm), and where on the ring it begins (arc length)."""

    label: EdgeLabel
    path: Path
    begins: float


def runs_of(ring: Ring, labels: Sequence[EdgeLabel]) -> tuple[Run, ...]:
    """The stretches of a ring under their names; neighbours of one name become one edge."""
    edges = ring.edges
    groups: list[list[int]] = []
    for i, label in enumerate(labels):
        if groups and labels[groups[-1][0]].name == label.name:
            groups[-1].append(i)
        else:
            groups.append([i])
    if len(groups) > 1 and labels[groups[0][0]].name == labels[groups[-1][0]].name:
        groups[0] = groups.pop() + groups[0]
    begins = [c.s for c in ring.corners] or [0.0]
    return tuple(Run(labels[g[-1]], Path.joined([edges[i] for i in g]), begins[g[0]]) for g in groups)


@dataclass(frozen=True, slots=True)
class Marks:
    """Darts and notches of one piece in one size by edge, in order along it (mm on the printed line)."""

    darts: dict[str, list[tuple[float, RawDart]]]
    notches: dict[str, list[tuple[float, RawNotch]]]


def marks_on(raw: RawPiece, ring: Ring, runs: Sequence[Run]) -> Marks:
    """Which edge each dart and notch belongs to.

    Notches that only mark a dart's feet are left out, and what looks like one on a fold, where nothing is sewn.
    """
    darts: dict[str, list[tuple[float, RawDart]]] = {}
    length = ring.path.length
    for dart, (first, second) in zip(raw.darts, ring.mouths, strict=True):
        run, s = _run_at(runs, (first + second) / 2, length)
        darts.setdefault(run.label.name, []).append((s, dart))
    feet = [ring.path.point_at(s % length) for m in ring.mouths for s in m] if raw.notches else []
    notches: dict[str, list[tuple[float, RawNotch]]] = {}
    for notch in raw.notches:
        if any(abs(notch.at - foot) < AT_FOOT for foot in feet):
            continue
        run, s = _run_at(runs, ring.path.nearest(notch.at)[0], length)
        if run.label.kind is not EdgeKind.FOLD:
            notches.setdefault(run.label.name, []).append((s, notch))
    for found in (*darts.values(), *notches.values()):
        found.sort(key=lambda item: item[0])
    return Marks(darts, notches)


def _run_at(runs: Sequence[Run], s: float, length: float) -> tuple[Run, float]:
    """The run at an arc length of the ring, and the arc length on the run."""
    return min(((run, (s - run.begins) % length) for run in runs), key=lambda found: found[1])


def seam_paths(runs: Sequence[Run], at_seam: bool) -> tuple[Path, ...]:
    """The runs at the seam line; each starts exactly where the one before it ends.

    Raises:
        GeometryError: an edge vanishes when its allowance is taken off.
    """
    paths = [r.path for r in runs]
    if not at_seam:
        paths = list(seam_line(paths, [r.label.allowance for r in runs]))
    n = len(paths)
    return tuple(p.with_ends(end=paths[(i + 1) % n].start) if p.end != paths[(i + 1) % n].start else p
                 for i, p in enumerate(paths))


def make_piece(raw: RawPiece, runs: Sequence[Run], marks: Marks, label: PieceLabel,
               lines: Sequence[tuple[str, Path]], dart_names: dict[str, list[str]], notch_names: dict[str, list[str]],
               pressed: Mapping[str, Press], at_seam: bool) -> tuple[Piece, tuple[Finding, ...]]:
    """Build the piece.

    Args:
        marks: its darts and notches by edge.
        lines: its inner lines by name.
        dart_names, notch_names: for each edge the names, in order along it; "" leaves a notch out.
        pressed: for darts that other sizes show, which way they are pressed there.
        at_seam: the runs already are the seam line.

    Raises:
        GeometryError: the outline does not allow it.
    """
    paths = seam_paths(runs, at_seam)
    edges = tuple(Edge(r.label.name, p, r.label.kind, r.label.allowance) for r, p in zip(runs, paths, strict=True))
    notches = tuple(
        Notch(name, edge.name, edge.path.nearest(notch.at)[0], notch.count)
        for edge in edges
        for (_, notch), name in zip(marks.notches.get(edge.name, ()), notch_names.get(edge.name, ()), strict=False)
        if name)
    grain = Grain(*raw.grain) if raw.grain else None
    piece = Piece(label.name, edges, (), notches, grain, cut=label.cut)
    darts = tuple(
        _dart(edge.path, drawn, name, edge.name)
        for edge in edges
        for (_, drawn), name in zip(marks.darts.get(edge.name, ()), dart_names.get(edge.name, ()), strict=False)
        if name)
    wide = tuple(d for d in darts if d.end - d.start > NARROW)
    piece, findings = _with_darts(piece, wide, pressed, raw.size)
    findings += tuple(
        Finding("dart-narrow", f'The legs of the "{d.name}" on "{label.name}" in size {raw.size} meet its edge in one '
                "point; it was left out.", Severity.LOOK, label.name, d.edge, raw.size) for d in darts if d not in wide)
    lined = replace(piece, lines=tuple(InnerLine(name, _trimmed(path, piece)) for name, path in lines))
    return replace(lined, landmarks=landmarks_of(lined, label.bust_point_beyond)), findings


# -- darts ------------------------------------------------------------------------------------------


def _dart(path: Path, drawn: RawDart, name: str, edge: str) -> Dart:
    a, b = leg_foot(path, drawn.apex, drawn.first), leg_foot(path, drawn.apex, drawn.second)
    return Dart(name, edge, min(a, b), max(a, b), drawn.apex)


def _with_darts(piece: Piece, darts: Sequence[Dart], pressed: Mapping[str, Press],
                size: str) -> tuple[Piece, tuple[Finding, ...]]:
    """The piece with its darts trued, each pressed as in other sizes, as its mouth shows or as is usual."""
    if not darts:
        return piece, ()
    drawn = replace(piece, darts=tuple(darts))
    drawn = replace(drawn, darts=tuple(replace(d, press=pressed.get(d.name) or _press(drawn, d)) for d in darts))
    try:
        trued = true_darts(drawn)
    except GeometryError as problem:
        return drawn, (Finding("dart-untrue", f"In size {size}: {problem}", Severity.LOOK, piece.name, darts[0].edge,
                               size),)
    findings = []
    for dart in drawn.darts:
        after = trued.dart(dart.name)
        printed = drawn.edge(dart.edge).path.sub(dart.start, dart.end)
        caught = trued.edge(dart.edge).path.sub(after.start, after.end)
        off = _apart(printed, caught)
        if off > MOUTH_OFF:
            findings.append(Finding(
                "dart-mouth", f'The mouth of the "{dart.name}" on "{piece.name}" in size {size} is printed {off:.0f} '
                "mm away from where it is caught in the seam; it was redrawn as the folded dart asks: compare it.",
                Severity.NOTE if off < 3 * MOUTH_OFF else Severity.LOOK, piece.name, dart.edge, size, off, 0.0))
    return trued, tuple(findings)


def _press(piece: Piece, dart: Dart) -> Press:
    """The way of pressing whose mouth is the printed one; the usual way when the print does not tell."""
    usual = _usual_press(piece, dart)
    path = piece.edge(dart.edge).path
    printed = path.sub(dart.start, dart.end)
    off = {}
    for press in Press:
        try:
            run = path.sub(0.0, dart.start).reversed() if press is Press.TO_START else path.sub(dart.end, path.length)
            line = mouth(replace(dart, press=press), piece.feet(dart), run)
        except GeometryError:
            return usual
        off[press] = _apart(printed, line)
    best = min(off, key=lambda p: off[p])
    return best if abs(off[Press.TO_START] - off[Press.TO_END]) > PRESS_TELLS and off[best] < MOUTH_OFF else usual


def _apart(printed: Path, other: Path) -> float:
    """How far a printed mouth is from another, at its middle and half-way to it (mm)."""
    return max(other.nearest(printed.point_at(f * printed.length))[1] for f in (0.25, 0.5, 0.75))


def _usual_press(piece: Piece, dart: Dart) -> Press:
    """Towards the centre; on side seams and armholes down."""
    names = [e.name for e in piece.edges]
    i = names.index(dart.edge)
    before, after = names[i - 1], names[(i + 1) % len(names)]
    goal = TOWARDS.get(dart.edge)
    if goal in (before, after):
        return Press.TO_START if before == goal else Press.TO_END
    for start, neighbour in ((Press.TO_START, before), (Press.TO_END, after)):
        if neighbour.startswith("centre") or neighbour in ("wrap edge", "neck", "crotch seam"):
            return start
    return Press.TO_START


# -- landmarks and lines ----------------------------------------------------------------------------


def landmarks_of(piece: Piece, bust_point_beyond: float | None) -> tuple[Landmark, ...]:
    """Named corners, notches that mark a point of the body, and the bust point as the bust dart shows it."""
    found = []
    for i, edge in enumerate(piece.edges):
        pair = {piece.edges[i - 1].name, edge.name}
        name = next((n for a, b, n in CORNER_NAMES if pair == {a, b}), None)
        if name and not piece.name.endswith("facing"):
            found.append(Landmark(name, edge.path.start))
    for notch in piece.notches:
        name = NOTCH_LANDMARKS.get((notch.edge, notch.name))
        if name and all(m.name != name for m in found):
            found.append(Landmark(name, piece.edge(notch.edge).path.point_at(notch.at)))
    for line in piece.lines:
        for end in (line.path.start, line.path.end):
            edge = min(piece.edges, key=lambda e: e.path.nearest(end)[1])
            name = LINE_LANDMARKS.get((line.name, edge.name))
            if name and edge.path.nearest(end)[1] < AT_FOOT and all(m.name != name for m in found):
                found.append(Landmark(name, end))
    if bust_point_beyond is not None:
        at = _bust_point(piece, bust_point_beyond)
        if at is not None:
            found.append(Landmark("bust point", at, Origin.ESTIMATED))
    return tuple(found)


def _bust_point(piece: Piece, beyond: float) -> Point | None:
    """Beyond the bust dart's apex on its axis; where the waist dart's axis crosses that near there, their crossing."""
    aiming = sorted((d for d in piece.darts if d.name in BUST_DARTS), key=lambda d: BUST_DARTS.index(d.name))
    if not aiming:
        return None
    dart, other = aiming[0], aiming[-1]
    way = _axis(piece, dart)
    guess = dart.apex + way * beyond
    if other.name != BUST_DARTS[-1] or other is dart:
        return guess
    met = ray_meeting(dart.apex, way, other.apex, _axis(piece, other))
    if met is None or abs(met - guess) > beyond or dot(met - dart.apex, way) < 0:
        return guess
    return met if dot(met - other.apex, _axis(piece, other)) > 0 else guess


def _axis(piece: Piece, dart: Dart) -> Point:
    first, second = piece.feet(dart)
    return unit(dart.apex - (first + second) / 2)


def _trimmed(path: Path, piece: Piece) -> Path:
    """A straight inner line from seam line to seam line where it was drawn across the allowances."""
    if any(path.handles) or len(path.nodes) != 2:
        return path
    ring = piece.outline
    hits = sorted(m.on_second for m in line_meetings(ring, path.start, path.end))
    if len(hits) < 2:
        ends = [h for h in hits if JOINT < h < path.length - JOINT]
        if not ends:
            return path
        # One end runs over the seam line: the shorter part is what lies in the allowance.
        at = ends[0]
        return path.sub(0.0, at) if at > path.length / 2 else path.sub(at, path.length)
    low, high = hits[0], hits[-1]
    return path.sub(low, high) if high - low > path.length / 2 else path

"""One piece in all its sizes, from its printed outlines and its label."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from toilewright.errors import Finding, GeometryError, InputError, Severity
from toilewright.geometry.path import Path
from toilewright.geometry.point import dot, parallel
from toilewright.intake.correspond import Nest
from toilewright.intake.label_types import Labels, PieceLabel
from toilewright.intake.mark_names import ModelMarks, model_marks, numbered, paired
from toilewright.intake.piece_corners import Ring
from toilewright.intake.piece_maker import Run, make_piece, runs_of
from toilewright.intake.raw import RawPattern, RawPiece
from toilewright.pattern.parts import Press
from toilewright.pattern.piece import Piece

NAMELESS = "piece "
"""How the names begin of pieces that the sheet does not name."""

LINE_REACH = 0.2
"""Share of the piece's span within which a line of one size is the same line in another."""

LEVEL = 0.02
"""Sine of the angle within which inner lines run in one direction."""

NAMES = dict[str, list[str]]


def printed_names(raw: RawPattern) -> tuple[str, ...]:
    """The name of each piece on the sheet; pieces of one name are numbered."""
    return numbered([next(p.name for p in sizes if p is not None) for sizes in raw.pieces])


def make_nest(raws: Sequence[RawPiece | None], label: PieceLabel, labels: Labels, nest: Nest,
              only: Sequence[int] | None = None) -> tuple[tuple[Piece | None, ...], tuple[Finding, ...]]:
    """The piece in each size (None where it is missing or cannot be made), and what deserves a look.

    Args:
        only: numbers of the sizes to make; all when None.

    Raises:
        InputError: the label names other darts, notches or lines than the sheet shows.
    """
    model = raws[nest.model]
    model_runs = runs_of(nest.ring, label.edges)
    shown = model_marks(model, nest.ring, model_runs)
    _counted(label, model, shown)
    dart_names = _by_edge(shown.dart_runs, label.darts)
    notch_names = _by_edge(shown.notch_runs, label.notches)
    pressed: dict[str, Press] = {}

    def made(raw: RawPiece, ring: Ring) -> tuple[Piece | None, list[Finding]]:
        runs = model_runs if ring is nest.ring else runs_of(ring, label.edges)
        marks = shown if ring is nest.ring else model_marks(raw, ring, runs)
        darts, odd_darts = _carried(dart_names, shown.marks.darts, marks.marks.darts, model_runs, runs)
        notches, odd_notches = _carried(notch_names, shown.marks.notches, marks.marks.notches, model_runs, runs)
        odd = _odd(label.name, raw.size, "dart", odd_darts) + _odd(label.name, raw.size, "notch", odd_notches)
        lines = _lines_like(model, nest.ring, raw, ring, label.lines)
        at_seam = labels.line == "seam" or ring.drawn_seam
        try:
            piece, found = make_piece(raw, runs, marks.marks, label, lines, darts, notches, pressed, at_seam)
        except GeometryError:
            return None, [*odd, Finding(
                "piece-lost", f'"{label.name}" in size {raw.size} could not be brought to its seam line: an edge is '
                "too short or too bent for its allowance; check its allowances in the labels, and its outline.",
                Severity.STOP, label.name, None, raw.size)]
        pressed.update({d.name: d.press for d in piece.darts})
        return piece, [*odd, *found]

    # The largest size shows best which way a dart is pressed: it comes first, the others follow it.
    wanted = [i for i in range(len(raws)) if raws[i] is not None and (only is None or i in only)]
    results = {i: made(raws[i], nest.rings[i]) for i in reversed(wanted)}
    return (tuple(results[i][0] if i in results else None for i in range(len(raws))),
            told_once([f for i in wanted for f in results[i][1]]))


def told_once(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """One finding of a kind for each edge: the worst one, and in which other sizes it holds too."""
    groups: dict[tuple[str, str | None], list[Finding]] = {}
    for finding in findings:
        groups.setdefault((finding.code, finding.edge), []).append(finding)
    told = []
    for same in groups.values():
        worst = max(same, key=lambda f: abs((f.asked or 0.0) - (f.possible or 0.0)))
        others = [f.size for f in same if f is not worst and f.size]
        text = worst.text if not others else f"{worst.text} (Likewise size {', '.join(others)}.)"
        told.append(replace(worst, text=text))
    return tuple(told)


def _counted(label: PieceLabel, model: RawPiece, shown: ModelMarks) -> None:
    for what, said, there in (("darts", label.darts, len(shown.dart_runs)),
                              ("notches", label.notches, len(shown.notch_runs)),
                              ("lines", label.lines, len(model.lines))):
        if len(said) != there:
            raise InputError(f'The labels name {len(said)} {what} on "{label.name}" but the sheet shows {there}; give '
                             f'{there} names in the order of the outline ("" for one that is to be left out).')


def _by_edge(runs: Sequence[Run], names: Sequence[str]) -> NAMES:
    found: NAMES = {}
    for run, name in zip(runs, names, strict=True):
        found.setdefault(run.label.name, []).append(name)
    return found


def _carried(names: NAMES, model: dict, other: dict, model_runs: Sequence[Run],
             runs: Sequence[Run]) -> tuple[NAMES, list[tuple[str, int, int]]]:
    """The names of the model's marks given to another size's; and (edge, expected, found) where the counts differ."""
    carried: NAMES = {}
    odd = []
    for mine, run in zip(model_runs, runs, strict=True):
        edge = run.label.name
        want, have = model.get(edge, ()), other.get(edge, ())
        which = paired([s / mine.path.length for s, _ in want], [s / run.path.length for s, _ in have])
        carried[edge] = ["" if k is None else names[edge][k] for k in which]
        if len(want) != len(have):
            odd.append((edge, len(want), len(have)))
    return carried, odd


def _odd(piece: str, size: str, what: str, odd: Sequence[tuple[str, int, int]]) -> list[Finding]:
    plural = {"dart": "darts", "notch": "notches"}[what]
    return [Finding(f"{what}-missing" if have < want else f"{what}-extra",
                    f'Size {size} of "{piece}" shows {have} {plural if have != 1 else what} on "{edge}" where other '
                    f"sizes show {want}; look at the sheet there.",
                    Severity.LOOK, piece, edge, size, float(want), float(have))
            for edge, want, have in odd]


def _lines_like(model: RawPiece, model_ring: Ring, raw: RawPiece, ring: Ring,
                names: Sequence[str]) -> tuple[tuple[str, Path], ...]:
    """The inner lines of a size under the names of the model's lines that lie where they do."""
    found = same_lines(model, model_ring, raw, ring)
    return tuple((names[i], raw.lines[j][0]) for i, j in sorted(found.items()) if names[i])


def _in_order(raw: RawPiece, along: complex) -> list[int]:
    """The inner lines in order across a direction; empty when one of them does not run in it."""
    if not all(parallel(path.end - path.start, along, LEVEL) for path, _ in raw.lines):
        return []
    middles = [path.point_at(path.length / 2) for path, _ in raw.lines]
    return sorted(range(len(middles)), key=lambda i: dot(middles[i], along * 1j))


def same_lines(model: RawPiece, model_ring: Ring, raw: RawPiece, ring: Ring) -> dict[int, int]:
    """For each inner line of the model size the number of the line that lies where it does in another size.

    As many lines, all of one direction (the levels of a leg), are taken in order: what lies between them grows.
    """
    if len(model.lines) == len(raw.lines) > 1:
        along = model.lines[0][0].end - model.lines[0][0].start
        mine, theirs = _in_order(model, along), _in_order(raw, along)
        if mine and theirs:
            return dict(zip(mine, theirs, strict=True))

    def place(path: Path, on: Ring) -> complex:
        return (path.point_at(path.length / 2) - on.middle) / (on.span or 1.0)
    wanted = [place(path, model_ring) for path, _ in model.lines]
    have = [place(path, ring) for path, _ in raw.lines]
    found: dict[int, int] = {}
    for gap, i, j in sorted((abs(a - b), i, j) for i, a in enumerate(wanted) for j, b in enumerate(have)):
        if gap < LINE_REACH and i not in found and j not in found.values():
            found[i] = j
    return found

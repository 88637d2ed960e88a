"""Strips and extra pieces as plain values for machines and as lines for her; lengths in mm beside words in her unit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from toilewright.cutting.extra import KINDS, Figure, Kind, Sum
from toilewright.errors import Finding
from toilewright.make.finishing import Extra
from toilewright.make.outcome import Outcome
from toilewright.output.cards import in_her_unit
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.piece import Piece
from toilewright.units import show_length

Plain = dict[str, object]


def kinds_result(unit: str = "cm") -> Plain:
    """Every kind with its options, sources and worked examples, computed."""
    return {"kinds": [_kind(kind, unit) for kind in KINDS]}


def kinds_lines() -> list[str]:
    """Every kind with its options and examples, to be read."""
    lines = ["Strips and extra pieces. For sizes: toilewright strips KIND with its options; in a make file: [[extra]]."]
    for kind in KINDS:
        lines += ["", f"{kind.name}: {kind.says}"]
        lines += [f"  {o.name}{' (needed)' if o.needed else ''}: {o.says}" for o in kind.options]
        for example in kind.examples:
            said = " ".join(f'--{n.replace(" ", "-")} "{v}"' for n, v in example.options.items())
            lines.append(f"  Example: toilewright strips {kind.name.replace(' ', '-')} {said}  ({example.source})")
    return lines


def sum_result(kind: Kind, written: Mapping[str, str], worked: Sum, unit: str) -> Plain:
    """What one kind comes to, from numbers alone."""
    return {"kind": kind.name, "options": dict(written), **_worked(worked, unit), "sources": list(kind.sources)}


def sum_lines(kind: Kind, worked: Sum, unit: str) -> list[str]:
    """The same, to be read."""
    lines = [f"{kind.name}: {kind.says}", ""]
    lines += [f"  {_shown(f, unit):>12}  {f.says}" for f in worked.figures]
    lines += ["", *(f"  {n}. {in_her_unit(s, unit)}" for n, s in enumerate(worked.steps, 1))]
    return lines + [f"  Look: {f.text}" for f in worked.findings]


def extras_result(outcome: Outcome) -> Plain:
    """The extra pieces of a make: cut sizes, counts, grain, notches, partner, order of work."""
    garment, unit = outcome.altered.garment, outcome.sized.unit
    verdicts = {w.seam: w.verdict for w in outcome.walks}
    return {"title": outcome.sized.make.title, "unit": unit,
            "extras": [_extra(extra, garment, verdicts, unit) for extra in outcome.extras]}


def extras_lines(outcome: Outcome) -> list[str]:
    """The same, to be read."""
    if not outcome.extras:
        return ["This make has no extra pieces; add [[extra]] to its file (toilewright strips lists what there is)."]
    garment, unit = outcome.altered.garment, outcome.sized.unit
    lines = []
    for extra in outcome.extras:
        lines += [f"{extra.wish.kind}:"]
        for piece in extra.built.pieces:
            cut = cut_size(garment.piece(piece.name))
            lines.append(f"  {piece.name}: cut {piece.cut.count}, {show_length(cut[0], unit)} by "
                         f"{show_length(cut[1], unit)}, {grain_words(piece)}, of {piece.cut.cloth}")
        lines += [f"  sewn: {s.name}" for s in extra.built.seams]
        lines += [f"  {name} lies on {under}" for name, under in extra.built.laid]
        lines += [f"  {n}. {in_her_unit(s, unit)}" for n, s in enumerate(extra.built.worked.steps, 1)]
        lines += [f"  Look: {f.text}" for f in extra.built.worked.findings]
    return lines


# -- parts ------------------------------------------------------------------------------------------


def _kind(kind: Kind, unit: str) -> Plain:
    return {"kind": kind.name, "also": list(kind.aliases), "says": kind.says,
            "options": [o.as_dict(unit) for o in kind.options], "sources": list(kind.sources),
            "makes_pieces": kind.build is not None,
            "examples": [{"options": dict(e.options), "source": e.source,
                          **_worked(kind.work(kind.read(e.options, unit, "the example", alone=True)), unit)}
                         for e in kind.examples]}


def _worked(worked: Sum, unit: str) -> Plain:
    row: Plain = {}
    words: Plain = {}
    for f in worked.figures:
        row[f"{f.name}_mm" if f.length else f.name] = round(f.value, 3) if f.length else _plain(f.value)
        if f.spread is not None:
            row[f"{f.name}_plus_minus_mm"] = round(f.spread, 1)
        words[f.name] = f"{_shown(f, unit)}: {f.says}"
    return {**row, "words": words, "order_of_work": [in_her_unit(s, unit) for s in worked.steps],
            "findings": _findings(worked.findings)}


def _plain(value: float) -> float | int:
    return int(value) if value == int(value) else round(value, 4)


def _shown(figure: Figure, unit: str) -> str:
    if not figure.length:
        return f"{_plain(figure.value)}"
    sure = "" if figure.spread is None else f" ± {show_length(figure.spread, unit)}"
    return show_length(figure.value, unit) + sure


def _findings(found: Sequence[Finding]) -> list[Plain]:
    return [f.as_dict() for f in found]


def _extra(extra: Extra, garment: Garment, verdicts: Mapping[str, str], unit: str) -> Plain:
    built = extra.built
    return {"kind": extra.wish.kind,
            "pieces": [_piece(garment.piece(p.name), built.seams, built.laid, unit) for p in built.pieces],
            "seams": [{"name": s.name, "to": _words(s.a), "of": _words(s.b), "ratio": s.ratio,
                       "verdict": verdicts.get(s.name, "")} for s in built.seams],
            "changed": [p.name for p in built.changed], **_worked(built.worked, unit)}


def _piece(piece: Piece, seams: Sequence[Seam], laid: Sequence[tuple[str, str]], unit: str) -> Plain:
    length, width = cut_size(piece)
    return {"name": piece.name, "count": piece.cut.count, "mirrored": piece.cut.mirrored, "cloth": piece.cut.cloth,
            "cut_length_mm": round(length, 2), "cut_width_mm": round(width, 2),
            "cut": f"{show_length(length, unit)} by {show_length(width, unit)}", "on_fold": piece.on_fold,
            "grain": grain_words(piece),
            "notches": [{"name": n.name, "edge": n.edge, "at_mm": round(n.at, 2), "count": n.count}
                        for n in piece.notches],
            "partners": [_words(other) for s in seams for mine, other in ((s.b, s.a), (s.a, s.b))
                         if any(r.piece == piece.name for r in mine) and not any(r.piece == piece.name for r in other)],
            "lies_on": [under for name, under in laid if name == piece.name]}


def _words(refs: Sequence[EdgeRef]) -> list[Plain]:
    seen: dict[tuple[str, str], int] = {}
    for ref in refs:
        seen[ref.piece, ref.edge] = seen.get((ref.piece, ref.edge), 0) + ref.times
    return [{"piece": p, "edge": e, "times": n} for (p, e), n in seen.items()]


def cut_size(piece: Piece) -> tuple[float, float]:
    """Length and width of the box that a piece is cut in, as it is drawn (mm), allowances and both halves in it.

    Length is the longer of the two. A strip whose ends lie slanted takes its whole reach, from point to point.
    """
    across, up = _box(piece)
    return max(across, up), min(across, up)


def _box(piece: Piece) -> tuple[float, float]:
    """Across and up the piece as it is drawn (mm); opened out where it is half of itself."""
    from toilewright.cutting.allowances import cutting_line

    boxes = [path.bounds for path in cutting_line(piece)]
    across = max(b[2] for b in boxes) - min(b[0] for b in boxes)
    up = max(b[3] for b in boxes) - min(b[1] for b in boxes)
    fold = next((e.path for e in piece.edges if e.kind is EdgeKind.FOLD), None)
    if fold is None:
        return across, up
    way = fold.end - fold.start
    return (across, 2 * up) if abs(way.real) > abs(way.imag) else (2 * across, up)


def grain_words(piece: Piece) -> str:
    """How its grain runs, in words."""
    if piece.grain is None:
        return "any way"
    way = piece.grain.end - piece.grain.start
    across, up = abs(way.real), abs(way.imag)
    if min(across, up) > 0.5 * max(across, up):
        return "on the bias"
    box = _box(piece)
    return "grain along its length" if (across > up) == (box[0] >= box[1]) else "grain across its length"

"""Guessed labels: names of pieces, edges, darts, notches and seams, for her to confirm or correct."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from statistics import median

from toilewright.geometry.path import Path
from toilewright.geometry.point import parallel
from toilewright.intake.amounts import edge_amount
from toilewright.intake.captions import caption_lines
from toilewright.intake.charts import read_chart
from toilewright.intake.correspond import Nest, correspond
from toilewright.intake.kinds import NOTCH_NAMES, UNFOLDED, EdgeSpec, kind_of_name, line_name, shapes_of
from toilewright.intake.label_types import USUAL_ALLOWANCE, EdgeLabel, Labels, PieceLabel, SeamLabel
from toilewright.intake.labels_file import write_labels
from toilewright.intake.labels_reader import read_labels
from toilewright.intake.mark_names import cap_notches, dart_name, model_marks, numbered
from toilewright.intake.naming import Naming, guess_kind, name_edges, on_fold
from toilewright.intake.nest_maker import NAMELESS, make_nest, printed_names, same_lines
from toilewright.intake.piece_maker import BUST_DARTS, Run, runs_of
from toilewright.intake.raw import RawPattern, RawPiece
from toilewright.intake.seam_guess import guess_seams
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Cut, EdgeKind

__all__ = ["EdgeLabel", "Labels", "PieceLabel", "SeamLabel", "guess_labels", "read_labels", "write_labels"]

BUST_POINT_BEYOND = 25.0
"""mm; how far the bust point lies beyond a bust dart's apex (common practice, no published source)."""

WAIST_DART_STOPS = 18.0
"""mm; the same for a front with a waist dart only (15 to 20; common practice, no published source)."""

SOFT = 0.1
"""Price of a shape that makes a corner of a soft bend."""

BELOW_WAIST = 60.0
"""mm; a bodice that runs on so far below the line of its waist or hip ends in a hem."""

FAR = 50.0
"""mm; taken where the words along a line stand in pieces."""

DOUBLE = 20.0
"""mm; the two lines of a double line lie no farther apart."""

_NO_TITLE = re.compile(r"^\s*(?:units?|author|sample size|grade|creation|product|version|date|sizes?|test|print|scale|"
                       r"page|grö(?:ß|ss)e|gr|taille)\b|allowance|nahtzugabe|couture", re.I)
_TITLED = re.compile(r"^\s*(?:style(?:\s+name)?|title|name)\s*:\s*", re.I)
_CLOTH = re.compile(r"(?:recommended |suitable )?(?:cloth|fabrics?|stoffe?|stoffempfehlung|tissus?)\s*:\s*(.+)", re.I)

SEWN_HEMS = {"skirt front": "skirt tier", "skirt back": "skirt tier", "sleeve": "sleeve frill"}
"""Pieces whose hem is sewn to another piece, when the pattern has that one."""


@dataclass(frozen=True)
class _Guess:
    """One piece, matched across its sizes and named."""

    printed: str
    name: str
    raws: tuple[RawPiece | None, ...]
    nest: Nest
    naming: Naming

    @property
    def model(self) -> RawPiece:
        return self.raws[self.nest.model]  # type: ignore[return-value]


def guess_labels(raw: RawPattern) -> Labels:
    """Names and amounts for everything on the sheet, as far as words, marks and shapes tell."""
    allowance = raw.allowance if raw.allowance else USUAL_ALLOWANCE
    guesses = _named(raw)
    present = {g.naming.kind.name for g in guesses if g.naming.kind}
    pieces = tuple(_piece_label(g, raw, allowance, present) for g in guesses)
    labels = Labels(_title(raw), allowance, raw.line, tuple((s, s) for s in raw.sizes), pieces, (), read_chart(raw),
                    _cloth(raw))
    return replace(labels, seams=_seams(raw, labels, guesses))


def _named(raw: RawPattern) -> list[_Guess]:
    """Kinds by name first; pieces without a name then take, best fit first, what is left."""
    names = printed_names(raw)
    said = [kind_of_name(name) for name in names]
    panels = any(kind and kind.startswith("bodice side") for kind in said)
    found = {name: _matched(raws, kind, panels) for name, raws, kind in zip(names, raw.pieces, said, strict=True)}
    taken = {naming.kind.name for _, naming in found.values() if naming.kind}
    nameless = [n for n in names if found[n][1].kind is None and n.startswith(NAMELESS)]
    models = dict(zip(names, raw.pieces, strict=True))
    for name in sorted(nameless, key=lambda n: _by_shape(models[n], found[n][0], ()).price):
        naming = _by_shape(models[name], found[name][0], taken)
        if naming.kind:
            found[name] = (found[name][0], naming)
            taken.add(naming.kind.name)
    guesses: list[_Guess] = []
    for name, raws in zip(names, raw.pieces, strict=True):
        nest, naming = found[name]
        usual = naming.kind.name if naming.kind else name
        own = usual if all(g.name != usual for g in guesses) else name
        guesses.append(_Guess(name, own, raws, nest, naming))
    return guesses


def _by_shape(raws: Sequence[RawPiece | None], nest: Nest, taken: Collection[str]) -> Naming:
    return guess_kind(raws[nest.model], nest.ring, taken)


def _matched(raws: Sequence[RawPiece | None], said: str | None, panels: bool) -> tuple[Nest, Naming]:
    """The piece's corners in all sizes, and its edges' names; soft corners are used where its kind needs them."""
    plain = correspond(raws)
    best, least = (plain, name_edges(raws[plain.model], plain.ring, None)), float("inf")
    for kind in shapes_of(said, _below_waist(raws), panels):
        lacking = len(kind.edges) - len(plain.ring.corners)
        needs_soft = 0 < lacking <= len(plain.ring.soft)
        nest = correspond(raws, len(kind.edges)) if needs_soft else plain
        naming = name_edges(raws[nest.model], nest.ring, kind)
        price = naming.price + SOFT * needs_soft
        if naming.kind and price < least:
            best, least = (nest, naming), price
    return best


def _below_waist(raws: Sequence[RawPiece | None]) -> bool:
    """Does a piece show its waist or its hip well inside its outline?"""
    return any(line_name(words) in ("waist line", "hip line") and _well_inside(path, raw.outline)
               for raw in raws if raw for path, words in raw.lines)


def _well_inside(path: Path, outline: Path) -> bool:
    """Is the middle of a line so far from the outline that it is no lower edge?"""
    return outline.nearest(path.point_at(path.length / 2))[1] > BELOW_WAIST


def _title(raw: RawPattern) -> str:
    """The largest words on the sheet that belong to no piece."""
    words = [w for w in raw.words if len(re.findall(r"[^\W\d_]{3}", w.text)) and not _NO_TITLE.search(w.text)]
    return _TITLED.sub("", max(words, key=lambda w: w.height).text).strip() if words else "Pattern"


def _cloth(raw: RawPattern) -> str:
    """What the sheet recommends."""
    said = (_CLOTH.match(line.text) for line in caption_lines(raw.words))
    return next((found[1].strip(" .") for found in said if found), "")


def _piece_label(guess: _Guess, raw: RawPattern, allowance: float, present: set[str]) -> PieceLabel:
    model, ring, naming = guess.model, guess.nest.ring, guess.naming
    specs = {s.name: s for s in naming.kind.edges} if naming.kind else {}
    edges = []
    for i, name in enumerate(naming.names):
        corner = ring.corners[i].at if ring.corners else ring.path.start
        fold = on_fold(model, ring.edges[i], ring.drawn_seam)
        kind = _edge_kind(specs.get(name), fold, guess, present)
        edges.append(EdgeLabel(
            name if fold or not naming.kind else UNFOLDED.get((naming.kind.name, name), name),
            kind, _allowance(name, kind, guess, i, raw, allowance), where(corner, ring.path.bounds)))
    runs = runs_of(ring, edges)
    marks = model_marks(model, ring, runs)
    way = 1 if naming.usual_hand else -1  # numbers run the same way on both hands
    darts = numbered([dart_name(run.label.name) for run in marks.dart_runs][::way])[::way]
    notches = numbered(_notch_names(guess, marks.notch_runs, marks.notch_places)[::way])[::way]
    return PieceLabel(
        guess.printed, guess.name, tuple(edges), darts, notches, _line_names(guess),
        _bust_point_beyond(guess.name, darts), _cut(guess))


def _bust_point_beyond(piece: str, darts: Sequence[str]) -> float | None:
    """How far beyond its dart's apex the bust point lies; None where no dart of a front shows it."""
    aiming = [d for d in darts if d in BUST_DARTS] if piece == "bodice front" else []
    if not aiming:
        return None
    return WAIST_DART_STOPS if set(aiming) == {"waist dart"} else BUST_POINT_BEYOND


def _edge_kind(spec: EdgeSpec | None, fold: bool, guess: _Guess, present: set[str]) -> EdgeKind:
    if fold:
        return EdgeKind.FOLD
    if spec is None:
        return EdgeKind.SEAM
    if spec.kind is EdgeKind.HEM and SEWN_HEMS.get(guess.naming.kind.name) in present:
        return EdgeKind.SEAM
    return spec.kind


def _allowance(name: str, kind: EdgeKind, guess: _Guess, stretch: int, raw: RawPattern, usual: float) -> float:
    """Measured where the sheet draws both lines, else what its words say, else the usual one."""
    model = guess.model
    if kind is EdgeKind.FOLD:
        return 0.0
    if guess.nest.ring.drawn_seam:
        path = guess.nest.ring.edges[stretch]
        return round(median(model.outline.nearest(path.point_at(f * path.length / 8))[1] for f in range(1, 8)), 1)
    said = edge_amount(model.words, name)
    if said is None and kind is EdgeKind.HEM:
        said = edge_amount(model.words, "hem") or edge_amount(raw.words, "hem")
    return usual if said is None else said


def where(at: complex, box: tuple[float, float, float, float]) -> str:
    """A place on a piece in words: ``lower left``, ``top right``, ``middle`` ...

    >>> where(1 + 99j, (0, 0, 100, 100))
    'top left'
    """
    x = (at.real - box[0]) / ((box[2] - box[0]) or 1.0)
    y = (at.imag - box[1]) / ((box[3] - box[1]) or 1.0)
    high = "lower" if y < 0.2 else "top" if y > 0.8 else ""
    side = "left" if x < 0.2 else "right" if x > 0.8 else ""
    level = high or ("middle" if side else ("upper middle" if y > 0.5 else "lower middle"))
    return f"{level} {side}".strip() if side else (f"{level} middle" if high else level)


def _notch_names(guess: _Guess, runs: Sequence[Run], places: Sequence[tuple[float, int]]) -> list[str]:
    """Names in the order of the outline."""
    naming = guess.naming
    kind = naming.kind.name if naming.kind else ""
    names = [""] * len(runs)
    for edge in dict.fromkeys(run.label.name for run in runs):
        mine = [i for i, run in enumerate(runs) if run.label.name == edge]
        order = mine if naming.usual_hand else mine[::-1]
        if edge == "cap":
            shares = [places[i][0] if naming.usual_hand else 1 - places[i][0] for i in order]
            usual = cap_notches([(f, places[i][1]) for f, i in zip(shares, order, strict=True)])
        else:
            usual = NOTCH_NAMES.get((kind, edge), ())
        if len(usual) != len(mine):
            usual = (f"{edge} notch",) * len(mine)
        for i, name in zip(order, usual, strict=True):
            names[i] = name
    return names


def _line_names(guess: _Guess) -> tuple[str, ...]:
    """Names from the words along the lines, in whichever size they stand; the second of a double line has none.

    Words count the more the nearer they stand: in a nest they are printed on the line of one size only.
    """
    said: list[Counter[str]] = [Counter() for _ in guess.model.lines]
    for raw, ring in zip(guess.raws, guess.nest.rings, strict=True):
        if raw is not None and ring is not None:
            for i, j in same_lines(guess.model, guess.nest.ring, raw, ring).items():
                name = line_name(raw.lines[j][1])
                if name:
                    said[i][name] += 1 / (1 + _away(raw, *raw.lines[j]))
    names = [words.most_common(1) for words in said]
    paths = [path for path, _ in guess.model.lines]
    twins = {i for i, name in enumerate(names) if not name
             and any(named and _beside(paths[i], paths[j]) for j, named in enumerate(names))}
    return numbered([name[0][0] if name else "" if i in twins else "line" for i, name in enumerate(names)])


def _away(raw: RawPiece, path: Path, words: str) -> float:
    """How far from a line the words stand that name it (mm)."""
    return min((path.nearest(w.at)[1] for w in raw.words if w.text == words), default=FAR)


def _beside(path: Path, other: Path) -> bool:
    """Is a line the second one of a double line (lengthen or shorten here)?"""
    along, way = path.end - path.start, other.end - other.start
    off = abs((path.start + path.end) - (other.start + other.end)) / 2
    return off < DOUBLE and parallel(along, way, 0.02) and abs(along) > 0.5 * abs(way)


def _cut(guess: _Guess) -> Cut:
    """As the words say; a piece with a left and a right side, not on the fold, is a pair unless they say otherwise."""
    model, kind = guess.model, guess.naming.kind
    sided = kind is not None and not kind.strip and model.fold is None
    count = model.cut_count or (2 if sided and model.mirrored is not False else 1)
    paired = model.mirrored if model.mirrored is not None else sided or (kind is None and model.fold is None)
    return Cut(count, paired and count % 2 == 0)


def _seams(raw: RawPattern, labels: Labels, guesses: Sequence[_Guess]) -> tuple[SeamLabel, ...]:
    """Seams among the pieces, judged in the smallest and the largest size."""
    probes = sorted({0, len(raw.sizes) - 1})
    made = [make_nest(raws, label, labels, g.nest, probes)[0]
            for g, raws, label in zip(guesses, raw.pieces, labels.pieces, strict=True)]
    garments = [Garment(tuple(m[i] for m in made if m[i] is not None)) for i in probes]
    other = {g.name: not g.naming.usual_hand for g in guesses}
    return guess_seams(garments, other)

"""Real ease: what the flat pieces measure once sewn, darts, overlaps and allowances left out, minus the body.

Girths are measured across the grain, within the seam lines, half a piece counted twice. The waist is measured along
the waist seam. What a garment has beyond the body is wearing ease and design ease together; ease must not be spent to
hide a missing alteration (Central Washington University, costume text, chapter 17).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from toilewright.body.tape import Body
from toilewright.fit.handbook import RULES, Rule, fit_class
from toilewright.fit.levels import (
    bodice_pieces,
    bust_levels,
    bust_point,
    bust_width,
    centre_edge,
    depth_below,
    first_of,
    fronts_first,
    place,
    skirt_pieces,
    upright,
    width_at,
)
from toilewright.geometry.point import Point
from toilewright.known import Known, Origin
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece
from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_length

LINE_ERROR = 0.3
"""mm; how far a printed line may be off (a wide pen line), for each width measured."""

HIP_DEPTH = 200.0
"""mm below the waist; where the hip is taken when neither the pieces nor the tape sheet say (common practice, no
published source)."""

_LENGTHS = {"back length": "back neck point to waist", "front length": "neck shoulder point to waist",
            "shoulder": "shoulder length"}


@dataclass(frozen=True, slots=True)
class Ease:
    """Garment and body at one place.

    Attributes:
        place: ``bust``, ``waist``, ``hip``, ``upper arm``, ``back length``, ``front length``, ``shoulder``; of a wrap
            skirt that comes with the garment ``waist, wrap skirt`` and ``hip, wrap skirt``.
        garment: measured off the pieces (mm).
        body: by tape, or None when it was not taken.
        minimum, usual: what the handbooks ask (mm), None where they say nothing.
        source: which handbooks.
        pieces: names of the pieces that take part.
        verdict: one sentence.
        enough: is it at least the minimum; None when that cannot be said.
    """

    place: str
    garment: Known
    body: Known | None
    minimum: float | None
    usual: tuple[float, float | None] | None
    source: str
    pieces: tuple[str, ...]
    verdict: str
    enough: bool | None

    @property
    def ease(self) -> Known | None:
        """Garment minus body, with the errors of both; None when the body was not measured there."""
        if self.body is None:
            return None
        spread = hypot(self.garment.spread or 0.0, self.body.spread or 0.0)
        return Known(self.garment.value - self.body.value, self.garment.origin, spread,
                     f"{self.garment.reason}, minus the body")


@dataclass(frozen=True, slots=True)
class Girth:
    """A size of the garment at one place, before a body is held against it."""

    place: str
    value: Known
    pieces: tuple[str, ...]


def measure_ease(garment: Garment, body: Body) -> tuple[Ease, ...]:
    """Real ease at every place that the pieces and the handbooks know (rows in the order of a fitting)."""
    depth = body.get("waist to hip")
    return tuple(ease_row(girth, body) for girth in measure_garment(garment, depth and depth.value))


def measure_garment(garment: Garment, hip_depth: float | None = None) -> tuple[Girth, ...]:
    """Girths and lengths of the garment once sewn (mm), at the seam line.

    Args:
        hip_depth: where the hip is on pieces without a hip line (mm below the waist); None for :data:`HIP_DEPTH`.
    """
    bodice = bodice_pieces(garment)
    found = [_bust(bodice), _waist(garment, bodice), _hip(garment, hip_depth), _upper_arm(garment),
             _back_length(bodice), _front_length(bodice), _shoulder(bodice)]
    wrap = skirt_pieces(garment, wrapped=True)
    if wrap:
        found += [_skirt_waist(garment, wrap, "waist, wrap skirt"), _hip_of(wrap, "hip, wrap skirt", hip_depth)]
    return tuple(g for g in found if g is not None)


def times(piece: Piece) -> int:
    """How often the drawn shape goes into one girth: a half counts twice.

    >>> from toilewright.blocks.concert import concert_dress
    >>> garment = concert_dress().at("4")
    >>> times(garment.piece("bodice front")), times(garment.piece("sleeve"))
    (2, 1)
    """
    if piece.has_edge("cap"):
        return 1
    half = piece.on_fold or centre_edge(piece) is not None or (piece.cut.mirrored and piece.cut.count >= 2)
    return 2 if half else 1


# -- girths ------------------------------------------------------------------------------------------


def _girth(where: str, parts: Sequence[tuple[Piece, float]], words: str,
           origin: Origin = Origin.READ, spread: float = 0.0) -> Girth | None:
    """Sum of (piece, width of the drawn shape)."""
    if not parts:
        return None
    total = sum(times(piece) * width for piece, width in parts)
    error = hypot(spread, *(LINE_ERROR * 2 * times(piece) for piece, _ in parts))
    names = tuple(piece.name for piece, _ in parts)
    return Girth(where, Known(total, origin, error, f"{words} of {' and '.join(names)}"), names)


def _bust(bodice: Sequence[Piece]) -> Girth | None:
    levels, origin = bust_levels(bodice)
    parts = [(piece, bust_width(piece, levels[piece.name])) for piece in map(upright, bodice) if piece.name in levels]
    if origin is None:
        return _girth("bust", parts, "at the underarm (no bust point is drawn), across the grain", spread=5.0)
    words = "at the bust point" if origin is Origin.READ else "at the bust point as the bust dart tells it"
    return _girth("bust", parts, f"{words}, across the grain", origin, 0.0 if origin is Origin.READ else 3.0)


def _waist(garment: Garment, bodice: Sequence[Piece]) -> Girth | None:
    seamed = [(p, _waist_seam(garment, p)) for p in bodice if p.has_edge("waist")]
    if seamed and len(seamed) == len(bodice):
        return _girth("waist", seamed, "along the waist seam, darts closed,")
    lined = [(p, _level_of(p, "waist line")) for p in map(upright, bodice)]
    if lined and all(level is not None for _, level in lined):
        return _girth("waist", [(p, width_at(p, level)) for p, level in lined if level is not None],
                      "at the waist line, across the grain, darts closed,")
    return _skirt_waist(garment, skirt_pieces(garment, wrapped=False), "waist") if not bodice else None


def _skirt_waist(garment: Garment, skirt: Sequence[Piece], where: str) -> Girth | None:
    return _girth(where, [(p, _waist_seam(garment, p)) for p in skirt],
                  "along the waist seam, darts closed and overlap left out,")


def _waist_seam(garment: Garment, piece: Piece) -> float:
    """Sewn length of the waist from the centre to the side; gathers drawn up."""
    edge = piece.edge("waist").path
    length = piece.sewn_length("waist")
    centre = _wrap_centre(piece)
    if centre is not None:
        at = edge.nearest(centre)[0]
        side = first_of(piece, "side waist")
        done = piece.sewn_at("waist", at)
        length = done if abs(edge.start - side) < abs(edge.end - side) else length - done
    ratio = next((s.ratio for s in garment.seams if s.ratio and any(
        r.piece == piece.name and r.edge == "waist" for r in s.b)), 1.0)
    return length / ratio


def _wrap_centre(piece: Piece) -> Point | None:
    """Where the centre crosses the waist of a piece that wraps beyond it; None for a piece that ends there."""
    if centre_edge(piece) is not None:
        return None
    drawn = piece.landmark("centre waist")
    if drawn is not None:
        return drawn
    notch = next((n for n in piece.notches if n.name == "centre notch" and n.edge == "waist"), None)
    return piece.edge("waist").path.point_at(notch.at) if notch else None


def _level_of(piece: Piece, name: str) -> float | None:
    line = piece.line(name)
    return None if line is None else (line.start.imag + line.end.imag) / 2


def _hip(garment: Garment, depth: float | None) -> Girth | None:
    skirt = skirt_pieces(garment, wrapped=False)
    whole = tuple(p for p in bodice_pieces(garment) if p.line("hip line") is not None)
    return _hip_of(whole or skirt, "hip", depth)


def _hip_of(pieces: Sequence[Piece], where: str, depth: float | None) -> Girth | None:
    parts, words, origin, spread = [], "at the hip line", Origin.READ, 0.0
    for piece in map(upright, pieces):
        level = _level_of(piece, "hip line")
        if level is None:
            waist = first_of(piece, "centre waist", "side waist")
            below = HIP_DEPTH if depth is None else depth
            level, words, spread = waist.imag - below, f"{below / 10:.1f} cm below the waist", 5.0
            origin = Origin.TRADE if depth is None else Origin.READ
        parts.append((piece, width_at(piece, level, _side_of_centre(piece))))
    return _girth(where, parts, f"{words}, across the grain,", origin, spread)


def _side_of_centre(piece: Piece) -> tuple[float, float] | None:
    """The part of a wrapping piece from the centre to the side; None for all of it."""
    centre, side = _wrap_centre(piece), place(piece, "side waist")
    if centre is None or side is None:
        return None
    return (centre.real, float("inf")) if side.real > centre.real else (float("-inf"), centre.real)


def _upper_arm(garment: Garment) -> Girth | None:
    sleeve = next((p for p in garment.pieces if p.has_edge("cap")), None)
    if sleeve is None:
        return None
    piece = upright(sleeve)
    level = _level_of(piece, "biceps line")
    if level is None:
        cap = piece.edge("cap").path
        level = min(cap.start.imag, cap.end.imag)
    # A hair lower: at the corners themselves the level only touches the cap.
    return _girth("upper arm", [(piece, width_at(piece, level - 1e-3))], "at the biceps line, across the grain,")


# -- lengths -----------------------------------------------------------------------------------------


def _back_length(bodice: Sequence[Piece]) -> Girth | None:
    back = next((p for p in bodice if p.has_edge("centre back") and p.has_edge("waist")), None)
    if back is None:
        return None
    return _length("back length", back.edge("centre back").path.length, "along the centre", back)


def _front_length(bodice: Sequence[Piece]) -> Girth | None:
    front = next((upright(p) for p in fronts_first(bodice) if bust_point(p) and p.has_edge("waist")), None)
    neck, spot = (place(front, "neck point"), bust_point(front)) if front else (None, None)
    if front is None or neck is None or spot is None:
        return None
    return _length("front length", abs(neck - spot.at) + _down_to_waist(front, spot.at),
                   "from the neck point over the bust point to the waist seam", front)


def _down_to_waist(front: Piece, bust: Point) -> float:
    """Down from the bust point; where the waist dart stands below it, along the dart's leg."""
    dart = next((d for d in front.darts_on("waist") if abs(d.apex.real - bust.real) < 30 and d.apex.imag < bust.imag),
                None)
    if dart is None:
        return depth_below(front, bust)
    return abs(bust - dart.apex) + sum(abs(f - dart.apex) for f in front.feet(dart)) / 2


def _shoulder(bodice: Sequence[Piece]) -> Girth | None:
    front = next((p for p in fronts_first(bodice) if p.has_edge("shoulder")), None)
    return _length("shoulder", front.sewn_length("shoulder"), "along the shoulder seam", front) if front else None


def _length(where: str, value: float, words: str, piece: Piece) -> Girth:
    return Girth(where, Known(value, Origin.READ, 2 * LINE_ERROR, f"{words} of {piece.name}"), (piece.name,))


# -- the body held against it ------------------------------------------------------------------------


def ease_row(girth: Girth, body: Body) -> Ease:
    """One row: the garment's size held against the body and the handbook."""
    base = girth.place.split(",")[0]
    rule = RULES.get(base)
    taken = body.get(rule.measure if rule else _LENGTHS[base])
    if taken is None:
        name = rule.measure if rule else _LENGTHS[base]
        text = f'The tape sheet has no "{name}", so the ease {_at(girth.place)} cannot be told.'
        return _row(girth, None, rule, text, None)
    ease = girth.value.value - taken.value
    if rule is None:
        return _row(girth, taken, None, _length_verdict(girth.place, ease, body.unit), None)
    return _row(girth, taken, rule, _girth_verdict(girth.place, ease, rule, body.unit), ease >= rule.minimum - 0.5)


def _row(girth: Girth, body: Known | None, rule: Rule | None, verdict: str, enough: bool | None) -> Ease:
    return Ease(girth.place, girth.value, body, rule.minimum if rule else None, rule.usual if rule else None,
                rule.source if rule else "", girth.pieces, verdict, enough)


def _girth_verdict(where: str, ease: float, rule: Rule, unit: str) -> str:
    low, high = rule.usual
    said = f"{show_length(ease, unit)} of ease {_at(where)}"
    asked = f"{show_length(low, unit)} to {show_length(high, unit)}" if high else f"{show_length(low, unit)} or more"
    fit = f' An envelope would call it "{fit_class(ease)}".' if where == "bust" else ""
    if "wrap" in where and not low - 0.5 <= ease <= (high or ease) + 0.5:
        fit = " It can be wrapped closer or wider."
    if ease < rule.minimum - 0.5:
        return (f"{said} is {show_length(rule.minimum - ease, unit)} less than the least that the handbooks allow "
                f"({show_length(rule.minimum, unit)}).{fit}")
    if ease < low - 0.5:
        return f"{said} is enough to wear, but closer than usual ({asked}).{fit}"
    if high is None or ease <= high + 0.5:
        return f"{said} is what the handbooks ask ({asked}).{fit}"
    return f"{said} is {show_length(ease - high, unit)} more than the handbooks ask ({asked}): that much is style.{fit}"


def _at(where: str) -> str:
    """A place in a sentence: "at the waist", "at the hip of the wrap skirt", "in the back length"."""
    base, _, skirt = where.partition(", ")
    return f"at the {base} of the {skirt}" if skirt else f"{'in' if base in _LENGTHS else 'at'} the {base}"


def _length_verdict(where: str, ease: float, unit: str) -> str:
    if where == "shoulder":
        off = f"{show_length(abs(ease), unit)} {'longer' if ease > 0 else 'shorter'} than"
        return (f"The shoulder seam is {off if abs(ease) >= 0.5 else 'as long as'} the body's shoulder; a set-in "
                "sleeve's seam ends just before the bone.")
    if ease < -WORTH_DOING:
        return f"The {where} is {show_length(-ease, unit)} shorter than the body."
    if ease <= 3 * WORTH_DOING:
        return f"The {where} is right within {show_length(3 * WORTH_DOING, unit)}."
    return f"The {where} is {show_length(ease, unit)} longer than the body."

"""What the page of the walk shows: every seam with both its sides, what is right about it and what is to be done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees, pi
from urllib.parse import quote

from toilewright.app.ease_pictures import lens_picture, seam_picture
from toilewright.app.words import inches, say
from toilewright.make.outcome import Outcome
from toilewright.pattern.garment import Seam
from toilewright.pattern.walk import SeamWalk
from toilewright.tolerance import CORNER, SEWS
from toilewright.units import show_length

EASED = 2 * SEWS
"""mm; sides that differ by less are called equal."""


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a seam: its edges, its length now and as bought."""

    edges: str
    length: str
    bought: str


@dataclass(frozen=True, slots=True)
class Notch:
    """One pair of balance marks in words, and whether they meet."""

    name: str
    words: str
    meets: bool


@dataclass(frozen=True, slots=True)
class Cause:
    """What a seam that does not sew comes from: a sentence, and where it is put right."""

    text: str
    words: str
    address: str


@dataclass(frozen=True, slots=True)
class SeamRow:
    """One seam.

    Attributes:
        key: its name without spaces, for ids.
        state: ``stop`` (does not sew), ``look`` (sews, but look at a corner or a mark), ``sews``.
        how: how the two sides are sewn to each other, or what is too long.
        allowed: what may differ, in words.
        bought: how it was as bought, when that is not as it is now; else "".
        angles: at its start and end, in words; empty where more than two pieces meet.
        causes: only of a seam that does not sew, or less well than as bought.
        whole, lens: drawings.
    """

    name: str
    key: str
    state: str
    a: Side
    b: Side
    how: str
    allowed: str
    bought: str
    notches: tuple[Notch, ...]
    angles: tuple[str, ...]
    causes: tuple[Cause, ...]
    whole: str
    lens: str


def seam_rows(outcome: Outcome, make_id: str) -> tuple[SeamRow, ...]:
    """Every seam; those that do not sew first, then those to look at, then the others in their order."""
    seams = {s.name: s for s in outcome.altered.garment.seams}
    bought = {w.seam: w for w in outcome.walks_before}
    rows = [_row(outcome, make_id, w, bought.get(w.seam), seams[w.seam]) for w in outcome.walks]
    return tuple(sorted(rows, key=lambda r: ("stop", "look", "sews").index(r.state)))


def _row(outcome: Outcome, make_id: str, w: SeamWalk, old: SeamWalk | None, seam: Seam) -> SeamRow:
    unit = outcome.sized.unit
    notches = tuple(Notch(n.name, say("walk.meets" if w.meets(n) else "walk.off", by=small(abs(n.offset), unit)),
                          w.meets(n)) for n in w.notches)
    state = "stop" if not w.sews else "look" if w.note or not all(n.meets for n in notches) else "sews"
    how = how_sewn(w, unit)
    flat = w.length_b - w.difference if _gathered(w) else None
    marks = [(n.at_a, n.at_b, w.meets(n)) for n in w.notches]
    label = say("walk.picture", a=w.sides[0], b=w.sides[1], how=how)
    whole = seam_picture(w.length_a, w.length_b, w.length_b if flat is None else w.length_a + w.difference, marks,
                         label)
    low, high = w.allowed
    lens = lens_picture(w.difference, (low - SEWS, high + SEWS), w.sews,
                        say("walk.lens", allowed=allowed_words(w, unit), how=how))
    return SeamRow(
        w.seam, w.seam.replace(" ", "-"), state, _side(w, old, 0, unit), _side(w, old, 1, unit), how,
        allowed_words(w, unit), _as_bought(w, old, unit), notches, _angles(w),
        _causes(outcome, make_id, w, old, seam) if state == "stop" else (), whole, lens)


def _gathered(w: SeamWalk) -> bool:
    return abs(w.length_b - w.difference - w.length_a) > SEWS


def _side(w: SeamWalk, old: SeamWalk | None, which: int, unit: str) -> Side:
    def length(one: SeamWalk) -> str:
        return show_length(one.length_b if which else one.length_a, unit)

    return Side(w.sides[which], length(w), length(old) if old else "")


def small(mm: float, unit: str) -> str:
    """A small difference: in millimetres, or in eighths of an inch.

    >>> small(8.04, "cm"), small(8.04, "in")
    ('8 mm', '3/8 in')
    """
    if unit == "in":
        return inches(mm)
    return f"{round(mm, 1):g} mm"


def how_sewn(w: SeamWalk, unit: str) -> str:
    """How the second side is sewn to the first, or by how much it is too long or too short."""
    if not w.sews:
        over = w.difference - w.allowed[1] if w.difference > w.allowed[1] else w.difference - w.allowed[0]
        return say("walk.too_long" if over > 0 else "walk.too_short", by=small(abs(over), unit), a=w.sides[0],
                   b=w.sides[1])
    if _gathered(w):
        return say("walk.gathered", ratio=f"{(w.length_b - w.difference) / w.length_a:.2g}")
    if abs(w.difference) < EASED:
        return say("walk.equal")
    return say("walk.eased" if w.difference > 0 else "walk.shorter", by=small(abs(w.difference), unit))


def allowed_words(w: SeamWalk, unit: str) -> str:
    """What the second side may be longer or shorter."""
    low, high = w.allowed
    if _gathered(w):
        return say("walk.allowed_gathers", by=small(high, unit))
    if high - low < EASED and abs(low) < EASED:
        return say("walk.allowed_none", by=small(SEWS, unit))
    return say("walk.allowed", low=small(low, unit), high=small(high, unit))


def _as_bought(w: SeamWalk, old: SeamWalk | None, unit: str) -> str:
    if old is None:
        return ""
    if abs(old.length_a - w.length_a) < 0.1 and abs(old.length_b - w.length_b) < 0.1:
        return say("walk.as_bought_same")
    return say("walk.as_bought", a=show_length(old.length_a, unit), b=show_length(old.length_b, unit),
               how=how_sewn(old, unit))


def _angles(w: SeamWalk) -> tuple[str, ...]:
    return tuple(say("walk.corner" if abs(angle - pi) > CORNER else "walk.smooth", where=say(f"walk.at_{where}"),
                     angle=f"{degrees(angle):.0f}")
                 for where, angle in zip(("start", "end"), w.angles, strict=True) if angle is not None)


def _causes(outcome: Outcome, make_id: str, w: SeamWalk, old: SeamWalk | None, seam: Seam) -> tuple[Cause, ...]:
    """Names, where it was bought so; else the alterations that changed one of its pieces, last one first."""
    if old is not None and not old.sews:
        return (Cause(say("walk.cause_names"), say("walk.to_names"), f"/make/{make_id}/pattern"),)
    pieces = {r.piece for r in (*seam.a, *seam.b)}
    return tuple(Cause(say("walk.cause_alteration", name=_headed(d.order.name), pieces=_listed(d.changed, pieces)),
                       say("walk.to_alteration", name=d.order.name), f"/make/{make_id}/alter#{quote(d.order.name)}")
                 for d in reversed(outcome.altered.done) if pieces & set(d.changed))


def _listed(changed: Sequence[str], pieces: set[str]) -> str:
    return ", ".join(name for name in changed if name in pieces)


def _headed(name: str) -> str:
    """As the beginning of a sentence."""
    return name[:1].upper() + name[1:]

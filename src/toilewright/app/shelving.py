"""Cloths as the shelf shows them: what is known of each in words, what stands in its fields, and how it looks."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from toilewright.app.figures import drawing
from toilewright.app.words import say
from toilewright.errors import InputError
from toilewright.units import show_length
from toilewright.workroom.cloths import shrinkage
from toilewright.workroom.documents import ClothDoc

DRAPES = ("stiff", "crisp", "soft", "fluid", "stretchy")
"""How a cloth hangs, in a word; what each means stands in the catalogue."""

GRAMS_PER_OUNCE = 28.349523125 / (0.9144 * 0.9144)
"""g/m² in one oz/yd² (exact, by definition of pound and yard)."""

METRES_PER_YARD = 0.9144

SMALL = ("repeat_along", "repeat_across", "first_along", "first_across", "border")
"""Lengths that are nothing where they are not written."""

_ROOM = (330.0, 210.0)
"""px; of the picture of a cloth."""


def facts(cloth: ClothDoc, unit: str) -> list[str]:
    """What is known of a cloth, in a few words each."""
    long = "yd" if unit == "in" else "m"
    found = [cloth.fibre]
    if cloth.width is not None:
        found.append(say("shelf.fact_width", width=show_length(cloth.width, unit)))
    if cloth.length is not None:
        found.append(say("shelf.fact_length", length=show_length(cloth.length, long)))
    if cloth.weight is not None:
        found.append(say("shelf.fact_weight_" + unit, weight=weight_shown(cloth.weight, unit)))
    if cloth.drape in DRAPES:
        found.append(say("shelf.drape_" + cloth.drape))
    elif cloth.drape:
        found.append(cloth.drape)
    found.append(say("shelf.washed" if cloth.washed else "shelf.not_washed"))
    return [words for words in (*found, *_as_cut(cloth, unit)) if words]


def _as_cut(cloth: ClothDoc, unit: str) -> list[str]:
    """What matters when it is laid out."""
    found = [say("shelf.fact_one_way")] if cloth.one_way else []
    if not cloth.sided:
        found.append(say("shelf.fact_same_sides"))
    if cloth.repeat_along or cloth.repeat_across:
        found.append(say("shelf.fact_repeat"))
    if cloth.border:
        found.append(say("shelf.fact_border", depth=show_length(cloth.border, unit)))
    if cloth.flaws:
        found.append(say("shelf.fact_flaws", n=len(cloth.flaws)))
    if cloth.outline:
        found.append(say("shelf.fact_remnant"))
    if cloth.price is not None:
        found.append(say("shelf.fact_price_" + unit, price=price_shown(cloth.price, unit)))
    return found


@dataclass(frozen=True, slots=True)
class Washed:
    """What a washed square says.

    Attributes:
        wrong: is it a square that cannot be?
    """

    text: str
    wrong: bool = False


def washed(cloth: ClothDoc) -> Washed | None:
    """What washing takes of a cloth, in words; None while no square was measured."""
    try:
        along, across = shrinkage(cloth)
    except InputError as problem:
        return Washed(str(problem), True)
    if along is None and across is None:
        return None
    known = [say(("shelf.less_" if part >= 0.0 else "shelf.more_") + way, n=f"{100 * abs(part):.1f}".removesuffix(".0"))
             for way, part in (("along", along), ("across", across)) if part is not None]
    return Washed(say("shelf.shrinks_done" if cloth.washed else "shelf.shrinks", parts=", ".join(known)))


def fields(cloth: ClothDoc, unit: str) -> dict[str, str]:
    """Lengths, weight, parts and price as they stand in the fields, without their unit."""
    long = "yd" if unit == "in" else "m"
    found = {"width": _number(cloth.width, unit), "length": _number(cloth.length, long),
             "weight": "" if cloth.weight is None else weight_shown(cloth.weight, unit),
             "price": "" if cloth.price is None else price_shown(cloth.price, unit)}
    for name in SMALL:
        found[name] = _number(getattr(cloth, name) or None, unit)
    for name in ("before", "along", "across"):
        found["square_" + name] = _number(cloth.square.get(name), unit)
    for name in ("stretch_along", "stretch_across"):
        part = getattr(cloth, name)
        found[name] = "" if part is None else f"{100 * part:.3g}"
    return found


def _number(mm: float | None, unit: str) -> str:
    return "" if mm is None else show_length(mm, unit).rpartition(" ")[0]


def weight_shown(grams: float, unit: str) -> str:
    """Grams per square metre, or ounces per square yard, as a number."""
    return f"{grams / GRAMS_PER_OUNCE:.1f}" if unit == "in" else f"{grams:.0f}"


def price_shown(price: float, unit: str) -> str:
    """The price of one metre, or of one yard, as a number."""
    return f"{price * METRES_PER_YARD if unit == 'in' else price:.2f}"


def flaws_shown(cloth: ClothDoc, unit: str) -> list[tuple[str, str]]:
    """Every flaw: the id of its row, and where it lies."""
    return [(f.id, say("shelf.flaw_at", x=show_length(f.x, unit), y=show_length(f.y, unit),
                       along=show_length(f.along, unit), across=show_length(f.across, unit))) for f in cloth.flaws]


def corners_shown(cloth: ClothDoc, unit: str) -> list[tuple[int, str]]:
    """Every corner of a remnant: its place in the list, and where it lies."""
    return [(n, say("shelf.corner_at", x=show_length(x, unit), y=show_length(y, unit)))
            for n, (x, y) in enumerate(cloth.outline)]


def picture(cloth: ClothDoc) -> Markup | None:
    """A cloth with its flaws, its stripes and a remnant's shape; None where there is none of them to be seen.

    The cut end is on the left, the near selvedge below, as it lies on the table before her.
    """
    if not (cloth.flaws or cloth.outline or cloth.repeat_along or cloth.repeat_across or cloth.border):
        return None
    corners = cloth.outline if len(cloth.outline) > 2 else ()
    wide = _size(cloth.width, [y for _, y in corners] + [f.y + f.across for f in cloth.flaws], 1400.0)
    long = _size(cloth.length, [x for x, _ in corners] + [f.x + f.along for f in cloth.flaws], 1.2 * wide)
    scale = min(_ROOM[0] / long, _ROOM[1] / wide)
    corners = corners or ((0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide))
    inside = _polygon("ground", corners) + _lines(cloth, long, wide, 4.0 / scale)
    if cloth.border:
        inside += _polygon("border", ((0, wide - cloth.border), (long, wide - cloth.border), (long, wide), (0, wide)))
    for f in cloth.flaws:
        inside += _polygon("flaw", ((f.x, f.y), (f.x + f.along, f.y), (f.x + f.along, f.y + f.across),
                                    (f.x, f.y + f.across)))
    air = 4.0 / scale
    box = (min(0.0, *(x for x, _ in corners)) - air, min(0.0, *(y for _, y in corners)) - air, long + air, wide + air)
    return drawing(inside, box, scale, say("shelf.picture_of", name=cloth.name), "figure cloth-picture")


def _size(known: float | None, reached: list[float], usual: float) -> float:
    """How long or wide a cloth is drawn: as she wrote, at least as far as anything on it reaches (mm)."""
    return max([known or 0.0, *reached]) or usual


def _polygon(name: str, corners: tuple[tuple[float, float], ...]) -> str:
    points = " ".join(f"{x:.1f},{-y:.1f}" for x, y in corners)
    return f'<polygon class="{name}" points="{points}"/>'


def _lines(cloth: ClothDoc, long: float, wide: float, closest: float) -> str:
    """The main lines of its repeat; none where they would lie too close to be seen."""
    found = []
    for pitch, first, end, across in ((cloth.repeat_along, cloth.first_along, long, True),
                                      (cloth.repeat_across, cloth.first_across, wide, False)):
        if pitch < closest:
            continue
        at = first % pitch
        while at <= end:
            found.append(f"M{at:.1f} 0V{-wide:.1f}" if across else f"M0 {-at:.1f}H{long:.1f}")
            at += pitch
    return f'<path class="repeat" d="{"".join(found)}"/>' if found else ""

"""How much cloth to buy: a lay with its certificate for every width on sale, and what each of them comes to."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from toilewright.cutting.lay.arrange import Pack, Search, Stop
from toilewright.cutting.offers import Buying, ClothOffers, Envelope, Offer
from toilewright.cutting.requirement import WIDTHS, WIDTHS_INCHES, requirement
from toilewright.cutting.yardage import by_chart
from toilewright.errors import InputError, ToilewrightError
from toilewright.make.buying_words import BY_CHART_ALONE, how_sure, notes_on
from toilewright.make.cloth_entries import width_of
from toilewright.make.cloth_wish import ClothWish, at_width, near_width, price_at
from toilewright.make.joining import joined
from toilewright.make.laying import LONGEST_SEARCH, Work, all_files, garments_of, lay_work, usual_pack, works_of
from toilewright.make.notions import before_cutting, notions
from toilewright.make.outcome import Outcome, Sized, advise_size, make_up
from toilewright.packing.problem import Packing, Problem
from toilewright.pattern.garment import Garment
from toilewright.units import show_length

Tell = Callable[[str, float], None]
"""Told what is being laid, and how much of everything is done (0 to 1)."""


def buy(make_files: Sequence[str | os.PathLike[str]], widths: Sequence[str] = (), seconds: float = 3.0, seed: int = 0,
        tell: Tell | None = None, stop: Stop | None = None, pack: Pack | None = None) -> Buying:
    """What to buy for a make, or for several that are cut in one lay.

    Args:
        widths: on sale, as written ("140 cm"); none for those that the make file prices, or those of most shops.
        seconds: of search for each width; 0 for a quick first fit, which is on the safe side.
        stop: asked between two widths; those laid until then are told.

    Raises:
        InputError: an entry that cannot be used.
        SewError: the pieces would not sew together.
    """
    sized = [advise_size(file) for file in all_files(make_files)]
    if any(one.reading.by_tape for one in sized):
        return _by_chart_alone(sized, widths)
    return buy_outcomes([make_up(one) for one in sized], widths, seconds, seed, tell, stop, pack)


def buy_outcomes(outcomes: Sequence[Outcome], widths: Sequence[str] = (), seconds: float = 3.0, seed: int = 0,
                 tell: Tell | None = None, stop: Stop | None = None, pack: Pack | None = None) -> Buying:
    """As :func:`buy`, from makes that are computed already; the first one says which cloth."""
    if not 0.0 <= seconds <= LONGEST_SEARCH:
        raise InputError(f"{seconds:g} seconds is no time to search in; give 0 to {LONGEST_SEARCH:g}, such as 3.")
    first = outcomes[0].sized
    garments = garments_of(outcomes)
    works = works_of(outcomes)
    jobs = [(work, sold) for work in works for sold in widths_for(work.wish, widths, first.unit)]
    search = Search(pack or (usual_pack() if seconds else _first_fit), seconds, seed, None, stop)
    offers: dict[str, list[Offer]] = {work.wish.use: [] for work in works}
    for number, (work, sold) in enumerate(jobs):
        if stop and stop():
            break
        if tell:
            tell(f"{work.wish.use}, {show_length(sold, first.unit)} wide", number / len(jobs))
        offers[work.wish.use].append(offer(work, sold, search, first.make.lay.gap or 0.0, garments))
    if not any(offers.values()):
        raise InputError("The search was stopped before the first width was laid, so nothing can be told.")
    cloths = tuple(_offers(work, tuple(offers[work.wish.use])) for work in works if offers[work.wish.use])
    title = " and ".join(dict.fromkeys(o.sized.make.title for o in outcomes))
    return Buying(title, first.unit, cloths, notions([g for _, g in garments], first.unit),
                  before_cutting([work.wish.cloth for work in works if not work.wish.washed]),
                  how_sure(cloths, seconds, first.unit))


def offer(work: Work, sold: float, search: Search, gap: float = 0.0,
          garments: Sequence[tuple[str, Garment]] = ()) -> Offer:
    """One width of one cloth, laid; a piece that is too wide for it is divided by joins, and the offer says which.

    Args:
        sold: the width as sold (mm).
        gap: between two pieces (mm).
        garments: (make, its pieces), for the seams at which stripes meet.
    """
    wish = work.wish
    price, envelope = price_at(wish, sold), envelope_at(wish, sold)
    cloth = wish.cloth
    try:
        cloth = at_width(wish, sold)
        work = replace(work, wish=replace(wish, cloth=cloth, bought_width=sold))
        work, garments, joins = joined(work, tuple(garments)) or (work, garments, ())
        lay = lay_work(work, search, gap, garments)
    except ToilewrightError as problem:
        return Offer(sold, cloth, refused=str(problem), sold_by=wish.sold_by, price=price, envelope=envelope)
    start = cloth.repeat.along if wish.match else 0.0
    need = requirement(lay.length, cloth.shrinks_along, 2 * wish.squaring, wish.margin, start)
    return Offer(sold, cloth, lay, need, "", wish.sold_by, price, envelope, search.seconds == 0.0, joins)


def widths_for(wish: ClothWish, asked: Sequence[str], unit: str) -> tuple[float, ...]:
    """The widths as sold that are looked at, narrowest first (mm).

    Those that were asked for; else those that she has prices for, with the one she has; else those of most shops, with
    the one she has and those of the envelope.
    """
    if asked:
        return _apart(width_of(one, unit, f'The width "{one}"') for one in asked)
    own = [] if wish.bought_width is None else [wish.bought_width]
    priced = [width for width, _ in wish.prices if width]
    if priced:
        return _apart([*own, *priced])
    usual = WIDTHS_INCHES if unit == "in" else WIDTHS
    return _apart([*own, *(width for width, _ in wish.envelope), *usual])


def envelope_at(wish: ClothWish, sold: float) -> Envelope | None:
    """What the envelope asks for in a width: its own figure, or its nearest one taken over by the chart."""
    if not wish.envelope:
        return None
    width, length = min(wish.envelope, key=lambda row: (abs(row[0] - sold), row[0]))
    if near_width(width, sold):
        return Envelope(length)
    found = by_chart(length, width, sold)
    return None if found is None else Envelope(found, width)


def _apart(widths: Iterable[float]) -> tuple[float, ...]:
    """Widths that shops call by different names; of two alike the first one stands."""
    kept: list[float] = []
    for width in widths:
        if not any(abs(width - other) < _ALIKE for other in kept):
            kept.append(width)
    return tuple(sorted(kept))


_ALIKE = 21.0  # mm; 110 and 112 cm are one width on a shelf, 112 and 115 cm are two


def _offers(work: Work, offers: tuple[Offer, ...]) -> ClothOffers:
    pieces = tuple((f"{p.name} ({p.make})" if p.make else p.name, p.count) for p in work.pieces)
    return ClothOffers(work.wish.use, offers, pieces, tuple(notes_on(work.wish, offers)))


def _by_chart_alone(sized: Sequence[Sized], widths: Sequence[str]) -> Buying:
    """For tissue, whose shapes are not known: the envelope's figure in other widths.

    Raises:
        InputError: the make file has no envelope's figure either; or several makes.
    """
    first = sized[0]
    wishes = [wish for wish in first.make.cloths if wish.envelope]
    if len(sized) > 1 or not wishes:
        raise InputError(
            f'"{first.make.title}" is made from tissue that was measured with a tape, so the shapes of its pieces are '
            "not known and cannot be laid; write what the envelope asks for below [[cloth]], such as  "
            'envelope = { "140 cm" = "3.2 m" }, and it is taken over to other widths.')
    cloths = []
    for wish in wishes:
        offers = tuple(Offer(sold, at_width(wish, sold), sold_by=wish.sold_by, price=price_at(wish, sold),
                             envelope=envelope_at(wish, sold)) for sold in widths_for(wish, widths, first.unit))
        cloths.append(ClothOffers(wish.use, offers))
    return Buying(first.make.title, first.unit, tuple(cloths), (), before_cutting([w.cloth for w in wishes]),
                  (BY_CHART_ALONE,))


def _first_fit(problem: Problem, seconds: float = 0.0, seed: int = 0, tell: object = None,
               stop: Stop | None = None) -> Packing:
    from toilewright.packing.first_fit import first_fit

    return first_fit(problem, stop)

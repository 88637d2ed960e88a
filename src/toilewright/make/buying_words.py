"""What to read beside the lengths to buy: what they hold, what they do not, and how sure they are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from toilewright.cutting.drape import bending_length, flexural_rigidity, hangs
from toilewright.cutting.offers import ClothOffers, Offer
from toilewright.cutting.requirement import show_bought
from toilewright.make.cloth_wish import ClothWish
from toilewright.units import show_length

MISHAP = 100.0
"""mm; what many buy more, for a slip of the shears (common practice, no published source)."""

BY_CHART_ALONE = (
    "These are the envelope's figures, taken over to other widths by the trade's chart, which is a rule of thumb and "
    "not a lay: the shapes of tissue that was measured with a tape are not known. Nothing was added for shrinkage.")


def notes_on(wish: ClothWish, offers: Sequence[Offer]) -> Iterator[str]:
    """What to read beside the widths of one cloth."""
    cloth = wish.cloth
    if wish.match and cloth.repeat.along:
        yield ("The stripes are matched in every lay, so what that takes is in its length; one repeat is added, as the "
               "shop does not cut at the line at which the lay begins.")
    elif cloth.repeat.along or cloth.repeat.across:
        yield ("The cloth has a repeat, but nothing says where it shall meet; add a line such as  "
               'match = ["side seam"]  to have it met.')
    if cloth.outline is not None or cloth.flaws:
        yield "These are lengths off the bolt; whether what you have will do, flaws and all, `toilewright lay` says."
    elif wish.bought_length is not None and wish.bought_width is not None:
        here = next((o for o in offers if abs(o.width - wish.bought_width) < 0.5), None)
        if here is not None and here.need is not None:
            yield _enough(wish, here)
    if wish.overhang is not None:
        yield _hang(wish)
    if wish.prices and not all(o.price is not None for o in offers):
        yield "Not every width has a price, so they are compared by the cloth that is bought."


def _hang(wish: ClothWish) -> str:
    """What the strip over the edge of a table says."""
    bending = bending_length(wish.overhang)
    said = f"A strip of it bends over {show_length(wish.overhang)}, a bending length of {show_length(bending)}"
    if wish.cloth.weight is not None:
        said += f" and {flexural_rigidity(bending, wish.cloth.weight):.1f} micronewton metres"
    return f"{said}. It is {hangs(bending)}."


def _enough(wish: ClothWish, here: Offer) -> str:
    there = wish.bought_length
    whole = abs(there / wish.sold_by.step - round(there / wish.sold_by.step)) < 1e-6
    have = show_bought(there, wish.sold_by) if whole else show_length(there, "m")
    needed = here.need.needed - here.need.start
    if needed <= there:
        return f"You have {have} of it, and {show_length(needed, 'm')} are needed: that is enough."
    return (f"You have {have} of it, and {show_length(needed, 'm')} are needed: {show_length(needed - there)} are "
            "missing; search longer, or see whether some pieces may come from another cloth.")


def how_sure(cloths: Sequence[ClothOffers], seconds: float, unit: str) -> tuple[str, ...]:
    """How far the lengths may be trusted."""
    offers = [offer for cloth in cloths for offer in cloth.offers]
    if any(offer.quick for offer in offers):
        notes = ["These lays are quick ones, piece by piece without a search; a search usually needs less."]
    else:
        notes = [f"Every length is that of a lay found in {seconds:g} seconds of search for each width, after every "
                 "way to fold it was tried once, and checked; a longer search may find a shorter one."]
    notes.append(f"Nothing is added for mishaps unless you wrote a margin; many take {show_length(MISHAP, unit)} more.")
    if any(offer.envelope is not None and offer.envelope.width is not None for offer in offers):
        notes.append("Where the envelope does not name a width, its figure was taken over by the trade's chart, which "
                     "is a rule of thumb and not a lay.")
    return tuple(notes)

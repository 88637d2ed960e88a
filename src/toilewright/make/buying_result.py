"""What to buy, as plain values for machines; lengths in mm, money as she counts it."""

from __future__ import annotations

from toilewright.cutting.offers import Buying, ClothOffers, Offer
from toilewright.cutting.requirement import SoldBy, show_bought
from toilewright.make.result import Plain


def buying_result(buying: Buying) -> Plain:
    """Everything to buy for one make: for each cloth a row for each width."""
    return {
        "title": buying.title,
        "cloths": [_cloth(cloth) for cloth in buying.cloths],
        "notions": [{"name": n.name, "amount": n.amount, "why": n.why} for n in buying.notions],
        "before_cutting": list(buying.before),
        "notes": list(buying.notes),
    }


def _cloth(cloth: ClothOffers) -> Plain:
    cheapest = cloth.cheapest
    return {
        "name": cloth.use,
        "pieces": [{"name": name, "count": count} for name, count in cloth.pieces],
        "widths": [_offer(offer) for offer in cloth.offers],
        "cheapest_width_mm": None if cheapest is None else round(cheapest.width, 3),
        "compared_by": "price" if cloth.by_price else "cloth bought",
        "notes": list(cloth.notes),
    }


def _offer(offer: Offer) -> Plain:
    row: Plain = {
        "width_mm": round(offer.width, 3),
        "usable_width_mm": round(offer.cloth.width, 3),
        "fits": offer.lay is not None,
        "refused": offer.refused,
        "price_of_metre": _round(offer.price, 4),
        "envelope_mm": None if offer.envelope is None else round(offer.envelope.length, 3),
        "envelope_by_chart_from_mm": None if offer.envelope is None else _round(offer.envelope.width, 3),
    }
    if offer.lay is None or offer.need is None:
        return row
    return {
        **row,
        "lay_mm": round(offer.need.lay, 3),
        "start_of_repeat_mm": round(offer.need.start, 3),
        "squaring_mm": round(offer.need.squaring, 3),
        "margin_mm": round(offer.need.margin, 3),
        "shrinkage_mm": round(offer.need.shrinkage, 3),
        "needed_mm": round(offer.need.needed, 3),
        "buy_mm": round(offer.buy, 3),
        "buy": show_bought(offer.buy, offer.sold_by),
        "buy_by_metre_mm": round(offer.need.bought(SoldBy.METRE), 3),
        "buy_by_yard_mm": round(offer.need.bought(SoldBy.YARD), 3),
        "buy_by_yard": show_bought(offer.need.bought(SoldBy.YARD), SoldBy.YARD),
        "cloth_m2": round(offer.area, 4),
        "cost": _round(offer.cost, 2),
        "cloth_saved_mm": _round(offer.saved, 3),
        "money_saved": _round(offer.money_saved, 2),
        "weight_g": _round(offer.weight, 1),
        "fold": offer.lay.cloth.fold.value,
        "quick": offer.quick,
        "joins": [{"make": j.make, "piece": j.piece, "parts": j.parts} for j in offer.joins],
        "checked": offer.lay.certificate.passed,
        "notes": list(offer.lay.notes),
    }


def _round(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)

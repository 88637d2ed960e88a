"""Garments that alterations are tried on, what each of them may say, and how a refusal is read."""

import re
from functools import cache

from alter_kit import altered

from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.concert import concert_dress
from toilewright.blocks.princess_dress import princess_dress
from toilewright.errors import AlterationError

SIZE = "5"

BLOCKS = {"concert dress": concert_dress, "princess dress": princess_dress, "choir tunic": choir_tunic,
          "choir trousers": choir_trousers}


@cache
def block(name):
    return BLOCKS[name]().at(SIZE)


def asked_of(one, garment):
    """The options to try: as usual, and each other word of every option once."""
    try:
        one.apply(garment, one.sane[1] / 4, {})
        bases = [{}]
    except AlterationError as refused:
        if "which piece" not in str(refused):
            bases = [{}]
        else:
            bases = [{"piece": p.name} for p in garment.pieces if p.line("lengthen or shorten") is not None]
    words = [{str(option): word} for option in one.options for word in option.words[1:]]
    return bases + [bases[-1] | more for more in words]


def amounts_of(one):
    """Small and larger amounts in both ways, within what is usual."""
    low, high = one.sane
    wanted = {round(end * share, 1) for end in one.sane for share in (0.25, 0.6)}
    return sorted(a for a in wanted if a and low <= a <= high)


def most_that_fits(refused):
    """The amount that a refusal says does fit (mm), or None."""
    said = re.search(r"the most that fits is (-?[\d.]+) cm", str(refused))
    return float(said[1]) * 10 if said else None


def tried(garment, one, amount, options):
    """What an alteration makes, by as much of the amount as fits; and by how much that was."""
    try:
        return altered(garment, one.name, amount, **options), amount
    except AlterationError as refused:
        most = most_that_fits(refused)
        if most is None:
            assert says_what_would_do(str(refused)), f"{one.name} {amount} {options}: {refused}"
            return None, 0.0
        assert 0 <= most / amount < 1.01, f"{one.name} {amount} {options}: {refused}"
        inside = most - 0.6 if amount > 0 else most + 0.6  # it is told in tenths of a centimetre
        return (altered(garment, one.name, inside, **options), inside) if inside * amount > 0 else (None, 0.0)


def says_what_would_do(text):
    return "nothing fits" in text or re.search(r'[;,.] .*"[^"]+"', text) is not None

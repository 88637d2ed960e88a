"""What she can choose from: alterations by group and by what she sees, and what each of them can be told further."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from toilewright.app.words import catalogue, on_page, say
from toilewright.errors import AlterationError, InputError
from toilewright.fit.alterations import ALTERATIONS, alter, find_alteration
from toilewright.fit.alterations.kinds import PIECE, Alteration, Option
from toilewright.fit.result import Order
from toilewright.fit.sides import SIDES
from toilewright.fit.toile.observations import all_signs
from toilewright.known import asked
from toilewright.pattern.garment import Garment

SIDE = Option("side", *SIDES)

HEM = "hem"
"""Beside the lines drawn on the pieces, where a length can be changed."""

_SMALL = 5.0
"""mm; enough to see whether an alteration has a place on a piece."""


@dataclass(frozen=True, slots=True)
class Offer:
    """One alteration to choose.

    Attributes:
        see: what she sees on the body.
        words: all by which it can be looked for, in small letters.
        why: what it needs and this pattern lacks, and what would serve; "" where it can be made.
    """

    name: str
    see: str
    words: str
    why: str


@dataclass(frozen=True, slots=True)
class Room:
    """Alterations of one group of the trade, those that this pattern can take first."""

    name: str
    offers: tuple[Offer, ...]

    @property
    def can(self) -> tuple[Offer, ...]:
        """Those that this pattern can take."""
        return tuple(one for one in self.offers if not one.why)

    @property
    def cannot(self) -> tuple[Offer, ...]:
        """The others."""
        return tuple(one for one in self.offers if one.why)


def alteration(name: str) -> Alteration:
    """The alteration of that name (NameUnknown if there is none)."""
    return find_alteration(name)[0]


def slug(text: str) -> str:
    """A name as part of a key of the catalogue."""
    return text.replace(" ", "_").replace("-", "_")


def ways() -> dict[str, dict[str, str]]:
    """By alteration, the words for the two ways of its amount; the second is empty where it goes one way only."""
    return {one.name: {"plus": say(f"alterations.plus_{slug(one.name)}"),
                       "minus": say(f"alterations.minus_{slug(one.name)}") if one.sane[0] < 0 else ""}
            for one in ALTERATIONS}


def offered(garment: Garment, unit: str = "cm") -> tuple[Room, ...]:
    """Every alteration in its group, by what she sees on the body, and what stops it on these pieces."""
    rooms: dict[str, list[Offer]] = {}
    for one in ALTERATIONS:
        rooms.setdefault(one.group, []).append(_offer(garment, one, unit))
    return tuple(Room(name, tuple(offers)) for name, offers in rooms.items())


def _offer(garment: Garment, one: Alteration, unit: str) -> Offer:
    see = say(f"alterations.see_{slug(one.name)}")
    words = (one.name, *one.aliases, one.group, see, *_signs().get(one.name, ()))
    return Offer(one.name, see, " ".join(words).lower(), on_page(_lacks(garment, one), unit))


@lru_cache(maxsize=1)
def _signs() -> Mapping[str, tuple[str, ...]]:
    """By alteration, what a toile shows that it would cure."""
    found: dict[str, list[str]] = {}
    for sign in all_signs():
        for cause in sign.causes:
            found.setdefault(cause.alteration, []).append(sign.name)
    return {name: tuple(rows) for name, rows in found.items()}


def _lacks(garment: Garment, one: Alteration) -> str:
    """What it needs and finds on no piece; empty where there is a place for it."""
    try:
        one.check(garment, {})
    except AlterationError as problem:
        elsewhere = "piece" in one.options and any(one.has_place(garment, {"piece": p.name}) for p in garment.pieces)
        return "" if elsewhere else str(problem)
    return ""


# -- what an alteration can be told further -----------------------------------------------------------


def choices(garment: Garment, name: str) -> list[dict[str, Any]]:
    """What an order of that alteration can say further, each with the words to choose from, or with a field."""
    one = alteration(name)
    rows = [(option, _words(garment, one, option)) for option in (*one.options, SIDE)]
    return [{"key": str(option), "label": _or_itself(f"options.name_{slug(option)}", option),
             "usual": say("options.both_sides") if option == SIDE else say("options.usual"),
             "words": [[word, said(option, word)] for word in words], "field": option.of == "length"}
            for option, words in rows if len(words) > (option.of == "piece") or option.of == "length"]


def _words(garment: Garment, one: Alteration, option: Option) -> list[str]:
    if option.words:
        return list(option.words)
    if option.of == "piece" and option != PIECE and garment.has(f"bodice {option}"):
        return []
    if option.of == "piece":
        return [p.name for p in garment.pieces if _stands(garment, one, option, p.name)]
    if option.of == "line":
        pieces = [p for p in garment.pieces if "piece" not in one.options or _stands(garment, one, PIECE, p.name)]
        hem = [HEM] if any(p.has_edge(HEM) for p in pieces) else []
        return [*dict.fromkeys(line.name for p in pieces for line in p.lines), *hem]
    return []


def _stands(garment: Garment, one: Alteration, option: Option, piece: str) -> bool:
    """May that piece be named there?"""
    if option == PIECE:
        return one.has_place(garment, {"piece": piece}) and not _obstacle(garment, one.name, piece)
    return any(need.on(piece).met_by(garment.piece(piece)) for need in one.needs)


@lru_cache(maxsize=512)
def _obstacle(garment: Garment, name: str, piece: str) -> str:
    """What stops a small alteration on that piece; empty when nothing does."""
    try:
        alter(garment, (Order(name, asked(_SMALL), {"piece": piece}),))
    except (AlterationError, InputError) as problem:
        return str(problem)
    return ""


def said(option: str, word: str) -> str:
    """A word of an option as she reads it; names of the pattern, and what is plain without more words, as they are."""
    return _or_itself(f"options.say_{slug(option)}_{slug(word)}", word)


def _or_itself(key: str, word: str) -> str:
    return say(key) if key in catalogue() else word


def told(options: Mapping[str, str]) -> str:
    """Everything that an order says further, in one line."""
    return ", ".join(_told(options))


def _told(options: Mapping[str, str]) -> Iterator[str]:
    for option, word in options.items():
        if option == "up":
            yield say("options.told_up", length=word)
        elif (option, word) != ("side", "both"):
            yield said(option, word)

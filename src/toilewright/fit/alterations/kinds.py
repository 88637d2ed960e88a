"""What every alteration is: its names, how far it is sane, how it is made, and its card."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from toilewright.errors import AlterationError, Finding
from toilewright.fit.moves.ring import Region
from toilewright.fit.result import Card, Order
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

Options = Mapping[str, str]


class Option(str):
    """The name of an option, with what an order may say there.

    Attributes:
        words: all that it understands, the usual one first; empty where it names something of the pattern, or a length.
        of: what is named where there are no words: ``piece``, ``line`` or ``length``.
    """

    __slots__ = ("of", "words")
    words: tuple[str, ...]
    of: str

    def __new__(cls, name: str, *words: str, of: str = "") -> Option:
        """An option of that name."""
        made = super().__new__(cls, name)
        made.words, made.of = words, of
        return made


PIECE, LINE = Option("piece", of="piece"), Option("line", of="line")
FRONT_AND_BACK = (Option("front", of="piece"), Option("back", of="piece"))


@dataclass(frozen=True, slots=True)
class Size:
    """An amount to be shown between two points of a picture; `away` is the direction in which it stands off them."""

    a: Point
    b: Point
    away: Point = 0j


@dataclass(frozen=True, slots=True)
class Picture:
    """What a hand card shows of one piece.

    Attributes:
        regions: the parts that were cut loose, as they lay, and how each was moved; the rest stays.
        cuts: lines to cut or to fold on, on the piece as it was.
        hinges: where the paper must hold.
        sizes: amounts to show.
        near: points that a closer view must hold; empty when the whole piece will do.
        crosses: points to mark with a small cross, by name.
    """

    regions: tuple[Region, ...] = ()
    cuts: tuple[Path, ...] = ()
    hinges: tuple[Point, ...] = ()
    sizes: tuple[Size, ...] = ()
    near: tuple[Point, ...] = ()
    crosses: Mapping[str, Point] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Change:
    """What an alteration made.

    Attributes:
        pictures: by piece, what its card shows, the most telling piece first.
        numbers: amounts that the card tells, by name (mm).
    """

    garment: Garment
    pictures: Mapping[str, Picture] = field(default_factory=dict)
    numbers: Mapping[str, float] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Need:
    """A piece that an alteration is made on, and what that piece must have.

    Attributes:
        piece: its usual name; empty for any piece that has these edges.
        edges, darts, lines: by name; of several darts one will do.
        without: edges and darts that it must not have.
    """

    piece: str = ""
    edges: tuple[str, ...] = ()
    darts: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    without: tuple[str, ...] = ()

    def __str__(self) -> str:
        """In words: ``a piece "bodice front" with the edges "neck", "shoulder"``."""
        parts = [_named("the edge", self.edges), _named("a dart called", self.darts, " or "),
                 _named("the line", self.lines)]
        has = " and ".join(p for p in parts if p)
        who = f'a piece called "{self.piece}"' if self.piece else "a piece"
        lacks = " and ".join(f'without a "{name}"' for name in self.without)
        return " ".join(part for part in (who, has and f"with {has}", lacks) if part)

    def met_by(self, piece: Piece) -> bool:
        """Has the piece all of it?"""
        return (all(piece.has_edge(e) for e in self.edges)
                and (not self.darts or any(d.name in self.darts for d in piece.darts))
                and all(piece.line(name) is not None for name in self.lines)
                and not any(piece.has_edge(n) or any(d.name == n for d in piece.darts) for n in self.without))

    def on(self, piece: str) -> Need:
        """The same, wanted of another piece."""
        return replace(self, piece=piece)


def _named(kind: str, names: tuple[str, ...], joint: str = ", ") -> str:
    if not names:
        return ""
    several = "s" if len(names) > 1 and joint == ", " else ""
    return f"{kind}{several} " + joint.join(f'"{n}"' for n in names)


@dataclass(frozen=True, slots=True)
class Alteration:
    """One alteration of the trade.

    Attributes:
        name, aliases: how she may call it.
        sane: least and most usual amount (mm).
        source: handbook it follows.
        rank: its place in the order of work: 0 lengths, 1 shoulders and back, 2 bust, 3 widths, 4 armhole and sleeve,
            5 waist and hip, 6 hem (common practice; the same in extension leaflets).
        apply: (garment, amount in mm, options) -> Change; never called with 0.
        steps: what the card says, from the change.
        signs: by alias, the sign that it gives to the amount.
        one_side: aliases that speak of one side of her, so that an order has to say which.
        options: what an order may say further; ``side`` is understood by all.
        needs: the pieces that it is made on.
        instead: which other alteration would serve where the needs are not met, as the end of a sentence, or empty.
        group: the room of the trade it belongs to, e.g. ``bust``.
        whole_girth: the amount is that of the whole girth, shared by both sides of her.
    """

    name: str
    aliases: tuple[str, ...]
    sane: tuple[float, float]
    source: str
    rank: int
    apply: Callable[[Garment, float, Options], Change]
    steps: Callable[[Order, Change], Card]
    signs: Mapping[str, float] = field(default_factory=dict)
    options: tuple[Option, ...] = (PIECE,)
    needs: tuple[Need, ...] = ()
    instead: str = ""
    group: str = ""
    whole_girth: bool = False
    one_side: tuple[str, ...] = ()

    def needed(self, options: Options) -> tuple[Need, ...]:
        """What it needs; ``piece`` stands for the first piece, ``front`` and ``back`` for those of the bodice."""
        named = {f"bodice {side}": options[side] for side in ("front", "back") if side in options}
        needs = [need.on(named.get(need.piece, need.piece)) for need in self.needs]
        if needs and "piece" in options:
            needs[0] = needs[0].on(options["piece"])
        return tuple(needs)

    def has_place(self, garment: Garment, options: Options) -> bool:
        """Are the pieces there that it is made on?"""
        return all(any(need.met_by(p) for p in garment.pieces if need.piece in ("", p.name))
                   for need in self.needed(options))

    def check(self, garment: Garment, options: Options) -> None:
        """Raise AlterationError when the garment lacks what it needs; the sentence says what, and what would serve."""
        for need in self.needed(options):
            if need.piece and garment.has(need.piece):
                if need.met_by(garment.piece(need.piece)):
                    continue
                raise AlterationError(f'"{self.name}" needs {need}; {_has(garment.piece(need.piece))}. '
                                      f"{self._way_out()}")
            if not need.piece and any(need.met_by(p) for p in garment.pieces):
                continue
            known = ", ".join(f'"{p.name}"' for p in garment.pieces)
            raise AlterationError(f'"{self.name}" needs {need}, which this pattern does not have (it has {known}). '
                                  f"{self._way_out()}")

    def _way_out(self) -> str:
        way = "Correct the names in the labels file, name another piece, or leave it out"
        return f"{way}; {self.instead}." if self.instead else f"{way}."


def _has(piece: Piece) -> str:
    edges = ", ".join(e.name for e in piece.edges)
    darts = ", ".join(d.name for d in piece.darts) or "none"
    return f"its edges are {edges}, its darts {darts}"


def chosen(name: str, options: Options, option: Option) -> str:
    """What an option says; the first of its words when it is not given.

    Raises:
        AlterationError: it says something else.
    """
    said = options.get(option, option.words[0])
    if said not in option.words:
        listed = " or ".join(f'"{w}"' for w in option.words)
        raise AlterationError(f'"{name}" cannot do {option} = "{said}"; it can do {listed}.')
    return said


def too_much(name: str, amount: float, piece: str, why: str, most: float) -> AlterationError:
    """The error for an amount that does not fit, with the most that does (mm)."""
    fits = "nothing fits there" if abs(most) < 0.5 else f"the most that fits is {show_both(most)}"
    problem = AlterationError(f'"{name}" by {show_both(amount)} on "{piece}" {why}; {fits}.')
    problem.amount, problem.most, problem.piece, problem.why = amount, most, piece, why
    return problem

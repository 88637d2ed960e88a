"""What a kind of extra piece is: its options, its arithmetic, and how it is made on a garment."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from toilewright.errors import Finding, InputError, NameUnknown
from toilewright.pattern.garment import Garment, Seam
from toilewright.pattern.piece import Piece
from toilewright.units import parse_length, show_length

Value = float | str | tuple[float, ...]
Options = Mapping[str, Value]
"""By option: lengths in mm, shares and numbers plain, words as they are. What was not said is not in it."""


class Asks(StrEnum):
    """What an option takes."""

    LENGTH = "length"
    LENGTHS = "lengths"
    NUMBER = "number"
    COUNT = "count"
    SHARE = "share"
    CHOICE = "choice"
    EDGE = "edge"
    TEXT = "words"


@dataclass(frozen=True, slots=True)
class Option:
    """One thing that a kind asks.

    Attributes:
        default: mm where it is a length; None where it need not be said, or is worked out.
        least, most: bounds; the sentence for what lies beyond is `beyond`, or a plain one.
        needed: must be said.
        words: of a choice.
    """

    name: str
    asks: Asks
    says: str
    default: Value | None = None
    least: float | None = None
    most: float | None = None
    words: tuple[str, ...] = ()
    needed: bool = False
    beyond: str = ""

    def read(self, value: object, unit: str, where: str) -> Value:
        """A value as somebody wrote it, understood.

        Args:
            unit: of lengths without one.

        Raises:
            InputError: it cannot be understood, or cannot be meant; the sentence names the option and what would work.
        """
        try:
            return self._understood(value, unit)
        except InputError as problem:
            raise type(problem)(f'"{self.name}" of {where}: {problem}') from None

    def _understood(self, value: object, unit: str) -> Value:
        if self.asks is Asks.LENGTH:
            return self._bounded(parse_length(value, unit), lambda v: show_length(v, unit))
        if self.asks is Asks.LENGTHS:
            parts = value if isinstance(value, list) else str(value).split("+")
            return tuple(self._bounded(parse_length(p, unit), lambda v: show_length(v, unit)) for p in parts)
        if self.asks in (Asks.NUMBER, Asks.COUNT, Asks.SHARE):
            return self._bounded(_number(value, self.asks), lambda v: _shown(v, self.asks))
        text = _text(value)
        if self.asks is Asks.CHOICE and text.lower() not in self.words:
            raise NameUnknown.among("choice", text, self.words)
        return text.lower() if self.asks is Asks.CHOICE else text

    def _bounded(self, value: float, show: Callable[[float], str]) -> float:
        low = self.least if self.least is not None else 0.0 if self.asks is Asks.LENGTH else None
        if low is not None and value < low:
            raise InputError(f"{show(value)} is too little; {self.beyond or f'give at least {show(low)}'}.")
        if self.most is not None and value > self.most:
            raise InputError(f"{show(value)} is too much; {self.beyond or f'give at most {show(self.most)}'}.")
        return value

    def as_dict(self, unit: str = "cm") -> dict[str, object]:
        """What it asks, as plain values: a default in mm and in words."""
        row: dict[str, object] = {"name": self.name, "asks": self.asks.value, "says": self.says, "needed": self.needed}
        if self.words:
            row["choices"] = list(self.words)
        if isinstance(self.default, float) and self.asks in (Asks.LENGTH, Asks.LENGTHS):
            return row | {"default_mm": round(self.default, 3), "default": show_length(self.default, unit)}
        return row if self.default is None else row | {"default": self.default}


def _number(value: object, asks: Asks) -> float:
    text = str(value).strip().replace(",", ".")
    percent = asks is Asks.SHARE and text.endswith("%")
    try:
        number = float(text.removesuffix("%"))
    except ValueError:
        number = float("nan")
    if isinstance(value, bool) or not abs(number) < 1e6 or (asks is Asks.COUNT and number != int(number)):
        like = {Asks.COUNT: "2", Asks.SHARE: '"5 %"'}.get(asks, "2.5")
        raise InputError(f"{value!r} is not a {'whole ' if asks is Asks.COUNT else ''}number; write one such as "
                         f"{like}.")
    return number / 100 if percent else number


def _shown(value: float, asks: Asks) -> str:
    return f"{100 * value:g} %" if asks is Asks.SHARE else f"{value:g}"


def _text(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return f"{value:g}"
    if isinstance(value, list) and value and all(isinstance(v, str) for v in value):
        return " + ".join(value)
    if not isinstance(value, str) or not value.strip():
        raise InputError(f"words were expected but {value!r} was given.")
    return " ".join(value.split())


@dataclass(frozen=True, slots=True)
class Figure:
    """One number that was worked out.

    Attributes:
        name: with underscores, e.g. ``cut_width``; a length stands under ``cut_width_mm``.
        value: mm for a length, plain for a number.
        says: in her words.
        spread: how far it may be off, or None where it is arithmetic.
    """

    name: str
    value: float
    says: str
    length: bool = True
    spread: float | None = None


@dataclass(frozen=True)
class Sum:
    """What a kind works out from numbers alone: figures, order of work, what deserves a look.

    Steps carry lengths in the form `{12.5 mm}` for the printer to show in her unit.
    """

    figures: tuple[Figure, ...]
    steps: tuple[str, ...]
    findings: tuple[Finding, ...] = ()

    def of(self, name: str) -> float:
        """One of its figures by name (KeyError when there is none)."""
        for figure in self.figures:
            if figure.name == name:
                return figure.value
        raise KeyError(name)


@dataclass(frozen=True)
class Built:
    """Extra pieces for a garment.

    Attributes:
        pieces: new ones.
        seams: new ones, each sewn to its partner.
        changed: pieces of the garment that carry new notches, or whose edge is finished in another way.
        worked: figures, order of work, findings.
        laid: (new piece, piece) where it lies on another instead of meeting its edge: interfacing, a patch pocket.
        decides: (piece, edge) of the garment where it alone says how far the cloth goes on beyond the seam line,
            whatever was asked for that edge: a bound edge has none, one that is turned down as a casing its depth.
        replaced: pieces of the garment in whose place the new ones come: it was divided.
        resewn: then all seams that the garment had, on what it is made of now; None where nothing was replaced.
    """

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]
    changed: tuple[Piece, ...]
    worked: Sum
    laid: tuple[tuple[str, str], ...] = ()
    decides: tuple[tuple[str, str], ...] = ()
    replaced: tuple[Piece, ...] = ()
    resewn: tuple[Seam, ...] | None = None

    def put_into(self, garment: Garment) -> Garment:
        """The garment with it.

        Raises:
            InputError: a piece of that name is there already.
        """
        gone = {piece.name for piece in self.replaced}
        for piece in self.pieces:
            if garment.has(piece.name) and piece.name not in gone:
                raise InputError(f'There is a piece called "{piece.name}" already; give the extra piece another name, '
                                 f'with name = "second {piece.name}".')
        for piece in self.changed:
            garment = garment.with_piece(piece)
        kept = [piece for piece in garment.pieces if piece.name not in gone]
        at = next((k for k, piece in enumerate(garment.pieces) if piece.name in gone), len(kept))
        seams = garment.seams if self.resewn is None else self.resewn
        return Garment((*kept[:at], *self.pieces, *kept[at:]), (*seams, *self.seams), garment.taken)


@dataclass(frozen=True)
class Example:
    """A worked example: options as she would write them, the figures it must give, and where it comes from."""

    options: Mapping[str, str]
    gives: Mapping[str, float]
    source: str


@dataclass(frozen=True)
class Kind:
    """One kind of extra piece.

    Attributes:
        name: as written in a make file.
        says: one line.
        options: what it asks, in the order in which it is told.
        sources: where its rules come from.
        work: its arithmetic, from numbers alone (an edge is then a length in mm).
        build: its pieces on a garment (an edge is then a name); None for sums alone.
        examples: worked ones.
    """

    name: str
    says: str
    options: tuple[Option, ...]
    sources: tuple[str, ...]
    work: Callable[[Options], Sum]
    build: Callable[[Garment, Options], Built] | None = None
    examples: tuple[Example, ...] = field(default=())
    aliases: tuple[str, ...] = ()

    def option(self, name: str, where: str = "") -> Option:
        """One option by name (NameUnknown, with the nearest, when there is none)."""
        plain = name.strip().lower().replace("-", " ").replace("_", " ")
        for option in self.options:
            if option.name == plain:
                return option
        raise NameUnknown.among("option", name, [o.name for o in self.options], where or f'"{self.name}"')

    def read(self, written: Mapping[str, object], unit: str, where: str, alone: bool = False) -> dict[str, Value]:
        """Options as somebody wrote them, understood, defaults filled in.

        Args:
            alone: without a garment; an edge is then a length.

        Raises:
            InputError: an option that is not known, cannot be understood, or is missing.
        """
        found: dict[str, Value] = {}
        for name, value in written.items():
            option = self.option(name, where)
            if alone and option.asks is Asks.EDGE:
                option = Option(option.name, Asks.LENGTH, option.says, least=1.0)
            found[option.name] = option.read(value, unit, where)
        for option in self.options:
            if option.name in found:
                continue
            if option.default is not None:
                found[option.name] = option.default
            elif option.needed and not (alone and option.asks in (Asks.EDGE, Asks.TEXT)):
                raise InputError(f'{where[:1].upper()}{where[1:]} does not say "{option.name}" ({option.says}); '
                                 "add it.")
        return found


def length_of(options: Options, name: str) -> float:
    """A length or number among the options; InputError when it was not said."""
    value = options.get(name)
    if not isinstance(value, (int, float)):
        raise InputError(f'"{name}" is needed for this; give it, such as {name} = "20 cm".')
    return float(value)


def word_of(options: Options, name: str) -> str:
    """A word among the options, or ""."""
    value = options.get(name, "")
    return value if isinstance(value, str) else f"{value:g}"


def mm(value: float) -> str:
    """A length inside a step, for the printer to show in her unit.

    >>> mm(12.5)
    '{12.5 mm}'
    """
    return f"{{{round(value, 2):g} mm}}"

"""Strips, extra pieces and allowances of a make, as the cloth step asks for them and shows them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from toilewright.app.words import say
from toilewright.cutting.extra import KINDS, find_kind
from toilewright.cutting.extra.kinds import Asks, Kind, Option
from toilewright.cutting.words import cut_words
from toilewright.errors import InputError
from toilewright.make.outcome import Outcome
from toilewright.pattern.garment import Garment
from toilewright.units import parse_length, show_length
from toilewright.workroom.documents import ExtraRow, MakeDoc

SELDOM = ("allowance", "name", "cloth", "cloth width", "count", "at", "to at")
"""Options that stand behind a fold: they are right as they are for most makes."""

ALWAYS = ("edge", "cloth")
"""Options that mean the same of every kind, however they are explained."""

_MAY_BE_LENGTHS = ("at", "to at")

_AS_IN_A_FILE = re.compile(r'\b([a-z]+) = ("[^"]+"|\d+)')


@dataclass(frozen=True, slots=True)
class Field:
    """One option as a field of the form.

    Attributes:
        label: its name, with its unit.
        hint: what it means, what is usual, what can be.
        choices: (value, words) of a choice, what is usual first; empty for text.
        numeric: is it written as one number?
        offers: id of the list of names that it offers, or "".
        seldom: does it stand behind a fold?
        value: as she wrote it, where the piece is there already.
    """

    name: str
    label: str
    hint: str
    choices: tuple[tuple[str, str], ...]
    needed: bool
    numeric: bool
    offers: str
    seldom: bool
    value: str = ""


@dataclass(frozen=True, slots=True)
class CutOut:
    """One piece that is cut.

    Attributes:
        size: as it is cut, allowances in it.
        count, grain: in words.
        cloth: "" for the cloth that shows.
        sewn, lies: to which edges it is sewn, on which pieces it lies.
    """

    name: str
    size: str
    count: str
    grain: str
    cloth: str
    sewn: tuple[str, ...]
    lies: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """One extra piece as the page shows it; without the rest where it could not be worked out, or is set aside."""

    id: str
    title: str
    asked: str
    on: bool
    pieces: tuple[CutOut, ...] = ()
    figures: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    findings: tuple[str, ...] = ()


def on_form(sentence: str) -> str:
    """A sentence of the core as it is right beside the form, where nothing is written as in a file.

    >>> on_form('for a child, say wearer = "child"')
    'for a child, say "child" for "wearer"'
    """
    return _AS_IN_A_FILE.sub(r'\2 for "\1"', sentence)


def kinds() -> tuple[Kind, ...]:
    """What can be added to a make."""
    return tuple(kind for kind in KINDS if kind.build is not None)


def shown(make: MakeDoc, outcome: Outcome | None) -> tuple[Shown, ...]:
    """The extras of a make in her order.

    Args:
        outcome: None where the make cannot be worked out.
    """
    if outcome is None:
        return tuple(Shown(row.id, _title(row), _asked(row), row.on) for row in make.extras)
    from toilewright.make.strips_result import extras_result

    worked = iter(extras_result(outcome)["extras"])
    return tuple(_shown(row, next(worked), outcome.altered.garment) if row.on
                 else Shown(row.id, _title(row), _asked(row), False) for row in make.extras)


def _title(row: ExtraRow) -> str:
    name = row.options.get("name") or row.kind
    return name[:1].upper() + name[1:]


def _asked(row: ExtraRow) -> str:
    told = ", ".join(f"{name} {text}" for name, text in row.options.items() if name != "name")
    return told if "name" not in row.options else say("extras.asked", kind=row.kind, told=told) if told else row.kind


def _shown(row: ExtraRow, worked: Mapping[str, object], garment: Garment) -> Shown:
    pieces = tuple(CutOut(p["name"], p["cut"], cut_words(garment.piece(p["name"])), p["grain"],
                          "" if p["cloth"] == "self" else p["cloth"],
                          tuple(dict.fromkeys(f'{r["piece"]}, {r["edge"]}' for refs in p["partners"] for r in refs)),
                          tuple(dict.fromkeys(p["lies_on"]))) for p in worked["pieces"])
    return Shown(row.id, _title(row), _asked(row), True, pieces, tuple(worked["words"].values()),
                 tuple(worked["order_of_work"]), tuple(on_form(f["text"]) for f in worked["findings"]))


# -- the form ---------------------------------------------------------------------------------------


def fields(kind: Kind, unit: str, said: Mapping[str, str] | None = None) -> tuple[Field, ...]:
    """What one kind asks, what must be said first.

    Args:
        said: the options of a piece that is there already, as they are kept.
    """
    known = {kind.option(name).name: text for name, text in (said or {}).items()}
    found = tuple(_field(option, unit, known.get(option.name, "")) for option in kind.options)
    return tuple(sorted(found, key=lambda one: not one.needed))


def carried(said: Mapping[str, str], was: Kind, now: Kind) -> dict[str, str]:
    """What she said of one kind that holds for another too: edge and cloth, and whatever means the same in both.

    Raises:
        NameUnknown: an option that `was` does not have.
    """
    mine = {option.name: option for option in now.options}
    found = {}
    for name, text in said.items():
        old = was.option(name, f'"{was.name}"')
        new = mine.get(old.name)
        if new is not None and (new.name in ALWAYS or old.says == new.says):
            found[new.name] = text
    return found


def _field(option: Option, unit: str, said: str) -> Field:
    label = option.name[:1].upper() + option.name[1:]
    short = {Asks.LENGTH: say("common.short_" + unit), Asks.LENGTHS: say("common.short_" + unit), Asks.SHARE: "%"}
    if option.asks in short:
        label = f"{label}, {short[option.asks]}"
    offers = ("extra-edges" if option.asks is Asks.EDGE else "extra-pieces" if option.name in ("piece", "pieces")
              else "extra-cloths" if option.name == "cloth" else "")
    return Field(option.name, label, _hint(option, unit), _choices(option), option.needed,
                 option.asks in (Asks.LENGTH, Asks.NUMBER, Asks.COUNT, Asks.SHARE), offers,
                 option.name in SELDOM and not option.needed, _as_written(option, said, unit))


def _as_written(option: Option, text: str, unit: str) -> str:
    """A value as she would write it into its field; the unit that the label says already is left off."""
    if option.asks is Asks.SHARE:
        return text.removesuffix("%").rstrip()
    if option.asks in (Asks.LENGTH, Asks.LENGTHS):
        return " + ".join(part.strip().removesuffix(f" {unit}") for part in text.split("+"))
    if option.words:
        return "" if text.lower() == option.default else text.lower()
    return text


def _choices(option: Option) -> tuple[tuple[str, str], ...]:
    usual = option.default
    if not option.words or not isinstance(usual, str):
        return tuple((word, word) for word in option.words)
    return (("", say("extras.usual_choice", what=usual)), *((word, word) for word in option.words if word != usual))


def _hint(option: Option, unit: str) -> str:
    """What it means, and of a number what is usual and what can be."""
    told = [on_form(option.says)]
    if option.default is not None and not option.words:
        told.append(say("extras.usual", what=_told(option, option.default, unit)))
    if option.most is not None:
        least = option.least if option.least is not None else 0.0
        told.append(say("extras.range", least=_told(option, least, unit), most=_told(option, option.most, unit)))
    return "; ".join(told)


def _told(option: Option, value: object, unit: str) -> str:
    if isinstance(value, tuple):
        return " + ".join(_told(option, one, unit) for one in value)
    if not isinstance(value, (int, float)):
        return str(value)
    if option.asks in (Asks.LENGTH, Asks.LENGTHS):
        return show_length(value, unit)
    return f"{100 * value:g} %" if option.asks is Asks.SHARE else f"{value:g}"


def written(said: str, options: Mapping[str, str], unit: str) -> tuple[Kind, dict[str, str]]:
    """A kind and its options as they are kept: lengths with the unit that she meant, nothing that she left empty.

    Raises:
        InputError: one that cannot be used; the sentence names it.
    """
    kind = find_kind(said)
    if kind.build is None:
        raise InputError(say("extras.no_kind"))
    kept = {}
    for name, text in options.items():
        if text.strip():
            option = kind.option(name, f'"{kind.name}"')
            kept[option.name] = _with_unit(option, text.strip(), unit)
    kind.read(kept, unit, f'the {kind.name}')
    return kind, kept


def _with_unit(option: Option, text: str, unit: str) -> str:
    if option.asks is Asks.SHARE:
        return text if text.endswith("%") else f"{text} %"
    if option.asks is Asks.LENGTHS:
        return " + ".join(measure(part.strip(), unit) for part in text.split("+"))
    return measure(text, unit) if option.asks is Asks.LENGTH or option.name in _MAY_BE_LENGTHS else text


def measure(text: str, unit: str) -> str:
    """A length as she wrote it, its unit behind it; what is none stays as it is.

    >>> measure("2,5", "cm"), measure("1 1/2", "in"), measure("3 cm", "in"), measure("top notch", "in")
    ('2,5 cm', '1 1/2 in', '3 cm', 'top notch')
    """
    try:
        bare = parse_length(text, "cm") != parse_length(text, "in")
    except InputError:
        return text
    return f"{text} {unit}" if bare else text


def edges_of(garment: Garment) -> tuple[str, ...]:
    """Every edge by piece and name, as the form offers it."""
    return tuple(f"{p.name} {e.name}" for p in garment.pieces for e in p.edges)

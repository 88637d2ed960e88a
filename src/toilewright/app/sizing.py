"""What the page of size and ease shows: one strip for each girth, every size of the nest on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from toilewright.app.ease_pictures import Window, Zone, moved, strip_picture, window_of
from toilewright.app.words import say
from toilewright.fit.ease import Ease, measure_ease
from toilewright.fit.size import PLACES
from toilewright.make.outcome import Sized
from toilewright.make.recipe import EASE_PLACES
from toilewright.units import show_length

FOLLOWS = {"upper arm": "bust"}
"""Places that have the size of another one: a sleeve hangs on the armhole."""


@dataclass(frozen=True, slots=True)
class Strip:
    """One girth.

    Attributes:
        row: body and pieces in the chosen size.
        size: what is cut there.
        state: ``short``, ``close``, ``usual``, ``roomy``; ``unknown`` when the body was not measured there.
        picture: markup; "" when there is nothing to draw.
        words: how much ease, the sentence under the drawing and what is asked, as in :func:`_words`.
        choices: by size, what the page needs to show it at once.
        wanted: ease she asked for (mm).
    """

    row: Ease
    size: str
    state: str
    picture: str
    words: dict[str, str]
    choices: dict[str, dict[str, Any]]
    wanted: float | None

    @property
    def key(self) -> str:
        """The place without spaces, for ids."""
        return self.row.place.replace(" ", "-")


def strips(sized: Sized) -> tuple[Strip, ...]:
    """A strip for bust, waist, hip and upper arm, as far as the pieces have them."""
    nest = ease_by_size(sized)
    chosen = sizes_by_place(sized)
    wanted = dict(sized.make.ease)
    now = {row.place: row for row in sized.ease if row.place in EASE_PLACES}
    window = window_of([*(e for by in nest.values() for e in by.values()), *wanted.values(),
                        *(row.ease.value for row in now.values() if row.ease)])
    return tuple(_strip(row, chosen[FOLLOWS.get(place, place)], nest[place], window, wanted.get(place), sized.unit)
                 for place, row in now.items())


def ease_by_size(sized: Sized) -> dict[str, dict[str, float]]:
    """By place and size, the ease of the pieces as bought (mm)."""
    pattern = sized.reading.pattern
    found: dict[str, dict[str, float]] = {place: {} for place in EASE_PLACES}
    for size, garment in zip(pattern.sizes, pattern.garments, strict=True):
        for row in measure_ease(garment, sized.body):
            if row.place in found and row.ease is not None:
                found[row.place][size] = row.ease.value
    return found


def sizes_by_place(sized: Sized) -> dict[str, str]:
    """The size that is cut at bust, waist and hip."""
    chosen = dict(sized.sizes)
    if "all" in chosen:
        return dict.fromkeys(PLACES, chosen["all"])
    order = {"bust": ("bust", "waist", "hip"), "waist": ("waist", "bust", "hip"), "hip": ("hip", "waist", "bust")}
    return {place: next(chosen[p] for p in order[place] if p in chosen) for place in PLACES}


def state_of(ease: float, minimum: float | None, usual: tuple[float, float | None] | None) -> str:
    """How so much ease (mm) stands to what the handbooks ask."""
    if minimum is None or usual is None:
        return "unknown"
    if ease < minimum - 0.5:
        return "short"
    if ease < usual[0] - 0.5:
        return "close"
    return "usual" if usual[1] is None or ease <= usual[1] + 0.5 else "roomy"


def _strip(row: Ease, size: str, nest: Mapping[str, float], window: Window, wanted: float | None,
           unit: str) -> Strip:
    if row.ease is None or row.body is None:
        return Strip(row, size, "unknown", "", {"sentence": row.verdict}, {}, wanted)
    spread = row.ease.spread or 0.0
    words = _words(row, row.ease.value, size, unit)
    zone = None if row.minimum is None or row.usual is None else Zone(row.minimum, row.usual)
    picture = strip_picture(
        window, row.body.value, nest, size, row.ease.value, spread, zone, wanted, unit,
        {"label": say("size.picture", place=row.place, sentence=words["sentence"], asked=words["asked"]),
         "body": say("size.at_body", length=show_length(row.body.value, unit))})
    choices = {name: {**moved(window, ease), "state": state_of(ease, row.minimum, row.usual), "lacking": ease < 0,
                      **_words(row, ease, name, unit)} for name, ease in nest.items()}
    return Strip(row, size, state_of(row.ease.value, row.minimum, row.usual), picture, words, choices, wanted)


def _words(row: Ease, ease: float, size: str, unit: str) -> dict[str, str]:
    """How much; the word for it; what it means at the body; what is asked."""
    assert row.ease is not None and row.body is not None
    state = state_of(ease, row.minimum, row.usual)
    said = {"size": size, "pieces": show_length(row.body.value + ease, unit), "ease": show_length(abs(ease), unit),
            "body": show_length(row.body.value, unit), "fold": show_length(abs(ease) / 4, unit)}
    if ease < 0:
        key = "size.sentence_lacking"
    else:
        key = "size.sentence_arm" if row.place == "upper arm" else "size.sentence"
        said["fold"] = show_length(ease / (2 if row.place == "upper arm" else 4), unit)
    return {"amount": _signed(ease, unit), "word": say(f"size.state_{state}"), "sentence": say(key, **said),
            "asked": asked(row, unit)}


def _signed(ease: float, unit: str) -> str:
    """With a minus that is as long as it should be."""
    return show_length(ease, unit).replace("-", "−")


def asked(row: Ease, unit: str) -> str:
    """What the handbooks ask at least, and what is usual, in words."""
    if row.minimum is None or row.usual is None:
        return ""
    low, high = row.usual
    least = show_length(row.minimum, unit)
    if high is None:
        return say("size.asked_open", least=least)
    return say("size.asked", least=least, low=show_length(low, unit), high=show_length(high, unit))


@dataclass(frozen=True, slots=True)
class TableRow:
    """The same in a plain table: one place, and its ease in the sizes round the chosen one."""

    place: str
    body: str
    pieces: str
    asked: str
    eases: tuple[tuple[str, str], ...]


def table_rows(sized: Sized, around: Sequence[str]) -> tuple[TableRow, ...]:
    """Every girth of the garment, those of a wrap skirt too, for readers who prefer numbers.

    Args:
        around: names of the sizes to show.
    """
    unit = sized.unit
    pattern = sized.reading.pattern
    by_size = {size: {r.place: r for r in measure_ease(pattern.at(size), sized.body)} for size in around}
    out = []
    for row in sized.ease:
        eases = tuple((_amount(by_size[size].get(row.place), unit),
                       _state(by_size[size].get(row.place))) for size in around)
        out.append(TableRow(row.place, show_length(row.body.value, unit) if row.body else say("size.not_taken"),
                            show_length(row.garment.value, unit), asked(row, unit), eases))
    return tuple(out)


def _amount(row: Ease | None, unit: str) -> str:
    return _signed(row.ease.value, unit) if row is not None and row.ease else say("size.unknown")


def _state(row: Ease | None) -> str:
    return state_of(row.ease.value, row.minimum, row.usual) if row is not None and row.ease else "unknown"


def around(sized: Sized) -> tuple[str, ...]:
    """The sizes round the ones that are cut: two smaller to two larger."""
    names = sized.reading.pattern.sizes
    at = [names.index(size) for size in sizes_by_place(sized).values() if size in names] or [0]
    return names[max(min(at) - 2, 0):max(at) + 3]

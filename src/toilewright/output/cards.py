"""Cards that lie beside the tissue: one alteration each, to be followed by hand with a ruler."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from dataclasses import replace

from reportlab.pdfgen.canvas import Canvas

from toilewright.draw.figure import Figure, Pen
from toilewright.files import replacing
from toilewright.fit.result import Card
from toilewright.output.paper import MM, canvas, draw_fitted, ground, wrap, write
from toilewright.units import show_length

_WIDTH, _HEIGHT = 148.0, 210.0
"""mm; A5 (ISO 216)."""

_MARGIN = 11.0
_TEXT = 2.4
"""mm; capitals this tall are read at arm's length."""

_LEAD = 4.7
_LEAST_PICTURE, _MOST_PICTURE = 48.0, 92.0
"""mm; smaller, a picture no longer shows where to cut."""

_LETTERS = 0.5
"""times the height of a figure's letters, which are given for a piece in full size."""

_AMOUNT = re.compile(r"\{(-?[\d.]+) mm\}")
_KEY = {Pen.NEW: "blue: the new line", Pen.OLD: "grey: as bought", Pen.SLASH: "red: cut",
        Pen.FILL: "tinted: added paper"}
_CAUTION = ("Blades and hot irons: cut away from the hand, iron tissue dry and cool. "
            "The card advises; the toile decides.")


def in_her_unit(text: str, unit: str) -> str:
    """Replace every ``{12.5 mm}`` by the amount in her unit.

    >>> in_her_unit("Spread {12.7 mm}.", "in")
    'Spread 1/2 in.'
    """
    return _AMOUNT.sub(lambda found: show_length(float(found[1]), unit), text)


def _words_height(card: Card, unit: str) -> float:
    """What steps, checks and source take below the pictures (mm)."""
    width = _WIDTH - 2 * _MARGIN
    lines = [wrap(in_her_unit(text, unit), _TEXT, width - 7) for text in (*card.steps, *card.check)]
    small = [wrap(text, 1.9, width) for text in (_key(card), f"After: {card.source}", _CAUTION) if text]
    return sum(len(block) * _LEAD + 1.1 for block in (*lines, *small)) + (_LEAD + 4.0 if card.check else 0.0)


def _key(card: Card) -> str:
    """What the pens of a card's pictures mean."""
    used = {mark.pen for figure in card.figures[:2] for mark in figure.marks}
    said = "; ".join(words for pen, words in _KEY.items() if pen in used)
    return f"{said[0].upper()}{said[1:]}." if said else ""


class _Sheet:
    """Where the next line goes on the current A5 page."""

    def __init__(self, pdf: Canvas, title: str) -> None:
        self.pdf, self.title, self.y = pdf, title, 0.0
        self.turn_over(first=True)

    def turn_over(self, first: bool = False) -> None:
        if not first:
            self.pdf.showPage()
        self.y = _HEIGHT - _MARGIN - 4
        for line in wrap(self.title, 4.2, _WIDTH - 2 * _MARGIN, bold=True):
            write(self.pdf, line, complex(_MARGIN, self.y), 4.2, bold=True)
            self.y -= 7.5
        self.pdf.setLineWidth(0.3 * MM)
        self.pdf.line(_MARGIN * MM, (self.y + 2.5) * MM, (_WIDTH - _MARGIN) * MM, (self.y + 2.5) * MM)
        self.y -= 4

    def room(self, needed: float) -> None:
        if self.y - needed < _MARGIN - 1:
            self.turn_over()

    def say(self, text: str, indent: float = 0.0, mark: str = "", height: float = _TEXT) -> None:
        lines = wrap(text, height, _WIDTH - 2 * _MARGIN - indent)
        self.room(len(lines) * _LEAD)
        for i, line in enumerate(lines):
            if mark and i == 0:
                write(self.pdf, mark, complex(_MARGIN, self.y), height, bold=True)
            write(self.pdf, line, complex(_MARGIN + indent, self.y), height)
            self.y -= _LEAD
        self.y -= 1.1

    def tick(self, text: str) -> None:
        lines = wrap(text, _TEXT, _WIDTH - 2 * _MARGIN - 7)
        self.room(len(lines) * _LEAD)
        self.pdf.rect(_MARGIN * MM, (self.y - 0.5) * MM, 3.2 * MM, 3.2 * MM)
        for line in lines:
            write(self.pdf, line, complex(_MARGIN + 7, self.y), _TEXT)
            self.y -= _LEAD
        self.y -= 1.1


def write_cards(cards: Sequence[Card], path: str | os.PathLike[str], unit: str = "cm") -> None:
    """Write one A5 card (or more pages, when long) for each alteration.

    Args:
        cards: in the order in which they are to be made.
        unit: ``cm`` or ``in``, for every amount.
    """
    with replacing(path) as name:
        pdf = canvas(name, _WIDTH, _HEIGHT, "Cards for the alterations")
        if not cards:
            write(pdf, "No alterations were asked for.", complex(_MARGIN, _HEIGHT - 20), 3.2)
            pdf.showPage()
        for number, card in enumerate(cards, start=1):
            _card(pdf, card, f"{number} of {len(cards)}", unit)
        pdf.save()


def _card(pdf: Canvas, card: Card, place: str, unit: str) -> None:
    sheet = _Sheet(pdf, in_her_unit(card.title, unit))
    if card.need:
        sheet.say("At hand: " + ", ".join(in_her_unit(n, unit) for n in card.need) + ".")
    _figures(sheet, card, unit)
    if _key(card):
        sheet.say(_key(card), height=1.9)
    for i, step in enumerate(card.steps, start=1):
        sheet.say(in_her_unit(step, unit), 7, f"{i}.")
    if card.check:
        sheet.room(14)
        sheet.y -= 1.5
        sheet.say("When it is done:", height=2.6)
        for line in card.check:
            sheet.tick(in_her_unit(line, unit))
    sheet.say(f"After: {card.source}", height=1.9)
    sheet.say(_CAUTION, height=1.9)
    write(pdf, f"card {place}", complex(_WIDTH - _MARGIN, _MARGIN - 4), 1.9, anchor="end")
    pdf.showPage()


def _figures(sheet: _Sheet, card: Card, unit: str) -> None:
    """Up to two pictures side by side, as tall as the words leave room for."""
    shown = card.figures[:2]
    if not shown:
        return
    tall = min(max(sheet.y - _MARGIN - 4 - _words_height(card, unit), _LEAST_PICTURE), _MOST_PICTURE)
    width = (_WIDTH - 2 * _MARGIN - 4 * (len(shown) - 1)) / len(shown)
    sheet.room(tall)
    for i, figure in enumerate(shown):
        left = _MARGIN + i * (width + 4)
        told = replace(figure, captions=tuple(replace(c, text=in_her_unit(c.text, unit)) for c in figure.captions))
        box = (left, sheet.y - tall + 6, left + width, sheet.y)
        room = _room(told, box)
        scale = draw_fitted(sheet.pdf, told, room, letters=_LETTERS)
        if figure.title:
            _, low, _, high = told.bounds()
            foot = (room[1] + room[3] - (high - low) * scale) / 2 - (room[1] - box[1])
            middle = (room[0] + room[2]) / 2
            write(sheet.pdf, figure.title, complex(middle, foot - 4.5), 1.9, anchor="middle")
    sheet.y -= tall + 5


def _room(figure: Figure, box: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
    """The part of a box (mm) that leaves room for the captions, which keep their size however small the piece."""
    x0, y0, x1, y1 = figure.bounds()
    left = low = right = high = 0.0
    for _ in range(3):
        wide, tall = box[2] - box[0] - left - right, box[3] - box[1] - low - high
        scale = max(min(wide / max(x1 - x0, 1e-6), tall / max(y1 - y0, 1e-6), 1.0), 1e-6)
        spots = [ground(replace(c, at=c.at * scale, height=c.height * _LETTERS)).bounds for c in figure.captions]
        left = max([0.0, *(x0 * scale - s[0] for s in spots)])
        low = max([0.0, *(y0 * scale - s[1] + 0.5 for s in spots)])
        right = max([0.0, *(s[2] - x1 * scale for s in spots)])
        high = max([0.0, *(s[3] - y1 * scale for s in spots)])
    return box[0] + left, box[1] + low, box[2] - right, box[3] - high

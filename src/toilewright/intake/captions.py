"""Words put into lines, and what the lines say: piece names, cut counts, fold, allowance."""

from __future__ import annotations

import cmath
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from toilewright.errors import UnitError
from toilewright.geometry.point import Point
from toilewright.intake.drawing import Word
from toilewright.intake.sizes import size_name
from toilewright.units import parse_length

LETTER = 0.55
"""Width of an average letter over the letter height given by the file (common for sans-serif faces)."""

_NUMBER = r"(\d+\s+\d+\s*/\s*\d+|\d+\s*/\s*\d+|\d+(?:[.,]\d+)?\s?[½¼¾⅛⅜⅝⅞⅓⅔]?|[½¼¾⅛⅜⅝⅞⅓⅔])"
_UNIT = r"(mm|cm|inch(?:es)?|in\b\.?|\"|”|″|zoll|pouces?)"
AMOUNT = _NUMBER + r"\s*-?\s*" + _UNIT
"""Pattern of a length with its unit, as words on a sheet give it: its groups are the number and the unit."""

_AMOUNT = re.compile(AMOUNT, re.I)
_FOREIGN = {"zoll": "in", "pouce": "in", "pouces": "in", "in.": "in"}
_ALLOWANCE = re.compile(
    r"seam\s*-?\s*allowances?|\bseams?\s+(?:(?:is|are)\s+)?included|nahtzugaben?|\bs\.?a\.?\b|"
    r"(?:marges?|valeurs?)\s+de\s+couture", re.I)
_NONE = re.compile(r"\b(?:no\s+seam|without|none|excl\w*|ohne|sans|not\s+(?:been\s+)?(?:incl|added)\w*|nicht\s+enth\w*|"
                   r"zzgl|add\s[^.;]*seam|(?:must|to|should)\s+be\s+added)\b", re.I)
_CLAUSE = re.compile(r"[;,.]\s+|\band\b|\bund\b|\bet\b", re.I)
_HEM = re.compile(r"\bhems?\b|\bsaum\b|\bourlets?\b", re.I)

FOLD = re.compile(r"\bfold\b|\bstoffbruch\b|\bbruch\b|\bpli(?:ure)?\b|\bi\.?\s?br\b", re.I)
GRAIN = re.compile(r"\bgrain(?:line)?\b|\bfadenlauf\b|\bdroit[\s-]fil\b", re.I)
_NUM_WORD = {"one": 1, "two": 2, "three": 3, "four": 4, "a": 1, "single": 1}
_COUNT = r"(\d{1,2}|one|two|three|four|a|single)"
_CUT = re.compile(
    rf"\b(?:cut|zuschneiden|schneiden|couper|taglia(?:re)?)\s*:?\s*{_COUNT}\b|\b{_COUNT}\s*(?:x|×)(?:\s+(?!\d)|$)|"
    r"(?<![\d.,])(?<!\d\s)(?:\bx|×)\s?(\d{1,2})\b(?!\s*(?:[cm]m|in\b|[\"”″.,]))", re.I)
_CUT_AFTER = re.compile(rf"\b{_COUNT}\s*(?:x|×|mal)?\s*(?:zuschneiden|cut)\b|\bquantity\s*:?\s*{_COUNT}\b", re.I)
_PAIR = re.compile(rf"\b(?:{_COUNT}\s+)?(pairs?|paare?|paires?|mirrored|gegengleich\w*)\b", re.I)
_NOT_A_NAME = re.compile(
    r"\b(size|gr\.|grain|place|lengthen|shorten|allowance|test|square|page|copyright|©|notch|"
    r"layers?|scale|print|waist ?line|bust ?line|hip ?line|(?<!\ba[- ])line|(?:centre|center)\s+(?:front|back)$|dart|"
    r"gather|fadenlauf|bruch|pli|droit|apex|match|join|stitch|fold here|here)\b", re.I)
_LABEL = re.compile(
    r"^\s*(?:piece(?:\s+name)?|pattern\s+piece|teil|schnittteil|pi[eè]ce|name|no\.?|nr\.?|#)\s*[:.]?\s*", re.I)
_LEADING = re.compile(
    r"^\s*(?:[#(]?\d{1,3}(?:\s*(?:/|of|von|sur|de)\s*\d{1,3})?[.):]*|\(?[a-z][.):]|[A-Z](?=\s+(?!line\b)))"
    r"(?:\s*[-–—:|]+\s+|\s+)", re.I)
_PARTED = re.compile(r"\s+[-–—|/]+\s+|[,;]\s*|\s*\(|\)|:\s+")
_SIZED = re.compile(r"\bsizes?\b.*$|\s(?:\d{2}|x{0,4}[sl]|m)\s*$", re.I)
_MORE = re.compile(
    r"(?:(?:front|back|left|right|upper|under|lower|side|neck|centre|center|bodice|skirt|sleeve|facing|waistband|"
    r"trousers?|lining|vorder\w*|rück\w*|devant|dos)\b\s*)+$", re.I)

@dataclass(frozen=True, slots=True)
class CaptionLine:
    """Words that stand on one line: their text, start of the baseline, letter height, angle, likely width (mm)."""

    text: str
    at: Point
    height: float
    angle: float
    width: float
    words: tuple[Word, ...]

    @property
    def middle(self) -> Point:
        """Likely middle of the words."""
        return self.at + complex(self.width / 2, 0.35 * self.height) * cmath.rect(1.0, self.angle)


@dataclass(frozen=True, slots=True)
class CutNote:
    """What a piece's words say about cutting it; None where they are silent."""

    count: int | None = None
    mirrored: bool | None = None
    on_fold: bool = False


def caption_lines(words: Iterable[Word]) -> tuple[CaptionLine, ...]:
    """Words that follow one another on a baseline, put together."""
    lines: list[CaptionLine] = []
    ordered = sorted((w for w in words if w.text.strip()),
                     key=lambda w: (w.block, round(w.angle, 2), -round((w.at * cmath.rect(1, -w.angle)).imag, 1),
                                    (w.at * cmath.rect(1, -w.angle)).real))
    for word in ordered:
        text = word.text.strip()
        width = LETTER * word.height * len(text)
        last = lines[-1] if lines else None
        if last and _follows(last, word):
            reach = ((word.at - last.at) * cmath.rect(1, -last.angle)).real + width
            lines[-1] = CaptionLine(f"{last.text} {text}", last.at, last.height, last.angle, reach, (*last.words, word))
        else:
            lines.append(CaptionLine(text, word.at, word.height, word.angle, width, (word,)))
    return tuple(lines)


def _follows(line: CaptionLine, word: Word) -> bool:
    """Does the word go on where the line stops, in one hand?"""
    if line.words[-1].block != word.block or abs(line.angle - word.angle) > 0.02:
        return False
    if abs(line.height - word.height) > 0.1 * line.height:
        return False
    way = (word.at - line.at) * cmath.rect(1, -line.angle)
    return abs(way.imag) < 0.3 * line.height and -0.3 * line.width < way.real - line.width < 1.2 * line.height


def piece_name(lines: Sequence[CaptionLine]) -> str | None:
    """The name among the words on a piece: the largest line that is no size, count or instruction; tidied.

    >>> line = lambda t: CaptionLine(t, 0j, 4.0, 0.0, 10.0, ())
    >>> piece_name([line("Size 38"), line("1 Front bodice – cut 1 on fold")])
    'front bodice'
    """
    best: tuple[float, float, str] | None = None
    for line in lines:
        name = tidy_name(line.text)
        if name and (best is None or (round(line.height, 1), line.at.imag) > best[:2]):
            best = (round(line.height, 1), line.at.imag, name)
    return best[2] if best else None


def tidy_name(text: str) -> str:
    """A piece's name without number, count, size or fold; lower case; "" when nothing is left.

    >>> tidy_name("Piece 2 of 6: Skirt, back (cut 2)"), tidy_name("A - Sleeve x2")
    ('skirt back', 'sleeve')
    """
    parts = [p for p in _PARTED.split(_LEADING.sub("", _LABEL.sub("", text.replace("_", " ")))) if p.strip()]
    kept = [_without_count(p) for p in parts[:1]]
    for before, part in pairwise(parts):
        if before.strip() != kept[-1] or not _MORE.match(part.strip()):
            break
        kept.append(part.strip())
    name = re.sub(r"\s+", " ", " ".join(kept)).strip(" .:-–—#\"'").lower()
    letters = re.findall(r"[^\W\d_]", _AMOUNT.sub("", text))
    if len(letters) < 3 or len(name) < 3 or size_name(name) or _NOT_A_NAME.search(name) or _ALLOWANCE.search(name):
        return ""
    return name if len(name) <= 60 else ""


def _without_count(text: str) -> str:
    """A name without what follows it: how often it is cut, fold, sizes; or without a count before it."""
    for cut in (_CUT, _CUT_AFTER, _PAIR):
        found = cut.search(text)
        if found:
            text = text[:found.start()] if found.start() else text[found.end():]
    text = re.sub(r"\b(?:place\s+)?(?:on|at)?\s*(?:the\s+)?fold\b.*$", "", text, flags=re.I)
    return _SIZED.sub("", text).strip()


def cut_note(lines: Iterable[CaptionLine]) -> CutNote:
    """Cut counts, pairs and folds in the words on a piece.

    >>> line = lambda t: CaptionLine(t, 0j, 4.0, 0.0, 10.0, ())
    >>> cut_note([line("Cut 1 pair")]), cut_note([line("cut 1 on fold")])
    (CutNote(count=2, mirrored=True, on_fold=False), CutNote(count=1, mirrored=False, on_fold=True))
    """
    count, mirrored, fold = None, None, False
    for line in lines:
        text = line.text
        fold = fold or bool(FOLD.search(text))
        cut = _CUT.search(text) or _CUT_AFTER.search(text)
        pair = _PAIR.search(text)
        if pair and (cut or re.search(r"\bcut\b", text, re.I) or len(text) < 30):
            said = re.search(rf"\b{_COUNT}\s+{pair[2]}", text, re.I)
            count = 2 * _int(said[1]) if said else (_int(next(g for g in cut.groups() if g)) if cut else 2)
            mirrored = True
        elif cut and count is None:
            count = _int(next(g for g in cut.groups() if g))
    if fold and mirrored is None:
        mirrored = False
    return CutNote(count, mirrored, fold)


def allowance(lines: Iterable[CaptionLine]) -> float | None:
    """The seam allowance that the sheet says is included (mm), 0 for none, None when it says nothing.

    >>> line = lambda t: CaptionLine(t, 0j, 4.0, 0.0, 10.0, ())
    >>> allowance([line("Hem 4 cm, seam allowance 1.5 cm")]), allowance([line("Add 1 cm seam allowance")])
    (15.0, 0.0)
    """
    for line in lines:
        if not _ALLOWANCE.search(line.text):
            continue
        # Brackets hold the same amount in another unit, unless hems are spoken of as well.
        text = line.text.replace("(", ", ") if _HEM.search(line.text) else line.text
        clauses = [c for c in _CLAUSE.split(text) if not _HEM.search(c)] or [line.text]
        said = sorted(clauses, key=lambda c: not _ALLOWANCE.search(c))
        none = any(_NONE.search(c) for c in said)
        amounts = [found for c in said if not _NONE.search(c) and (found := _AMOUNT.search(c))]
        if not amounts and not none and (found := _AMOUNT.search(line.text)):
            amounts = [found]  # "seam allowances and hems 1.5 cm"
        if amounts and not (none and not _ALLOWANCE.search(amounts[0].string)):
            return amount_mm(amounts[0][1], amounts[0][2])
        if none:
            return 0.0
    return None


def amount_mm(number: str, unit: str) -> float | None:
    """The mm of an `AMOUNT`, from its two groups; None where the number is none.

    >>> amount_mm("½", "Zoll"), amount_mm("2,5", "cm")
    (12.7, 25.0)
    """
    try:
        return parse_length(f"{number} {_FOREIGN.get(unit.lower(), unit)}")
    except UnitError:
        return None


def _int(text: str) -> int:
    return _NUM_WORD.get(text.lower()) or int(text)

"""What she says she saw, in plain English, understood as an observation; never guessed at."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from toilewright.errors import InputError, UnitError
from toilewright.fit.toile.observations import Observation, Sign, all_signs, told
from toilewright.units import parse_length

LONGEST = 300
"""characters of one saying; a longer one is a story."""

_NUMBER = r"(?:\d+[\s-]+\d+\s*/\s*\d+|\d+\s*/\s*\d+|\d*[.,]?\d+\s*[½¼¾⅛⅜⅝⅞⅓⅔]?|[½¼¾⅛⅜⅝⅞⅓⅔])"
_UNIT = r"(?:mm|cm|millimet(?:re|er)s?|centimet(?:re|er)s?|inch(?:es)?|ins?\b|''|[\"″”“])"
_AMOUNT = re.compile(rf"(?<![\w.,])({_NUMBER})\s*({_UNIT})?(?![\w/])", re.IGNORECASE)
_MINUS = re.compile(r"(?:^|\s)[-−–]$")
_SIDE = re.compile(r"\b(?:(?:on|at|of) (?:the|her|my) )?(?P<side>left|right)(?: (?:side|half|hand))?\b")
_BOTH = re.compile(r"\b(?:on )?both (?:sides|halves)\b")
_VERB = re.compile(r"\b(pinch(?:ed|ing)?|pinned|pin|folded|opened|opens|open|let out|slashed|spread|parted)\b"
                   r"(?: out| up)?(?: by)?")
_PINS = ("pinch", "pin", "fold")

_PHRASES = {
    "in front of": "before", "in back of": "behind", "at the back": "behind", "in the back": "behind",
    "at the front": "in front", "too far": "far", "shoulder bone": "shoulderbone", "center": "centre",
    "bust apex": "bust point", "arm hole": "armhole", "armscye": "armhole", "sleeve cap": "sleeve head",
    "muslin": "toile", "bottom": "seat", "buttocks": "seat", "tummy": "abdomen", "stomach": "abdomen",
    "towards": "to", "toward": "to", "wrinkle": "fold", "crease": "fold", "biceps": "upper arm", "hips": "hip",
    "can't": "cannot", "can not": "cannot", "gaping": "gape", "gaps": "gape", "swinging": "swing", "dipping": "dip",
    "rising": "rise", "pulling": "pull", "binding": "bind", "ending": "end", "twisting": "twist", "cutting": "cut"}

_RELATIONS = frozenset(("before", "behind", "above", "below", "under", "inside", "outside", "beyond", "past"))
"""Words whose two sides must not change places: a seam before the bone is no bone before the seam."""

_FILLERS = frozenset(re.findall("[a-z]+", """
    a an the my her its it is are was were of on at in by to too across about some roughly nearly almost around and that
    there this when with round toile lie lies lying run runs running hang hangs hanging sits slightly i she me"""))


def read_saying(text: str, unit: str = "cm") -> Observation:
    """What she saw, from a sentence in the trade's words.

    Args:
        unit: of a number that names none.

    Raises:
        InputError: it is not understood; the nearest known sayings are offered.
        UnitError: its amount cannot be read.

    >>> read_saying("dart ends 2 cm below the bust point")
    Observation(sign='dart ends below the bust point', amount=20.0, side='both')
    >>> read_saying("folds under the nape, pinched 1.5 cm").amount
    15.0
    """
    plain = " ".join(text.lower().split())
    if not plain or len(text) > LONGEST:
        raise InputError(f'"{text[:40]}" is not a saying about a toile; say one thing at a time, such as "dart ends '
                         '2 cm below the bust point".')
    rest, amount = _take_amount(plain, unit, text)
    rest, verb = _take_verb(rest) if amount is not None else (rest, "")
    rest, side = _take_side(rest)
    sign = _recognised(rest, text)
    if verb and sign.takes in ("pinch", "opening") and verb != sign.takes:
        other = "pinched" if sign.takes == "pinch" else "opened"
        raise InputError(f'"{sign.name}" is {other}, not {"opened" if other == "pinched" else "pinched"}; it is taken '
                         f"so: {sign.how}.")
    return Observation(sign.name, amount, side)


def example(sign: Sign) -> str:
    """How a sign is said with a measure, to show her."""
    return f"{sign.name} {told(sign.takes, 20.0)}" if sign.takes else sign.name


# -- taking a sentence apart ----------------------------------------------------------------------------


def _take_amount(plain: str, unit: str, said: str) -> tuple[str, float | None]:
    """The sentence without its length, and the length in mm."""
    found = list(_AMOUNT.finditer(plain))
    if not found:
        return plain, None
    if len(found) > 1:
        raise UnitError(f'"{said}" names more than one length; say one thing at a time, with one length.')
    at = found[0]
    if _MINUS.search(plain[:at.start()]):
        raise UnitError(f'"{said}" has a length below nothing; say the opposite, such as above for below, with its '
                        "plain length.")
    amount = parse_length(" ".join(filter(None, (at[1], at[2]))), unit)
    return f"{plain[:at.start()]} {plain[at.end():]}", amount


def _take_verb(plain: str) -> tuple[str, str]:
    """The sentence without "pinched by" or "opened by", and which of them it was."""
    found = list(_VERB.finditer(plain))
    if not found:
        return plain, ""
    last = found[-1]
    verb = "pinch" if last[1].startswith(_PINS) else "opening"
    return f"{plain[:last.start()]} {plain[last.end():]}", verb


def _take_side(plain: str) -> tuple[str, str]:
    plain = _BOTH.sub(" ", plain)
    found = _SIDE.search(plain)
    if not found:
        return plain, "both"
    return f"{plain[:found.start()]} {plain[found.end():]}", found["side"]


def _plain_words(text: str) -> list[str]:
    """The words that carry the meaning, in their order, without endings."""
    plain = text.lower()
    for said, meant in _PHRASES.items():
        plain = re.sub(rf"\b{re.escape(said)}(?=\b|s\b)", meant, plain)
    return [_stem(w) for w in re.findall(r"[a-z']+", plain) if w not in _FILLERS]


def _meaning(text: str) -> tuple[frozenset[str], frozenset[str]]:
    """All words that carry the meaning, and those of them that stand before "behind", "below" and the like."""
    words = _plain_words(text)
    at = next((i for i, w in enumerate(words) if w in _RELATIONS), 0)
    return frozenset(words), frozenset(words[:at])


def _stem(word: str) -> str:
    word = word.removesuffix("'s")
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


# -- knowing it again -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Saying:
    """One saying: its words, those before its relation, and its sign."""

    words: frozenset[str]
    subject: frozenset[str]
    sign: Sign

    def means(self, words: frozenset[str], subject: frozenset[str]) -> bool:
        """Is it said with these words, none left over but those that may be?"""
        fits = self.words <= words and words - self.words <= {_stem(w) for w in self.sign.may}
        return fits and (not self.subject or not subject or self.subject == subject - {_stem(w) for w in self.sign.may})


@lru_cache(maxsize=1)
def _known() -> tuple[_Saying, ...]:
    return tuple(_Saying(*_meaning(said), sign) for sign in all_signs() for said in (sign.name, *sign.sayings))


def _recognised(plain: str, said: str) -> Sign:
    """The sign that is meant, no word left over."""
    words, subject = _meaning(plain)
    found = [known for known in _known() if known.means(words, subject)]
    if found:
        return max(found, key=lambda known: len(known.words)).sign
    near = ", ".join(f'"{name}"' for name in _nearest(words, said))
    raise InputError(f'"{said}" is not understood as something that a toile shows; near to it are {near}. Say one of '
                     "these, with its length behind it.")


def _nearest(words: frozenset[str], said: str) -> Iterable[str]:
    """The three signs that share most with what was said."""
    def likeness(known: _Saying) -> float:
        shared = len(known.words & words) / max(len(known.words | words), 1)
        return shared + 0.5 * difflib.SequenceMatcher(None, said.lower(), known.sign.name).ratio()

    ranked = sorted(_known(), key=likeness, reverse=True)
    return list(dict.fromkeys(known.sign.name for known in ranked))[:3]

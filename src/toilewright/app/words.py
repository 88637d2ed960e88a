"""All words of the screens, in one catalogue: a folder for each language, a file for each screen."""

from __future__ import annotations

import json
import re
import tomllib
from functools import lru_cache
from pathlib import Path

from toilewright.units import show_length

FOLDER = Path(__file__).parent / "words"
_BLANK = re.compile(r"\{(\w+)\}")
_ON_PAGE = ((re.compile(r"\b(?:in|into|on) the labels(?: file)?\b"), "on the pattern's page"),
            (re.compile(r"\bby the labels\b"), "by its names"),
            (re.compile(r"\bthe labels(?: file)?\b"), "the names on the pattern's page"))
_MILLIMETRES = re.compile(r"(?<![\d.,])(\d+(?:\.\d+)?) mm\b")


@lru_cache
def catalogue(language: str = "en") -> dict[str, str]:
    """Every phrase by its key, ``screen.name``."""
    found = {}
    for path in sorted((FOLDER / language).glob("*.toml")):
        for name, phrase in tomllib.loads(path.read_text(encoding="utf-8")).items():
            found[f"{path.stem}.{name}"] = phrase
    return found


def say(key: str, /, **values: object) -> str:
    """One phrase with its ``{name}`` places filled.

    A phrase about a number `n` may have a second form for one, under the key with ``_one`` behind it.

    Raises:
        KeyError: the catalogue has no such phrase.
    """
    phrases = catalogue()
    if values.get("n") == 1 and f"{key}_one" in phrases:
        key = f"{key}_one"
    return _BLANK.sub(lambda blank: str(values.get(blank[1], blank[0])), phrases[key])


def on_page(sentence: str, unit: str) -> str:
    """A sentence of the core as it is right on a page: names are written there, not in a file, and in her unit."""
    for said, meant in _ON_PAGE:
        sentence = said.sub(meant, sentence)
    return _MILLIMETRES.sub(lambda found: inches(float(found[1])), sentence) if unit == "in" else sentence


def inches(mm: float) -> str:
    """A small length in eighths of an inch; never nothing where there is something."""
    said = show_length(mm, "in")
    return say("common.hardly_inch") if said == "0 in" and mm else said


@lru_cache
def catalogue_script() -> str:
    """The catalogue as a module for the browser."""
    return f"export const phrases = {json.dumps(catalogue(), ensure_ascii=False)};\n"

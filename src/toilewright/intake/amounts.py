"""Allowances that the words on a sheet give for single edges: "hem 3 cm", "2 cm at centre back"."""

from __future__ import annotations

import re
from collections.abc import Iterable

from toilewright.intake.captions import AMOUNT, amount_mm, caption_lines
from toilewright.intake.drawing import Word

_WORDS = {"hem": r"\bhems?\b|\bsaum\w*|\bourlets?\b"}
LARGEST = 200.0
"""mm; no allowance is wider."""


def edge_amount(words: Iterable[Word], edge: str) -> float | None:
    """What the words give for an edge (mm), or None when they do not speak of it.

    >>> edge_amount([Word("Hem 3 cm, centre back 2 cm", 0j, 4.0)], "centre back")
    20.0
    """
    name = _WORDS.get(edge) or re.escape(edge).replace("centre", "cent(?:re|er)").replace(r"\ ", r"[\s-]+")
    for line in caption_lines(words):
        found = (re.search(rf"(?:{name})[^\d,;]{{0,24}}?{AMOUNT}", line.text, re.I)
                 or re.search(rf"{AMOUNT}\s*(?:at|on|an|am|au)?\s*(?:the\s+)?(?:{name})", line.text, re.I))
        if found and (amount := amount_mm(found[1], found[2])) is not None:
            return amount if 0 <= amount <= LARGEST else None
    return None

"""Content streams of PDF taken apart in bulk: whole runs of path numbers are one token."""

from __future__ import annotations

import re

_ENDS = rb"\s()<>\[\]{}/%\0"
_TEXT = rb"\((?:[^()\\]++|\\.)*+\)"
for _ in range(3):  # strings may hold balanced brackets
    _TEXT = rb"\((?:[^()\\]++|\\.|" + _TEXT + rb")*+\)"

TOKEN = re.compile(
    rb"[\d.+\-mlcvyhre][\d.+\-\s\0mlcvyhre]*(?![A-Za-z'\"*])"   # numbers and path operators, as many as there are
    rb"|[A-Za-z'\"*][A-Za-z\d'\"*]*"
    rb"|/[^" + _ENDS + rb"]*"
    rb"|" + _TEXT + rb"|\((?:[^()\\]++|\\.?+)*+|<<|>>|<[\da-fA-F\s]*+>|[\[\]]|%[^\r\n]*", re.S)
"""A run of numbers and path operators, an operator, a name, a string, a bracket, or a remark.

A string without an end is taken up to the next bracket, so that no text is looked through many times."""

LETTERS = bytes(range(256)).translate(None, b"mlcvyhre")
"""What to delete from a run to keep its operators."""

BLANK = bytes(32 if chr(i) in "mlcvyhre\0" else i for i in range(256))
"""What turns a run into numbers and blanks."""

_FAR = 1e12
"""Larger numbers are slips; cut down to this they stay finite, and are found to be out of reach later."""

_INLINE = re.compile(rb"(?<![^\s\0])BI\s")
_DATA = re.compile(rb"\sID\s")
_END = re.compile(rb"(?<=[\s\0>])EI(?![^\s\0])")
_ESCAPE = re.compile(rb"#([\da-fA-F]{2})")
_NUMBER = re.compile(rb"[+-]*(\d*\.?\d*)")


def tokens(data: bytes) -> list[bytes]:
    """The tokens of a content stream, without its inline pictures."""
    return TOKEN.findall(_without_pictures(data))


def _without_pictures(data: bytes) -> bytes:
    """The stream without ``BI ... ID ... EI``; a picture that does not end swallows the rest."""
    if b"BI" not in data:
        return data
    kept, at = [], 0
    begin = _DATA.search(data)
    for found in _INLINE.finditer(data):
        if found.start() < at:
            continue
        if begin and begin.start() < found.end() - 1:
            begin = _DATA.search(data, found.end() - 1)
        if begin is None:
            break
        if begin.start() > found.end() + 4000:
            continue
        kept.append(data[at:found.start()])
        end = _END.search(data, begin.end())
        at = end.end() if end else len(data)
    return b" ".join((*kept, data[at:]))


def numbers(text: bytes) -> list[float]:
    """The numbers of a text without operators; slips such as ``--5`` or ``1.2.3`` are read as far as they go."""
    parts = text.split()
    try:
        values = list(map(float, parts))
    except ValueError:
        values = [_lenient(part) for part in parts]
    if values and (max(values) > _FAR or min(values) < -_FAR):
        return [min(max(v, -_FAR), _FAR) for v in values]
    return values


def _lenient(part: bytes) -> float:
    found = _NUMBER.match(part)
    try:
        value = float(found.group(1)) if found else 0.0
    except ValueError:
        return 0.0
    return -value if part.startswith(b"-") else value


def name_of(token: bytes) -> str:
    """A name token as a key of a resource dictionary: ``/A#20B`` is ``/A B``."""
    return _ESCAPE.sub(lambda m: bytes([int(m.group(1), 16)]), token).decode("utf-8", "replace")

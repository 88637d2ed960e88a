"""Readings and labels as plain bytes and values, checked on the way in.

A reading made in a process of its own comes back this way: the bytes may hold anything, but only values of our own
types, each of the right kind, come out.
"""

from __future__ import annotations

from typing import Any

import msgspec

from toilewright.errors import FileError, InputError
from toilewright.intake.label_types import Labels
from toilewright.make.reading import Reading

_READING = msgspec.msgpack.Decoder(Reading, dec_hook=lambda kind, value: _point(kind, value))
_WRITER = msgspec.msgpack.Encoder(enc_hook=lambda value: _pair(value))


def pack_reading(reading: Reading) -> bytes:
    """A reading as MessagePack bytes."""
    return _WRITER.encode(reading)


def unpack_reading(data: bytes) -> Reading:
    """The reading of such bytes.

    Raises:
        FileError: they are not what :func:`pack_reading` writes.
    """
    try:
        return _READING.decode(data)
    except (msgspec.DecodeError, InputError, ValueError) as problem:
        raise FileError(f"A kept reading is damaged ({problem}); read the pattern file again.") from None


def plain_labels(labels: Labels) -> dict[str, Any]:
    """Labels as plain values for a document, lists and tables only."""
    return msgspec.json.decode(msgspec.json.encode(labels))


def labels_from(plain: object) -> Labels:
    """The labels of plain values.

    Raises:
        InputError: something in them is not what labels are made of, said with its place.
    """
    try:
        return msgspec.convert(plain, Labels)
    except msgspec.ValidationError as problem:
        raise InputError(
            f"The names of this pattern cannot be used ({problem}); start again from the guesses.") from None


def _pair(value: object) -> object:
    if isinstance(value, complex):
        return (value.real, value.imag)
    raise NotImplementedError(type(value).__name__)


def _point(kind: type, value: object) -> object:
    if kind is complex and isinstance(value, (list, tuple)) and len(value) == 2 \
            and all(isinstance(v, (int, float)) for v in value):
        return complex(*value)
    raise ValueError(f"no {kind.__name__}: {value!r}")

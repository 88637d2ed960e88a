"""A packed file, read with no trust in it: names, counts, sizes and digests are looked at before anything is used."""

from __future__ import annotations

import datetime
import hashlib
import io
import re
import zipfile
import zlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import msgspec

from toilewright import __version__
from toilewright.errors import FileError, InputError
from toilewright.workroom.chain import Record, Way, is_chain
from toilewright.workroom.checks import LONGEST_TEXT, check_values, checked, encoded, files_of, plain
from toilewright.workroom.documents import Kind

FORMAT = 1

MOST_ENTRIES = 20_000
MOST_REVISIONS = 200_000
LARGEST_ENTRY = 200_000_000
LARGEST = 1_000_000_000
"""bytes of all entries together, unpacked; a hundred patterns with photographs take half of it."""

_MANIFEST = "manifest.json"
_NAMED = re.compile(r"things/([A-Za-z0-9_-]{1,40})\.json|files/([0-9a-f]{64})")
_BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, RuntimeError, NotImplementedError, ValueError, OSError, KeyError)
"""what the standard library says of archives that are damaged, locked, or packed in a way of their own."""


class Refused(FileError):
    """A packed file that is not taken in."""


class _Entry(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    name: str
    sha256: str
    size: int


class _Manifest(msgspec.Struct, frozen=True):
    program: str
    format: int
    version: str
    made: str
    entries: list[_Entry]


class _Revision(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    number: int
    document: Any
    way: Way
    words: str
    at: str
    device: str
    removed: bool
    state: int
    before: int | None
    tip: int


class _Thing(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    id: str
    kind: Kind
    revisions: list[_Revision]


@dataclass(frozen=True, slots=True)
class Packed:
    """A thing with its whole history."""

    id: str
    kind: Kind
    records: tuple[Record, ...]


class Pack:
    """A packed file that has been looked through.

    Attributes:
        things: with their histories; files are read by :meth:`file` when they are wanted.
    """

    def __init__(self, data: bytes) -> None:
        """Look a packed file through.

        Raises:
            FileError: it is damaged, too large, of a newer program, or holds what does not belong into it.
        """
        with _Reading():
            self._archive = zipfile.ZipFile(io.BytesIO(data))
            self._entries = self._manifest()
            self.things = tuple(self._thing(name) for name in self._entries if name.startswith("things/"))
        if sum(len(thing.records) for thing in self.things) > MOST_REVISIONS:
            raise _refused("it holds more revisions than anybody makes")

    def __contains__(self, sha: str) -> bool:
        """Is that file in it?"""
        return f"files/{sha}" in self._entries

    def file(self, sha: str) -> bytes:
        """The bytes of a file in it; FileError when they are not what they should be."""
        with _Reading():
            return self._read(self._entries[f"files/{sha}"])

    def _manifest(self) -> dict[str, _Entry]:
        infos = self._archive.infolist()
        names = {info.filename for info in infos}
        if len(infos) > MOST_ENTRIES or len(names) < len(infos):
            raise _refused("it holds too many entries, or one twice")
        if any(info.file_size > LARGEST_ENTRY for info in infos) or sum(info.file_size for info in infos) > LARGEST:
            raise _refused("unpacked it would be larger than a whole workroom")
        if _MANIFEST not in names:
            raise _refused("it was not exported by toilewright")
        manifest = msgspec.json.decode(self._archive.read(_MANIFEST), type=_Manifest)
        if manifest.program != "toilewright":
            raise _refused("it was not exported by toilewright")
        if manifest.format > FORMAT:
            raise _refused(f"toilewright {manifest.version[:20]} made it, which is newer than this one; bring this "
                           "program up to date", end="")
        entries = {entry.name: entry for entry in manifest.entries}
        if set(entries) != names - {_MANIFEST} or len(entries) < len(manifest.entries):
            raise _refused("its list of contents does not fit what is in it")
        if not all(_NAMED.fullmatch(name) for name in entries):
            raise _refused("it holds entries that do not belong into it")
        return entries

    def _thing(self, name: str) -> Packed:
        thing = msgspec.json.decode(self._read(self._entries[name]), type=_Thing)
        if name != f"things/{thing.id}.json":
            raise _refused("its list of contents does not fit what is in it")
        records = tuple(_record(thing.kind, row) for row in thing.revisions)
        if not is_chain(records):
            raise _refused(f'the history of "{thing.id}" in it does not hold together')
        return Packed(thing.id, thing.kind, records)

    def _read(self, entry: _Entry) -> bytes:
        data = self._archive.read(entry.name)
        sha, own = hashlib.sha256(data).hexdigest(), _NAMED.fullmatch(entry.name)[2]
        if len(data) != entry.size or sha != entry.sha256 or (own and own != sha):
            raise _refused("what is in it is not what was put in")
        return data


class _Reading:
    """Turns every way in which reading can break off into one sentence."""

    def __enter__(self) -> None:
        """Nothing to prepare."""

    def __exit__(self, kind: type[BaseException] | None, problem: BaseException | None, trace: object) -> None:
        """Say it in one sentence."""
        if isinstance(problem, Refused):
            return
        if isinstance(problem, InputError):
            raise _refused(f"something in it cannot be kept ({str(problem).rstrip('.')})") from None
        if isinstance(problem, (*_BROKEN, msgspec.DecodeError, RecursionError, MemoryError)):
            raise _refused("it is damaged or was changed by hand") from None


def pack(things: Sequence[Packed], files: Iterable[tuple[str, bytes]], made: datetime.datetime) -> bytes:
    """The packed file of things with their histories, and of files by their SHA-256."""
    out, entries = io.BytesIO(), []
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        def put(name: str, data: bytes) -> None:
            info = zipfile.ZipInfo(name, made.timetuple()[:6])
            archive.writestr(info, data, zipfile.ZIP_DEFLATED)
            entries.append(_Entry(name, hashlib.sha256(data).hexdigest(), len(data)))

        for thing in things:
            put(f"things/{thing.id}.json", msgspec.json.encode(
                _Thing(thing.id, thing.kind, [_row(record) for record in thing.records])))
        for sha, data in files:
            put(f"files/{sha}", data)
        manifest = _Manifest("toilewright", FORMAT, __version__, made.isoformat(), list(entries))
        put(_MANIFEST, msgspec.json.encode(manifest))
    return out.getvalue()


def shas_in(things: Iterable[Packed]) -> tuple[str, ...]:
    """Every file that any revision of these things names, once."""
    return tuple(dict.fromkeys(ref.sha for thing in things for record in thing.records
                               for ref in files_of(record.document)))


def _row(record: Record) -> _Revision:
    return _Revision(record.number, plain(encoded(record.document)), record.way, record.words, record.at, record.device,
                     record.removed, record.state, record.before, record.tip)


def _record(kind: Kind, row: _Revision) -> Record:
    if len(row.words) > LONGEST_TEXT or len(row.device) > LONGEST_TEXT:
        raise _refused("it holds texts that are too long")
    check_values([row.words, row.device], kind)
    if datetime.datetime.fromisoformat(row.at).utcoffset() != datetime.timedelta(0):
        raise _refused("it holds days that are none")
    return Record(row.number, checked(kind, row.document), row.way, row.words, row.at, row.device, row.removed,
                  row.state, row.before, row.tip)


def _refused(why: str, end: str = "; export it again, and bring it over as it is") -> Refused:
    return Refused(f"That file cannot be taken in, because {why}{end}.")

"""The lay of a make, and what to buy for it: searched beside the pages, kept with it, shown when she comes back."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import msgspec

from toilewright import __version__
from toilewright.app.long_work import Progress, Stopped
from toilewright.app.steps import stamp
from toilewright.app.table import Table
from toilewright.app.words import say
from toilewright.cutting.lay.plan import Lay
from toilewright.cutting.offers import Buying
from toilewright.errors import InputError, ToilewrightError
from toilewright.make.outcome import Outcome
from toilewright.units import show_length
from toilewright.workroom.cloths import lay_wish, wishes_of
from toilewright.workroom.documents import Kind

if TYPE_CHECKING:
    from toilewright.make.laying import Laying

SECONDS = (3, 10, 60, 600)
"""for how long she may let it search."""

EACH_WIDTH = 3.0
"""seconds of search for each width on sale."""


class KeptLay(msgspec.Struct, frozen=True):
    """The lays of a make as they were found last.

    Attributes:
        stamp: of everything they rest on.
        seconds: for which it was searched.
        stopped: she stopped the search before its time.
    """

    stamp: str
    lays: tuple[Lay, ...]
    seconds: float
    stopped: bool = False


class KeptBuying(msgspec.Struct, frozen=True):
    """What to buy, as it was found last.

    Attributes:
        stamp: of everything it rests on.
    """

    stamp: str
    buying: Buying
    stopped: bool = False


@dataclass
class Watch:
    """Between a search and whoever watches it: tells how far it is, and ends it when she asks for that.

    Attributes:
        stopped: was it asked to end?
    """

    progress: Progress
    seconds: float
    words: Callable[[float], str]
    stopped: bool = False
    _said: str = ""
    _begun: float = field(default_factory=time.monotonic)

    def tell(self, length: float, seconds: float) -> None:
        """The best length so far (mm)."""
        self._said = self.words(length)
        self._pass_on()

    def stop(self) -> bool:
        """Shall it end?"""
        self._pass_on()
        return self.stopped

    def _pass_on(self) -> None:
        """Every word of progress may bring back that she has stopped it; the search ends in its own way."""
        part = min((time.monotonic() - self._begun) / max(self.seconds, 0.1), 1.0)
        try:
            self.progress(self._said, round(100 * part), 100) if self._said else self.progress()
        except Stopped:
            self.stopped = True


def outcomes_in_lay(table: Table, make_id: str, unit: str) -> list[Outcome]:
    """A make with its cloths, and the others that are cut in the same lay.

    Raises:
        InputError: one of them cannot be worked out, said with its title.
    """
    make = table.make(make_id).document
    first = table.outcome(make_id, unit=unit)
    cut = replace(first.sized.make, cloths=wishes_of(make, table.cloths(make), unit), lay=lay_wish(make))
    outcomes = [replace(first, sized=replace(first.sized, make=cut))]
    for other, title in others_of(table, make_id):
        try:
            outcomes.append(table.outcome(other, unit=unit))
        except ToilewrightError as problem:
            raise InputError(say("cloth.other_stuck", title=title, why=problem)) from None
    return outcomes


def others_of(table: Table, make_id: str) -> list[tuple[str, str]]:
    """Other makes in the same lay: id and title; those that are gone are left out."""
    there = {t.id: t.document.title for t in table.room.things(Kind.MAKE)}
    wanted = table.make(make_id).document.lay_with
    return [(one, there[one]) for one in wanted if one in there and one != make_id]


def lay_stamp(table: Table, make_id: str) -> str:
    """A stamp of everything that a lay rests on."""
    others = [stamp("walk", *table.place(one, "").rests) for one, _ in others_of(table, make_id)]
    resting = stamp("cloth", *table.place(make_id, "").rests)
    return hashlib.sha256(f"{resting} {others} {__version__}".encode()).hexdigest()[:16]


def search_lay(table: Table, make_id: str, unit: str, seconds: float, progress: Progress) -> bool:
    """Look for a lay and keep it; also where she stops it, the best one so far.

    Returns:
        Was it stopped?

    Raises:
        InputError, SewError, GeometryError: as for :func:`toilewright.make.laying.lay_outcomes`.
    """
    from toilewright.make.laying import lay_outcomes

    progress(say("cloth.working_out"))
    now = lay_stamp(table, make_id)
    outcomes = outcomes_in_lay(table, make_id, unit)
    progress(say("cloth.first_lay"))
    watch = Watch(progress, seconds, lambda length: say("cloth.so_far", length=show_length(length, unit)))
    laying = lay_outcomes(outcomes, seconds=seconds, tell=watch.tell, stop=watch.stop)
    table.room.keep(_key("lay", make_id), _WRITER.encode(KeptLay(now, laying.lays, seconds, watch.stopped)))
    return watch.stopped


def search_widths(table: Table, make_id: str, unit: str, seconds: float, progress: Progress) -> bool:
    """Lay the make in every width on sale, and keep what each comes to; as :func:`search_lay`."""
    from toilewright.make.buying import buy_outcomes

    progress(say("cloth.working_out"))
    now = lay_stamp(table, make_id)
    outcomes = outcomes_in_lay(table, make_id, unit)
    stopped = False

    def tell(what: str, part: float) -> None:
        nonlocal stopped
        try:
            progress(say("cloth.laying_width", what=what), round(100 * part), 100)
        except Stopped:
            stopped = True

    def stop() -> bool:
        nonlocal stopped
        try:
            progress()
        except Stopped:
            stopped = True
        return stopped

    buying = buy_outcomes(outcomes, seconds=seconds, tell=tell, stop=stop)
    table.room.keep(_key("buying", make_id), _WRITER.encode(KeptBuying(now, buying, stopped)))
    return stopped


def lay_file(table: Table, make_id: str, unit: str, name: str) -> bytes:
    """One file of the lay that is kept, or of what to buy: lay.pdf, lay.svg, cloth.pdf.

    Raises:
        InputError: there is none, or what it rests on has changed since.
    """
    kept = kept_buying(table, make_id) if name == "cloth.pdf" else kept_lay(table, make_id)
    if kept is None or kept.stamp != lay_stamp(table, make_id):
        raise InputError(say("cloth.no_file"))
    with TemporaryDirectory() as folder:
        if isinstance(kept, KeptBuying):
            from toilewright.make.buying_files import write_buying

            write_buying(kept.buying, folder)
        else:
            from toilewright.make.deliver import write_files
            from toilewright.make.lay_files import writers_of

            write_files({name: writers_of(_laying(table, make_id, unit, kept.lays))[name]}, folder)
        return (Path(folder) / name).read_bytes()


def _laying(table: Table, make_id: str, unit: str, lays: tuple[Lay, ...]) -> Laying:
    from toilewright.make.laying import Laying, garments_of, notes_of

    outcomes = outcomes_in_lay(table, make_id, unit)
    title = " and ".join(dict.fromkeys(o.sized.make.title for o in outcomes))
    return Laying(lays, title, unit, garments_of(outcomes), notes_of(outcomes))


def kept_lay(table: Table, make_id: str) -> KeptLay | None:
    """The lays found last; None where there are none yet, or an earlier program kept them in another way."""
    return _kept(table, _key("lay", make_id), _LAY)


def kept_buying(table: Table, make_id: str) -> KeptBuying | None:
    """What to buy, as found last; as :func:`kept_lay`."""
    return _kept(table, _key("buying", make_id), _BUYING)


def _kept(table: Table, key: str, reader: msgspec.msgpack.Decoder) -> object:
    data = table.room.kept(key)
    if data is None:
        return None
    try:
        return reader.decode(data)
    except (msgspec.DecodeError, InputError, ValueError):
        return None


def _key(what: str, make_id: str) -> str:
    return f"{what} of {make_id}"


def _pair(value: object) -> object:
    if isinstance(value, complex):
        return (value.real, value.imag)
    raise NotImplementedError(type(value).__name__)


def _point(kind: type, value: object) -> object:
    if kind is complex and isinstance(value, (list, tuple)) and len(value) == 2:
        return complex(*value)
    raise ValueError(f"no {kind.__name__}: {value!r}")


_WRITER = msgspec.msgpack.Encoder(enc_hook=_pair)
_LAY = msgspec.msgpack.Decoder(KeptLay, dec_hook=_point)
_BUYING = msgspec.msgpack.Decoder(KeptBuying, dec_hook=_point)

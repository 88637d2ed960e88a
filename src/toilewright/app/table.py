"""What lies on the table while she works: the store, and results kept until something they rest on changes."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from toilewright.app.long_work import JobState, Work
from toilewright.app.printing import Prints
from toilewright.app.steps import Place
from toilewright.errors import InputError, NameUnknown
from toilewright.make.fitting import Fitted, fit_make
from toilewright.make.keeping import unpack_reading
from toilewright.make.outcome import Outcome, Sized, make_up, size_up
from toilewright.make.reading import Reading
from toilewright.workroom.documents import BodyDoc, ClothDoc, Kind, MakeDoc, PatternDoc
from toilewright.workroom.recipes import body_for, reading_key, recipe
from toilewright.workroom.store import Thing, Workroom
from toilewright.workroom.tissue import read_tissue

_KEPT = 12
"""readings and results held in memory at once; a whole dress takes about 15 MB."""


class NotReadYet(InputError):
    """The pattern file has not been read since its names or this program changed."""


class Table:
    """The store with its results.

    Attributes:
        room: the store.
        work: long work that runs, or has just ended.
        prints: files made for the printer.
    """

    def __init__(self, room: Workroom) -> None:
        """A table over a store."""
        self.room = room
        self.work = Work()
        self.prints = Prints()
        self._lock = threading.RLock()
        self._results: OrderedDict[object, Any] = OrderedDict()
        self._running: dict[tuple[str, str], str] = {}

    def place(self, make_id: str, here: str) -> Place:
        """Where she is in a make.

        Raises:
            NameUnknown: no such make.
        """
        make = self.make(make_id).document
        body = self._thing(make.body, Kind.BODY)
        pattern = self._thing(make.pattern, Kind.PATTERN)
        return Place(make_id, make, here, body and body.document, pattern and pattern.document, self.cloths(make))

    def cloths(self, make: MakeDoc) -> dict[str, ClothDoc]:
        """The cloths of the shelf that a make is cut from, by their id; one that is gone is left out."""
        wanted = dict.fromkeys(row.cloth for row in make.lays if row.cloth)
        there = {t.id: t.document for t in self.room.things(Kind.CLOTH)} if wanted else {}
        return {one: there[one] for one in wanted if one in there}

    def running(self, make_id: str, what: str) -> str:
        """The id of a longer job that is done for a make right now, or ""."""
        job = self._running.get((make_id, what), "")
        try:
            return job if job and self.work.job(job).state is JobState.RUNNING else ""
        except NameUnknown:
            return ""

    def runs(self, make_id: str, what: str, job: str) -> None:
        """Remember a longer job by what it does for a make, so that whoever comes back sees how far it is."""
        self._running[make_id, what] = job

    def make(self, make_id: str) -> Thing:
        """One make.

        Raises:
            NameUnknown: there is no make of that id.
        """
        return self.room.get(make_id, kind=Kind.MAKE)

    def reading(self, pattern_id: str) -> Reading:
        """The pattern as read under its present names.

        Raises:
            NotReadYet: it has to be read first (long work; see the pattern's screen).
        """
        doc = self.room.get(pattern_id, kind=Kind.PATTERN).document
        return self.reading_of(doc)

    def reading_of(self, doc: PatternDoc) -> Reading:
        """As :meth:`reading`, of a document at hand."""
        key = reading_key(doc)
        return self._kept(("reading", key), lambda: self._unpacked(doc, key))

    def _unpacked(self, doc: PatternDoc, key: str) -> Reading:
        if doc.tissue is not None:
            return read_tissue(doc)
        data = self.room.kept(key)
        if data is None:
            raise NotReadYet(f'The pattern "{doc.name}" has not been read yet; open it once, then come back.')
        return unpack_reading(data)

    def sized(self, make_id: str, make: MakeDoc | None = None, *, instead: BodyDoc | PatternDoc | None = None,
              unit: str = "") -> Sized:
        """A make up to the choice of size.

        Args:
            make: another document than the saved one, to see what a change would do.
            instead: likewise of the body or the pattern that it rests on.
            unit: in which its sentences tell lengths; "" for the unit of the tape sheet.

        Raises:
            InputError: something that the make rests on is not there yet, said in a sentence.
        """
        doc = make or self.make(make_id).document
        body_doc, pattern_doc = self._needed(doc, instead)
        body, asked = body_for(doc, body_doc), recipe(doc)
        body = replace(body, unit=unit or body.unit)
        reading = self.reading_of(pattern_doc)
        key = ("sized", reading_key(pattern_doc), repr((body.measures, body.left, body.right, body.waist_place)),
               asked.size, asked.sizes, asked.ease, body.name, body.unit)
        found = self._kept(key, lambda: size_up(asked, body, reading))
        return replace(found, make=asked, body=body, reading=reading)

    def outcome(self, make_id: str, make: MakeDoc | None = None, *, instead: BodyDoc | PatternDoc | None = None,
                unit: str = "") -> Outcome:
        """A whole make, altered and walked; what is given as for :meth:`sized`.

        Raises:
            InputError, AlterationError: as for :func:`toilewright.make.outcome.make_up`.
        """
        sized = self.sized(make_id, make, instead=instead, unit=unit)
        key = ("outcome", id(sized.before), repr((sized.make, sized.body)))
        return self._kept(key, lambda: make_up(sized))

    def fitted(self, make_id: str, unit: str = "") -> Fitted:
        """What the body of a make asks of its pattern; what is given as for :meth:`sized`.

        Raises:
            InputError: as for :func:`toilewright.make.fitting.fit_make`.
        """
        sized = self.sized(make_id, unit=unit)
        key = ("fitted", id(sized.before), repr((sized.make.ease, sized.make.standing, sized.body)))
        return self._kept(key, lambda: fit_make(sized))

    def _needed(self, doc: MakeDoc, instead: BodyDoc | PatternDoc | None) -> tuple[BodyDoc, PatternDoc]:
        if not doc.body:
            raise InputError("This make has no body yet; choose whose it is in the first step, Measure.")
        if not doc.pattern:
            raise InputError("This make has no pattern yet; bring one in in the second step, Pattern.")
        return (instead if isinstance(instead, BodyDoc) else self.room.get(doc.body, kind=Kind.BODY).document,
                instead if isinstance(instead, PatternDoc) else self.room.get(doc.pattern, kind=Kind.PATTERN).document)

    def _thing(self, thing_id: str, kind: Kind) -> Thing | None:
        return self.room.get(thing_id, kind=kind) if thing_id else None

    def _kept(self, key: object, make: Callable[[], Any]) -> Any:
        with self._lock:
            if key in self._results:
                self._results.move_to_end(key)
                return self._results[key]
        made = make()
        with self._lock:
            self._results[key] = made
            while len(self._results) > _KEPT:
                self._results.popitem(last=False)
        return made

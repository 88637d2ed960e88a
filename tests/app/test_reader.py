"""Files of strangers, read in a process of its own: a reading or one sentence; stopped when it asks for too much."""

import contextlib
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from bad_input import sheets
from bad_input.sheets import LINE, SVG, block, dxf, dxf_line, forms, insert, small_dress
from intake_pdf.tiled_pages import pdf_bytes

from toilewright.app.long_work import Stopped
from toilewright.app.reader import STAGES, Bounds, read_file
from toilewright.errors import FileError, InputError
from toilewright.make import reader, reading
from toilewright.make.keeping import pack_reading, plain_labels, unpack_reading
from toilewright.output.printed_pattern import print_pattern

POSIX = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the system's bounds are set on Linux")


def quiet(words="", done=0, of=0):
    pass


@pytest.fixture(scope="module")
def bought(tmp_path_factory):
    path = tmp_path_factory.mktemp("bought") / "top.pdf"
    print_pattern(small_dress(), path, "a4")
    return path.read_bytes()


def test_a_pattern_comes_back_as_it_is_read_here(bought, tmp_path):
    (tmp_path / "top.pdf").write_bytes(bought)
    here = reading.read_pattern(tmp_path / "top.pdf")
    told = []
    there = read_file(bought, "top.pdf", None, lambda words="", done=0, of=0: words and told.append((done, of)))
    assert there == pack_reading(here)
    assert told == [(0, 4), *((k, 4) for k in range(len(STAGES)))]
    assert STAGES == reading.STAGES


def test_confirmed_names_are_used(bought):
    guessed = unpack_reading(read_file(bought, "top.pdf", None, quiet))
    labels = plain_labels(guessed.labels)
    labels["name"] = "Concert top"
    read = unpack_reading(read_file(bought, "top.pdf", labels, quiet))
    assert read.confirmed and not guessed.confirmed
    assert read.labels.name == "Concert top"


def test_names_that_are_no_names_are_said(bought):
    with pytest.raises(InputError, match="start again from the guesses"):
        read_file(bought, "top.pdf", {"pieces": 3}, quiet)


@pytest.mark.parametrize("name, data, said", [
    ("nothing.pdf", b"", "is empty"),
    ("letter.pdf", b"Dear choir, the pattern comes on Monday.", "a text, not a drawing"),
    ("photo.svg", b"\x89PNG\r\n\x1a\n" + bytes(40), "is a picture"),
    ("bomb.pdf", lambda: pdf_bytes([LINE.encode() + b" " * 160_000_000], (100, 100)), "unpacks to more than"),
    ("forms.pdf", lambda: forms(300, 1, LINE.encode()), "100 deep"),
    ("laughs.svg", sheets.laughs, "XML entities"),
    ("groups.svg", f"{SVG}{'<g>' * 100_000}</svg>", "too deep"),
    ("torn.svg", f"{SVG}<g>", "damaged SVG"),
    ("loop.dxf", dxf(block("A", insert("A") + dxf_line(0, 0, 5, 5)), insert("A")), "without end"),
    ("outside.svg", f'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>{SVG}<text>&x;</text></svg>',
     "no closed outlines"),
    ("../../etc/cron.d/x.pdf", b"%PDF-1.7\n", "damaged beyond repair"),
])
def test_hostile_files_end_in_one_sentence(name, data, said):
    data = data() if callable(data) else data
    with pytest.raises(InputError) as refused:
        read_file(data.encode() if isinstance(data, str) else data, name, None, quiet)
    text = str(refused.value)
    assert said in text
    assert "Traceback" not in text and "\n" not in text and "/etc" not in text.replace("/etc/passwd", "")


def crossing(lines):
    """Lines that all cross each other."""
    drawn = "".join(f"M{k % 400} 10L{400 - k % 400} {400 + k % 7}" for k in range(lines))
    return f'{SVG}<path d="{drawn}" stroke="red" fill="none"/></svg>'.encode()


@POSIX
@pytest.mark.parametrize("bounds, said", [
    (Bounds(memory=150 << 20), "more memory or time than any pattern needs"),
    (Bounds(seconds=1), "more memory or time than any pattern needs"),
    (Bounds(waiting=0.2), "more time than any pattern needs"),
    (Bounds(file=1000), "larger than 0 MB"),
])
def test_a_file_that_asks_for_too_much_is_stopped(bounds, said):
    with pytest.raises(FileError, match=said):
        # So many lines that no machine is through with them in a second.
        read_file(crossing(400_000), "large.svg", None, quiet, bounds)


def test_an_answer_without_end_is_not_held_in_memory(bought):
    with pytest.raises(FileError, match="more memory or time"):
        read_file(bought, "top.pdf", None, quiet, Bounds(answer=1000))


def children():
    found = set()
    for task in Path("/proc/self/task").iterdir():
        with contextlib.suppress(OSError):
            found |= set((task / "children").read_text(encoding="ascii").split())
    return found


@POSIX
def test_stopping_ends_the_process_and_leaves_nothing(bought, tmp_path, monkeypatch):
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", None)
    before, seen = children(), set()

    def stop(words="", done=0, of=0):
        seen.update(children() - before)
        if done >= 1:
            raise Stopped

    with pytest.raises(Stopped):
        read_file(bought, "top.pdf", None, stop)
    assert seen
    assert not seen & children()
    assert list(tmp_path.iterdir()) == []
    assert not [t for t in threading.enumerate() if t.name.startswith("Thread") and t is not threading.main_thread()]


@POSIX
def test_the_process_binds_itself_and_knows_nothing_of_hers(tmp_path):
    code = ("import os, resource, sys; from toilewright.make import reader; reader.bound(7, 3 << 30);"
            "print([resource.getrlimit(getattr(resource, 'RLIMIT_' + n))[0] for n in ('CPU', 'AS', 'CORE')]);"
            "print(resource.getrlimit(resource.RLIMIT_NOFILE)[0] <= 64, resource.getrlimit(resource.RLIMIT_FSIZE)[0])")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines() == [f"[7, {3 << 30}, 0]", f"True {reader.LARGEST}"]


@pytest.mark.parametrize("answer", [b"", b"X", b"R", b"E", b"Rnonsense", b"E" + b"\xc1"])
def test_an_answer_that_is_none_is_not_believed(answer, tmp_path, monkeypatch):
    """A file that takes the reader over could make it say anything."""
    script = tmp_path / "python"
    (tmp_path / "answer").write_bytes(answer)
    script.write_text(f"#!/bin/sh\ncat > /dev/null\ncat {tmp_path / 'answer'}\n", encoding="utf-8")
    script.chmod(0o755)
    monkeypatch.setattr(sys, "executable", str(script))
    with pytest.raises(FileError, match="broke the part of the program"):
        read_file(b"%PDF", "evil.pdf", None, quiet)


@pytest.mark.parametrize("name, plain", [
    ("dress.pdf", "dress.pdf"), ("../../.bashrc", "bashrc"), ("C:\\\\her\\\\dress.pdf", "dress.pdf"), ("", "pattern"),
    ("...", "pattern"), ("a\0b\n.pdf", "ab.pdf"), ("ä" * 200 + ".pdf", "ä" * 58 + ".pdf")])
def test_a_name_never_leads_elsewhere(name, plain):
    assert reader._file_name(name) == plain


def test_nothing_but_the_answer_reaches_standard_output(bought):
    job = reader.pack_job("top.pdf", bought)
    done = subprocess.run([sys.executable, "-I", "-m", "toilewright.make.reader"], input=job, capture_output=True,
                          check=True, env={})
    assert done.stdout[:1] == reader.READING
    assert unpack_reading(done.stdout[1:]).pattern.sizes
    assert all(line.startswith(b'{"stage"') for line in done.stderr.splitlines())



"""Tape sheets, make files and labels with something wrong, and places that cannot be written to."""

import os
import re

import pytest
from bad_input.sheets import gap, sheet, small_dress

from toilewright import demo
from toilewright.make.deliver import FILES
from toilewright.output.printed_pattern import print_pattern

TAPE = demo.TAPE_SHEET
MAKE = 'title = "Top"\npattern = "top.pdf"\ntape = "tape.toml"\n'


@pytest.fixture(scope="module")
def table(tmp_path_factory, shell):
    """A folder with a good pattern of two pieces in three sizes, and its labels."""
    folder = tmp_path_factory.mktemp("table")
    print_pattern(small_dress(), folder / "top.pdf", "sheet")
    print_pattern(small_dress(("skirt front", "skirt back")), folder / "skirt.pdf", "sheet")
    (folder / "open.svg").write_text(sheet(front=gap(30)))
    for name in ("top", "skirt"):
        assert shell(folder, "read", f"{name}.pdf", "--labels", f"{name}.toml").code == 0
    return folder


@pytest.fixture
def make(table, shell):
    """Run a make of these sheets."""
    def run(make=MAKE, tape=TAPE, labels=None, **more):
        for name, text in (("make.toml", make), ("tape.toml", tape), ("labels.toml", labels)):
            if text is not None:
                (table / name).write_bytes(text if isinstance(text, bytes) else text.encode())
        return shell(table, "make", "make.toml", "--out", "out/new", "--json", **more)
    return run


def test_the_good_ones_are_good(make, table):
    done = make(labels=(table / "top.toml").read_text())
    assert {"out", "out/new", *(f"out/new/{f}" for f in FILES)} == set(done.changed)
    assert all(s["verdict"] == "sews" for s in done.report()["seams"])
    for path in sorted(table.rglob("out/**/*"), reverse=True):
        path.unlink() if path.is_file() else path.rmdir()
    (table / "out").rmdir()


SLIPS = [
    ('"78,5 cm"', '"720 cm"', 'probably 720 mm = 72.0 cm'),
    ('"78,5 cm"', "785", "probably 785 mm = 78.5 cm"),
    ('"78,5 cm"', '"78,5 furlong"', "not a unit of length"),
    ('"78,5 cm"', '"quite slim"', "cannot be read as a length"),
    ('"78,5 cm"', "true", "A length was expected"),
    ('"78,5 cm"', "[78, 5]", "A length was expected"),
    ('"78,5 cm"', "-78", "measure it again"),
    ('"78,5 cm"', "nan", "not a length"),
    ('"78,5 cm"', "1" + "0" * 5000, "far too long"),
    ("waist = ", "wasit = ", 'did you mean "waist"'),
    ('unit = "cm"', 'unit = "parsec"', '"unit" of tape sheet'),
    ('unit = "cm"', 'unit = "in"', "probably 166 cm"),
    ("high_bust = 90", "under_bust = 99", "measure both again"),
    ("hip = 102", "hip = 102\nhip = 103", "twice"),
    ("hip = 102", "hip = 102\nhip_girth = 103", "keep one of them"),
    ("hip = 102", "hip = 102 cm", "quotation marks"),
    ("hip = 102", "hip = 102,5", "quotation marks"),
    ('"43"', '"43', "a quotation mark is missing"),
    ("[measures]", "", "below the line [measures]"),
    ("[measures]", "[mesures]", 'did you mean "measures"'),
    ('name = "the alto"', "name = 5", "words in quotation marks"),
    ('name = "the alto"', 'name = "the\\u0007 alto"', "invisible sign"),
    ('name = "forward shoulder"', 'name = "forwad shoulder"', 'did you mean "forward shoulder"'),
    ('"natural"', '"knee"', "the three waists"),
]


@pytest.mark.parametrize(("old", "new", "words"), SLIPS)
def test_tape_sheets(make, old, new, words):
    assert TAPE.count(old)
    assert words in make(tape=TAPE.replace(old, new)).sentence()


@pytest.mark.parametrize(("data", "words"), [
    (b"", "has no measures"), (TAPE.encode("utf-16"), "not plain text"),
    (TAPE.replace("the alto", "die Schöne").encode("latin-1"), "not plain text"),
    (b"a = " + b"[" * 50_000, "nested too deeply"), (b"#" * 2_000_000, "larger than one megabyte"),
    (b'name = "x"\n[measures]\nheight = 166\n', "No size can be chosen")])
def test_tape_files(make, data, words):
    assert words in make(tape=data).sentence()


def test_a_byte_order_mark_does_no_harm(make, table, shell):
    make(tape=TAPE.encode("utf-8-sig"), make=MAKE.encode("utf-8-sig") + b'size = "99"\n')
    assert 'no size called "99"' in make(tape=TAPE.encode("utf-8-sig"), make=MAKE + 'size = "99"\n').sentence()


def test_odd_bodies_are_asked_about(table, shell):
    (table / "tape.toml").write_text(TAPE.replace('bust = "95,5"', "bust = 70").replace("high_bust = 90", ""))
    (table / "make.toml").write_text(MAKE)
    assert "change places" in shell(table, "size", "make.toml", "--json").finding("measures-odd")


def alteration(name, amount, more=""):
    return f'{MAKE}[[alteration]]\nname = "{name}"\namount = {amount}\n{more}'


@pytest.mark.parametrize(("text", "words"), [
    ("", 'does not say which'), (MAKE.replace("top.pdf", "tpo.pdf"), "no such file"),
    (MAKE.replace("tape.toml", "."), "no such file"), (MAKE + 'sise = "5"', 'did you mean "size"'),
    (MAKE + 'size = "55"', 'did you mean "5"'), (MAKE + 'unit = "ell"', '"unit" of make file'),
    (MAKE + '[size]\nbust = "5"\nhip = "99"', 'no size called "99"'), (MAKE + "size = [5]", "should be a size"),
    (MAKE + '[ease]\nbust = "8 m"', "wanted ease"), (MAKE + '[print]\npapers = ["a5"]', "no paper"),
    (MAKE + 'alteration = "x"', "[[alteration]]"), (MAKE.replace('"Top"', '"\\u0001"'), "invisible sign"),
    (alteration("forward sholder", '"1 cm"'), 'did you mean "forward shoulder"'),
    (alteration("forward shoulder", '"1 kg"'), "not a unit of length"),
    (alteration("forward shoulder", "inf"), "not a length"),
    (alteration("forward shoulder", '"30 cm"'), "the most that fits"),
    (alteration("lengthen or shorten", '"-60 cm"', 'piece = "bodice front"'), "the most that fits"),
    (alteration("lengthen or shorten", '"2 cm"', 'piece = "bodise front"'), "does not have"),
    (alteration("lengthen or shorten", '"2 cm"', 'piece = "bodice front"\nline = "knee line"'), "knee line"),
    (alteration("lengthen or shorten", '"2 cm"', 'pice = "bodice front"'), 'did you mean "piece"'),
    (alteration("hip in or out", '"2 cm"'), '"hem"'),
    (alteration("full bust", '"2 cm"').replace("top.pdf", "skirt.pdf"), '"bodice front"'),
    (MAKE.replace("top.pdf", "open.svg"), "30.0 mm apart"),
])
def test_make_files(make, text, words):
    assert words in make(make=text).sentence()


def test_standing_alterations_without_a_piece_are_left_out(table, make, shell):
    (table / "tape.toml").write_text(TAPE)
    (table / "make.toml").write_text(MAKE.replace("top.pdf", "skirt.pdf"))
    done = make(make=MAKE.replace("top.pdf", "skirt.pdf"), largest=None)
    assert "forward shoulder" in str([f["text"] for f in done.report()["findings"] if f["code"] == "standing-left-out"])
    for name in sorted(done.changed, reverse=True):
        (table / name).unlink() if (table / name).is_file() else (table / name).rmdir()


LABELS = [
    ("bodice front: shoulder", "bodise front: shoulder", 'did you mean "bodice front"'),
    ("bodice front: shoulder", "bodice front: sholder", 'did you mean "shoulder"'),
    ("bodice front: shoulder", "bodice front shoulder", "write the piece, a colon and the edge"),
    ('printed = "bodice front"', 'printed = "blouse front"', 'no piece called "blouse front"'),
    ('4 = "4"', '44 = "4"', 'no size called "44"'),
    ('kind = "seam"', 'kind = "seem"', 'did you mean "seam"'),
    ('allowance = "1.5 cm"', 'allowance = "15 cm"', "not wider than"),
    ('allowance = "1.5 cm"', 'allowance = "-1 cm"', "0 or more"),
    ("cut = 2", "cut = 1000000000", "1 or more"),
    ('name = "bodice back"', 'name = "bodice front"', "each piece needs its own"),
    ('name = "bodice back"', 'name = "bodice\\u0007back"', "invisible sign"),
    ("[[seam]]", "[[seem]]", 'did you mean "seam"'),
]


@pytest.mark.parametrize(("old", "new", "words"), LABELS)
def test_labels(make, table, old, new, words):
    text = (table / "top.toml").read_text()
    assert old in text
    assert words in make(make=MAKE + 'labels = "labels.toml"', labels=text.replace(old, new)).sentence()


def test_labels_of_another_file_and_with_other_edges(make, table):
    by = MAKE + 'labels = "labels.toml"'
    assert 'no piece called "skirt' in make(make=by, labels=(table / "skirt.toml").read_text()).sentence()
    text = (table / "top.toml").read_text()
    fewer = re.sub(r"\n *\{name = [^\n]*", "", text, count=1)
    assert "list 6 edges" in make(make=by, labels=fewer).sentence()
    assert make(make=by, labels="").sentence()
    assert make(make=by, labels=TAPE).sentence()


# -- places ----------------------------------------------------------------------------------------


def test_labels_go_where_they_may(table, shell):
    assert "folder that exists" in shell(table, "read", "top.pdf", "--labels", "no/such/labels.toml").sentence()
    for taken in ("top.pdf", "make.toml", "."):
        assert "no labels file" in shell(table, "read", "top.pdf", "--labels", taken).sentence()


def test_her_corrections_are_kept(table, shell, tmp_path):
    mine = (table / "top.toml").read_text().replace('name = "bodice front"', 'name = "my front"')
    (tmp_path / "mine.toml").write_text(mine)
    assert shell(tmp_path, "read", table / "top.pdf", "--labels", "mine.toml").code == 0
    assert (tmp_path / "mine.toml.old").read_text() == mine


def test_results_go_where_they_may(table, shell):
    (table / "make.toml").write_text(MAKE)
    (table / "tape.toml").write_text(TAPE)
    (table / "taken").write_text("mine")
    for out in ("taken", "taken/below"):
        assert "another folder" in shell(table, "make", "make.toml", "--out", out).sentence()
        assert "another folder" in shell(table, "demo", "--out", out).sentence()


def test_a_full_disk(make):
    assert "make room" in make(make=MAKE, tape=TAPE, largest=10_000).sentence()


def test_a_full_disk_for_the_demo(table, shell):
    assert "make room" in shell(table, "demo", "--out", "new/demo", largest=10_000).sentence()


def test_what_is_there_already_stays_when_the_disk_is_full(table, shell):
    (table / "make.toml").write_text(MAKE)
    (table / "tape.toml").write_text(TAPE)
    (table / "older").mkdir()
    (table / "older" / "result.json").write_text("older")
    assert "make room" in shell(table, "make", "make.toml", "--out", "older", largest=10_000).sentence()


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_is_read_only(table, shell, tmp_path):
    (table / "make.toml").write_text(MAKE)
    (table / "tape.toml").write_text(TAPE)
    tmp_path.chmod(0o500)
    assert "another folder" in shell(table, "make", "make.toml", "--out", tmp_path / "x").sentence()

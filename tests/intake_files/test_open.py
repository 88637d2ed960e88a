"""Files are told apart by what is in them; what cannot be read ends in one sentence, in bounded time and memory."""

import gzip
import os
import zipfile

import pytest
from master import FOREIGN

from toilewright.errors import FileError
from toilewright.intake import limits
from toilewright.intake.open import open_drawing

SVG = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="10mm" height="10mm"'
LINE = '<path d="M1 1L2 2" stroke="red"/>'
LAUGHS = "".join(f'<!ENTITY l{i} "{f"&l{i - 1};" * 10}">' for i in range(1, 10))
ENTITIES = f'<!DOCTYPE svg [<!ENTITY l0 "lol">{LAUGHS}]>'


@pytest.fixture
def refused(tmp_path):
    """The sentence with which a file of these bytes is refused."""
    def sentence(data, name="pattern.pdf"):
        file = tmp_path / name
        file.write_bytes(data.encode() if isinstance(data, str) else data)
        with pytest.raises(FileError) as caught:
            open_drawing(file)
        said = str(caught.value)
        assert name in said
        assert said.endswith(".")
        assert "\n" not in said
        return said
    return sentence


@pytest.mark.parametrize(("name", "kind"), [("inkscape-plain.svg", "svg"), ("libreoffice-sheet.svg", "svg"),
                                            ("plain.dxf", "dxf"), ("blocks-metric.dxf", "dxf")])
@pytest.mark.parametrize("suffix", [".pdf", ""])
def test_kind_is_what_is_inside_not_the_name(tmp_path, name, kind, suffix):
    file = tmp_path / f"renamed{suffix}"
    file.write_bytes((FOREIGN / name).read_bytes())
    assert open_drawing(file).kind == kind


def test_utf16_and_byte_order_marks(tmp_path):
    file = tmp_path / "marked.svg"
    for coding in ("utf-16", "utf-8-sig"):
        file.write_bytes(f"<svg {SVG}>{LINE}</svg>".encode(coding))
        assert len(open_drawing(file).pages[0].strokes) == 1


@pytest.mark.parametrize(("data", "part"), [
    (b"\x89PNG\r\n\x1a\n" + bytes(50), "is a picture"),
    (b"\xff\xd8\xff\xe0" + bytes(50), "is a picture"),
    (b"RIFF\1\2\3\4WEBPVP8 ", "is a picture"),
    (b"\0\0\0\x18ftypheic" + bytes(50), "is a picture"),
    (b"II*\0" + bytes(50), "is a picture"),
    (b"", "is empty"),
    (b" \r\n\r\n", "is empty"),
    (bytes(5000), "is empty"),
    (gzip.compress(b"<svg/>", mtime=0), "gzip"),
    (b"AC1032" + bytes(50), "DWG"),
    (b"\xd0\xcf\x11\xe0" + bytes(50), "office document"),
    (b"%!PS-Adobe-3.0\n", "PostScript"),
    (b"IN;SP1;PU0,0;PD100,0;", "plotter"),
    (b"<!DOCTYPE html><html><body>buy me</body></html>", "web page"),
    (b"<note><to>choir</to></note>", "not an SVG drawing"),
    (b"Dear choir, the pattern comes on Monday.", "a text"),
    (b"\x01\x02\x00\x03" * 20, "not known here"),
])
def test_strangers(refused, data, part):
    assert part in refused(data)


def test_packed_folders(refused, tmp_path):
    packed = tmp_path / "packed.zip"
    with zipfile.ZipFile(packed, "w") as folder:
        folder.writestr("front.svg", "<svg/>")
    assert "zip" in refused(packed.read_bytes())


def test_missing_folder_and_pipe(tmp_path):
    with pytest.raises(FileError, match="There is no file"):
        open_drawing(tmp_path / "nothing.pdf")
    with pytest.raises(FileError, match=r'"sewing" is a folder'):
        (tmp_path / "sewing").mkdir()
        open_drawing(f"{tmp_path / 'sewing'}/")
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(FileError, match="pipe"):
        open_drawing(tmp_path / "pipe")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read(tmp_path):
    file = tmp_path / "locked.svg"
    file.write_text(f"<svg {SVG}/>")
    file.chmod(0)
    with pytest.raises(FileError, match="cannot be opened"):
        open_drawing(file)


@pytest.mark.parametrize(("inside", "before", "part"), [
    ("<text>&l9;</text>", ENTITIES, "XML entities"),
    ('<path d="&l9;"/>', ENTITIES, "XML entities"),
    ("<g>" * 100_000 + "</g>" * 100_000, "", "nests its groups too deep"),
    ("<g>" * 150 + LINE + "</g>" * 150, "", "nests its groups too deep"),
    ('<g id="a"><use href="#a"/></g>', "", "nests its groups too deep"),
    (LINE * 1_000_000, "", f"more than {limits.MAX_OBJECTS} objects"),
    ('<path stroke="red" d="M0 0' + "L1 1 2 3" * 1_500_000 + '"/>', "", "more than 10 MB"),
])
def test_svg_that_asks_for_too_much(refused, inside, before, part):
    assert part in refused(f"{before}<svg {SVG}>{inside}</svg>", "bomb.svg")


def test_symbols_that_multiply(refused, monkeypatch):
    monkeypatch.setattr("toilewright.intake.svg.MAX_OBJECTS", 2000)
    tree = "".join(f'<g id="u{i}">' + f'<use href="#u{i - 1}"/>' * 10 + "</g>" for i in range(1, 12))
    bomb = f'<svg {SVG}><defs><g id="u0">{LINE}</g>{tree}</defs><use href="#u11"/></svg>'
    assert "draws more than 2000 objects" in refused(bomb, "bomb.svg")


def test_time_is_bounded_too(refused, monkeypatch):
    monkeypatch.setattr("toilewright.intake.svg.MAX_SECONDS", -1.0)
    assert "more than" in refused(f"<svg {SVG}>{LINE * 300}</svg>", "slow.svg")


def test_large_files_are_not_even_opened(refused, monkeypatch):
    monkeypatch.setattr("toilewright.intake.whole_file.MAX_FILE_BYTES", 1_000_000)
    assert "larger than 1 MB" in refused(f"<svg {SVG}>{' ' * 1_100_000}</svg>", "large.svg")


def test_outside_entities_stay_outside(tmp_path):
    secret = tmp_path / "secret.txt"
    secret.write_text("the alto's measures")
    file = tmp_path / "spy.svg"
    file.write_text(f'<!DOCTYPE svg [<!ENTITY x SYSTEM "{secret.as_uri()}">]>'
                    f'<svg {SVG}>{LINE}<text>&x;</text></svg>')
    page = open_drawing(file).pages[0]
    assert len(page.strokes) == 1
    assert page.words == ()


def test_name_spaces_by_entity_as_some_programs_write_them(tmp_path):
    file = tmp_path / "entity.svg"
    file.write_text('<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" '
                    '"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd" ['
                    '<!ENTITY ns "http://www.w3.org/2000/svg">]>'
                    f'<svg xmlns="&ns;" width="10mm" height="10mm">{LINE}</svg>')
    assert len(open_drawing(file).pages[0].strokes) == 1


def test_coordinates_that_run_off_to_nowhere(tmp_path):
    file = tmp_path / "far.svg"
    file.write_text(f'<svg {SVG}>{LINE}<path d="M0 0L1e999 5" stroke="red"/><path d="M0 0L1e30 5" stroke="red"/></svg>')
    drawing = open_drawing(file)
    assert len(drawing.pages[0].strokes) == 1
    assert [f.code for f in drawing.findings if f.code == "svg-reach"] == ["svg-reach"]

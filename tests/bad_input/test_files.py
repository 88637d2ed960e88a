"""Pattern files with something wrong, read by the command line: one sentence, or a finding; nothing left behind."""

import pikepdf
import pytest
from bad_input import sheets
from bad_input.sheets import BOX, LINE, SVG, block, dxf, dxf_line, forms, gap, insert, sheet
from intake_pdf.tiled_pages import pdf_bytes

from toilewright.output.printed_pattern import print_pattern

CANNOT = {
    "nothing.pdf": (b"", "is empty"),
    "letter.pdf": ("Dear choir, the pattern comes on Monday.", "a text, not a drawing"),
    "photo.pdf": (b"\x89PNG\r\n\x1a\n" + bytes(40), "is a picture"),
    "office.pdf": (b"PK\3\4" + bytes(40), "office document"),
    "page.pdf": ("<html><body>buy</body></html>", "web page"),
    "head.pdf": (b"%PDF-1.7\n", "damaged beyond repair"),
    "blank.pdf": (lambda: pdf_bytes([""], (210, 297)), "draws nothing"),
    "words.pdf": (lambda: pdf_bytes(["BT /F1 12 Tf 50 50 Td (Sew) Tj ET"], (210, 297)), "only text"),
    "scan.pdf": (sheets.scanned, "scans cannot be read yet"),
    "wide.pdf": (lambda: pdf_bytes(["0 0 m 28346456692 100 l 0 400 l s"], (1e7, 1000)), "longer than a kilometre"),
    "bomb.pdf": (lambda: pdf_bytes([LINE.encode() + b" " * 160_000_000], (100, 100)), "unpacks to more than"),
    "hatched.pdf": (lambda: pdf_bytes(["1 1 m 2 2 l S\n" * 400_000], (100, 100)), "more than 300,000 objects"),
    "forms.pdf": (lambda: forms(300, 1, LINE.encode()), "100 deep"),
    "round.pdf": (lambda: forms(1, 1, b"/X Do"), "100 deep"),
    "deep.pdf": (lambda: pdf_bytes([f"{LINE} {'[' * 200_000}"], (100, 100)), "No pattern pieces"),
    "kids.pdf": (lambda: pdf_bytes([LINE], (100, 100)).replace(b"[3 0 R]", b"[2 0 R]"), "damaged beyond repair"),
    "laughs.svg": (sheets.laughs, "XML entities"),
    "use.svg": (f'{SVG}<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g></svg>', "too deep"),
    "groups.svg": (f"{SVG}{'<g>' * 100_000}{BOX}{'</g>' * 100_000}</svg>", "too deep"),
    "million.svg": (lambda: f"{SVG}{'<a/>' * 1_000_000}</svg>", "more than 300000 objects"),
    "torn.svg": (f"{SVG}{BOX}<g>", "damaged SVG"),
    "empty.svg": (f"{SVG}</svg>", "No closed outlines|no closed outlines"),
    "wide.svg": (f'{SVG}<path d="M10 10H99999999V400H10Z" stroke="red"/></svg>', "run off to nowhere"),
    "mirrored.svg": (lambda: sheet(transform="translate(1000 0) scale(-1 1)"), "words run backwards"),
    "alone.svg": (f'{SVG}<path d="M100 10H400V300H100V40" stroke="red" fill="none"/></svg>',
                  "30.0 mm apart"),
    "loop.dxf": (dxf(block("A", insert("A") + dxf_line(0, 0, 5, 5)), insert("A")), "without end"),
    "rows.dxf": (dxf(block("A", dxf_line(0, 0, 5, 5)), insert("A", "70\n30000\n71\n30000\n44\n1\n45\n1\n")),
                 "more than 300000 objects"),
    "torn.dxf": ("0\nSECTION\n2\nHEADER\n", "damaged beyond repair"),
    "none.dxf": (dxf("", ""), "draws no lines"),
}


@pytest.mark.parametrize("name", CANNOT)
def test_files_that_cannot_be_used(shell, tmp_path, name):
    made, part = CANNOT[name]
    data = made() if callable(made) else made
    (tmp_path / name).write_bytes(data if isinstance(data, bytes) else data.encode())
    said = shell(tmp_path, "read", name, "--labels", "names.toml").sentence()
    assert name in said or "mirrored" in said
    assert any(p in said for p in part.split("|")), said


def test_a_folder_and_a_file_that_is_not_there(shell, tmp_path):
    (tmp_path / "patterns").mkdir()
    assert "is a folder" in shell(tmp_path, "read", "patterns").sentence()
    assert "check its name" in shell(tmp_path, "read", "patern.pdf").sentence()


SHEETS = {
    "gap-2": ({"front": gap(2)}, 0, "outline-gap", "gap of 2.0 mm"),
    "gap-30": ({"front": gap(30)}, 1, "outline-open", "30.0 mm apart"),
    "crossing": ({"front": sheets.bow_tie}, 1, "outline-crosses", "crosses itself"),
    "one leg": ({"dart": lambda k: 1}, 0, "dart-one-leg", "missing leg"),
    "one leg in one size": ({"dart": lambda k: 1 if k == 1 else 2}, 0, "dart-one-leg", "size 10"),
    "one size": ({"sizes": ("10",)}, 0, "one-size", "one size only"),
    "no square": ({"square": 0}, 0, "no-test-square", "could not be checked"),
    "97 %": ({"square": 97.0}, 0, "scale", "97.0 %"),
    "over each other": ({"back_at": 330 + 100j}, 0, "dart-one-leg", "look|draw"),
}


@pytest.mark.parametrize("name", SHEETS)
def test_sheets_that_deserve_a_look(shell, tmp_path, name):
    how, code, finding, words = SHEETS[name]
    (tmp_path / "top.svg").write_text(sheet(**how))
    done = shell(tmp_path, "read", "top.svg", "--json")
    said = done.finding(finding, code)
    assert any(w in said for w in words.split("|")), said
    assert done.changed == ()
    if code:
        assert "put right" in done.err and "\n" not in done.err.strip()


def test_sizes_without_layers_get_numbers(shell, tmp_path):
    text = sheet().replace("inkscape:groupmode", "x").replace("inkscape:label", "y")
    (tmp_path / "top.svg").write_text(text)
    done = shell(tmp_path, "read", "top.svg", "--json")
    assert done.report()["sizes"] == ["1", "2", "3"]
    assert "true names" in done.finding("sizes-unnamed")


def test_everything_is_enlarged_to_true_size(shell, tmp_path):
    (tmp_path / "true.svg").write_text(sheet())
    (tmp_path / "small.svg").write_text(sheet(square=97.0))
    true, small = (shell(tmp_path, "read", f"{n}.svg", "--json").report() for n in ("true", "small"))
    assert small["test_square_mm"] == pytest.approx(97.0)
    for a, b in zip(true["pieces"], small["pieces"], strict=True):
        for size, measures in a["sizes"].items():
            assert b["sizes"][size]["height_mm"] * 0.97 == pytest.approx(measures["height_mm"], abs=0.01)


def test_entities_from_outside_stay_outside(shell, tmp_path):
    (tmp_path / "secret.txt").write_text("upper arm 29 cm")
    (tmp_path / "spy.svg").write_text(f'<!DOCTYPE svg [<!ENTITY x SYSTEM "secret.txt">]>{SVG}{BOX}'
                                      '<text x="20" y="20">&x;</text></svg>')
    done = shell(tmp_path, "read", "spy.svg", "--json")
    assert done.report()["pieces"] and "29 cm" not in done.out


def test_signs_that_no_page_can_show_do_not_reach_the_names(shell, tmp_path):
    data = sheets.pdf_bytes(["0 0 1 RG 100 100 300 400 re S BT /F1 12 Tf 200 300 Td (bod\\002ice front\\177) Tj ET"],
                            (210, 297))
    (tmp_path / "odd.pdf").write_bytes(data)
    names = [p["printed"] for p in shell(tmp_path, "read", "odd.pdf", "--json").report()["labels"]]
    assert all(n.isprintable() for n in names), names


def test_numbers_that_are_none(shell, tmp_path):
    (tmp_path / "n.svg").write_text(f'{SVG}{BOX}<path d="MNaN Inf L 1e300 5 5 5Z" stroke="red"/>'
                                    '<path d="M10 10H1e300V400Z" stroke="red"/></svg>')
    assert "run off to nowhere" in shell(tmp_path, "read", "n.svg", "--json").finding("svg-reach")


# -- printed PDF pages, changed by another library -----------------------------------------------------


@pytest.fixture(scope="module")
def tiled(tmp_path_factory):
    path = tmp_path_factory.mktemp("tiled") / "top.pdf"
    print_pattern(sheets.small_dress(), path, "a4")
    return path


@pytest.fixture
def changed(tiled, tmp_path, shell):
    def read(change, **save):
        with pikepdf.open(tiled) as pdf:
            change(pdf)
            pdf.save(tmp_path / "top.pdf", **save)
        return shell(tmp_path, "read", "top.pdf", "--json")
    return read


@pytest.fixture(scope="module")
def widths(shell, tiled):
    return _widths(shell(tiled.parent, "read", "top.pdf", "--json"))


def _widths(done):
    return {p["name"]: [s["width_mm"] for s in p["sizes"].values()] for p in done.report()["pieces"]}


def _through(*numbers, pages=None):
    """A change that draws pages through a matrix."""
    def change(pdf):
        for page in [pdf.pages[k] for k in pages] if pages else pdf.pages:
            page.contents_coalesce()
            data = page.Contents.read_bytes()
            page.Contents = pdf.make_stream(b"q " + " ".join(map(str, numbers)).encode() + b" cm\n" + data + b"\nQ")
    return change


def _nothing(pdf):
    pass


def test_a_lock_with_a_password_and_one_against_printing_only(changed, widths):
    locked = changed(_nothing, encryption=pikepdf.Encryption(owner="a", user="b"))
    assert "locked with a password" in locked.sentence()
    assert _widths(changed(_nothing, encryption=pikepdf.Encryption(owner="a", user=""))) == widths


def test_all_pages_too_small(changed, widths):
    done = changed(_through(0.97, 0, 0, 0.97, 9, 12))
    assert "97.0 %" in done.finding("scale")
    for name, true in widths.items():
        assert _widths(done)[name] == pytest.approx(true, abs=0.05)


def test_one_page_too_small(changed):
    assert "Page 5 is printed at 97.0 %" in changed(_through(0.97, 0, 0, 0.97, 9, 12, pages=[4])).sentence()


def test_a_mirrored_page(changed):
    assert "Page 4 is printed mirrored" in changed(_through(-1, 0, 0, 1, 595.276, 0, pages=[3])).sentence()


@pytest.mark.parametrize(("gone", "where"), [(1, "row 1, column 1"), (4, "row 1, column 4")])
def test_a_missing_page(changed, gone, where):
    def change(pdf):
        del pdf.pages[gone]
    assert where in changed(change).sentence()


def test_pages_in_another_order(changed, widths):
    done = changed(lambda pdf: pdf.pages.reverse())
    for name, true in widths.items():
        assert _widths(done)[name] == pytest.approx(true, abs=0.05)
    assert "put together" in done.finding("pages-reordered")


@pytest.mark.parametrize("quarter", [90, 180, 270])
def test_one_page_turned(changed, widths, quarter):
    def change(pdf):
        pdf.pages[3].rotate(quarter, relative=True)
    done = changed(change)
    assert "Page 4 lies turned" in done.finding("page-turned")
    for name, true in widths.items():
        assert _widths(done)[name] == pytest.approx(true, abs=0.05)


def test_turned_pages(changed, widths):
    def change(pdf):
        for page in pdf.pages:
            page.rotate(90, relative=True)
    done = changed(change)
    assert len(_widths(done)) == len(widths)
    for name, true in widths.items():
        assert _widths(done)[name] == pytest.approx(true, abs=0.05)


def test_a_file_that_was_cut_off(shell, tmp_path, tiled):
    data = tiled.read_bytes()
    (tmp_path / "top.pdf").write_bytes(data[:2000])
    assert "fetch it again" in shell(tmp_path, "read", "top.pdf").sentence()
    (tmp_path / "top.pdf").write_bytes(data[:-700])
    assert "repaired" in shell(tmp_path, "read", "top.pdf", "--json").finding("pdf-repaired")

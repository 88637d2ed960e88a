"""Files that cannot be read: one clear sentence each, in bounded time and memory."""

import io
import zlib

import pikepdf
import pytest
from intake_pdf.tiled_pages import pdf_bytes

from toilewright.errors import FileError
from toilewright.intake.pdf import read_pdf

LINE = "1 1 m 99 99 l S"
IMAGE = ("<</Type/XObject/Subtype/Image/Width 2/Height 2/BitsPerComponent 8/ColorSpace/DeviceGray/Length 4>>",
         b"\0\1\2\3")


def refused(tmp_path, data, match):
    path = tmp_path / "choir.pdf"
    path.write_bytes(data)
    with pytest.raises(FileError, match=match) as told:
        read_pdf(path)
    text = str(told.value)
    assert "choir.pdf" in text
    assert "\n" not in text and text.endswith(".") and len(text) < 300
    return text


@pytest.mark.parametrize(("data", "match"), [
    (b"\x89PNG\r\n\x1a\n123", "picture"), (b"\xff\xd8\xff\xe0", "picture"), (b"<?xml version='1.0'?><svg/>", "SVG"),
    (b"PK\x03\x04abc", "zip"), (b"hello", "not known"), (b"", "empty"), (b"%!PS-Adobe-3.0", "PostScript"),
    (b"  0\nSECTION\n", "DXF")])
def test_strangers(tmp_path, data, match):
    refused(tmp_path, data, match)


def test_no_file(tmp_path):
    with pytest.raises(FileError, match="cannot be opened"):
        read_pdf(tmp_path / "none.pdf")


def test_locked(tmp_path):
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf_bytes([LINE], (100, 100)))) as pdf:
        pdf.save(out, encryption=pikepdf.Encryption(owner="alto", user="alto"))
    refused(tmp_path, out.getvalue(), "password")


def test_damaged(tmp_path):
    refused(tmp_path, b"%PDF-1.7\nnothing of any use here\n%%EOF", "damaged beyond repair")


def test_a_cut_off_file_is_repaired(tmp_path):
    path = tmp_path / "cut.pdf"
    path.write_bytes(pdf_bytes([LINE], (100, 100))[:-80])
    assert len(read_pdf(path).pages[0].strokes) == 1


def test_only_scanned_pictures(tmp_path):
    data = pdf_bytes(["q 100 0 0 100 0 0 cm /Scan Do Q"], (100, 100), "/XObject<</Scan 1000 0 R>>", {1000: IMAGE})
    refused(tmp_path, data, "scan.*cannot be read yet")


def test_only_words(tmp_path):
    refused(tmp_path, pdf_bytes(["BT /F1 12 Tf 50 50 Td (Sew the side seams) Tj ET"], (100, 100)), "only text")


def test_only_blank_pages(tmp_path):
    refused(tmp_path, pdf_bytes([""], (100, 100)), "draws nothing")


def test_too_many_pages(tmp_path):
    refused(tmp_path, pdf_bytes([LINE] * 401, (100, 100)), "401 pages")


def test_too_many_objects(tmp_path, monkeypatch):
    monkeypatch.setattr("toilewright.intake.pdf_state.MAX_OBJECTS", 2000)
    refused(tmp_path, pdf_bytes([(LINE + "\n") * 3000], (100, 100)), "more than 2,000 objects")


def test_a_form_inside_itself(tmp_path):
    form = ("<</Type/XObject/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</X 1000 0 R>>>>/Length 5>>", b"/X Do")
    refused(tmp_path, pdf_bytes(["/X Do"], (100, 100), "/XObject<</X 1000 0 R>>", {1000: form}), "inside each other")


def test_forms_that_multiply(tmp_path, monkeypatch):
    monkeypatch.setattr("toilewright.intake.pdf_state.MAX_OBJECTS", 3000)
    forms = {}
    for k in range(12):
        body = b"/X Do " * 10 if k < 11 else LINE.encode()
        forms[1000 + k] = (f"<</Type/XObject/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</X {1001 + k} 0 R>>>>"
                           f"/Length {len(body)}>>", body)
    refused(tmp_path, pdf_bytes(["/X Do"], (100, 100), "/XObject<</X 1000 0 R>>", forms), "objects")


def test_no_time_left(tmp_path, monkeypatch):
    monkeypatch.setattr("toilewright.intake.pdf.MAX_SECONDS", -1.0)
    refused(tmp_path, pdf_bytes([(LINE + "\n") * 300], (100, 100)), "too long")


def test_a_stream_that_swells(tmp_path):
    before = pikepdf.settings.set_qpdf_limits(flate_max_memory=1_000_000)
    try:
        refused(tmp_path, pdf_bytes([b" " * 5_000_000], (100, 100)), "unpacks to more")
    finally:
        pikepdf.settings.set_qpdf_limits(**before)


def test_the_unpacking_limit_is_set():
    assert 0 < pikepdf.settings.get_qpdf_limits()["flate_max_memory"] <= 200_000_000


def test_brackets_and_pictures_without_end_take_no_time(tmp_path):
    for junk in (b"(" * 200_000, b"<" * 200_000, b"BI " * 100_000, b"BI /A ID " * 50_000, b"[" * 200_000,
                 b"q " * 100_000, b"/OC /X BDC " * 50_000, b"m " * 200_000, b"1 " * 200_000, b"\x00" * 100_000):
        path = tmp_path / "junk.pdf"
        path.write_bytes(pdf_bytes([LINE.encode() + b"\n" + junk], (100, 100)))
        assert len(read_pdf(path).pages[0].strokes) == 1


def test_numbers_without_sense_are_left_out(tmp_path):
    path = tmp_path / "far.pdf"
    path.write_bytes(pdf_bytes([f"{LINE} 1 1 m 1{'0' * 400} 5 l S 5 5 m 99999999999 7 l S 1.2.3 --4 m 50 60 l S "
                                "3 l 9 c S"], (100, 100)))
    strokes = read_pdf(path).pages[0].strokes
    assert len(strokes) == 2


@pytest.mark.parametrize("objects", [
    {1000: "[1 2 3]"}, {1000: "<</Type/XObject/Subtype/Form>>"}, {1000: "null"}, {1000: "(text)"}])
def test_resources_of_the_wrong_kind_are_passed_over(tmp_path, objects):
    path = tmp_path / "odd.pdf"
    path.write_bytes(pdf_bytes([f"/X Do /X gs /X CS 1 SCN /OC /X BDC {LINE} EMC"], (100, 100),
                               "/XObject<</X 1000 0 R>>/ExtGState<</X 1000 0 R>>/ColorSpace<</X 1000 0 R>>"
                               "/Properties<</X 1000 0 R>>", objects))
    assert len(read_pdf(path).pages[0].strokes) == 1


def test_a_compressed_object_stream_is_read(tmp_path):
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf_bytes([LINE], (100, 100)))) as pdf:
        pdf.save(out, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    path = tmp_path / "packed.pdf"
    path.write_bytes(out.getvalue())
    assert len(read_pdf(path).pages[0].strokes) == 1


def test_other_packings(tmp_path):
    packed = zlib.compress(LINE.encode()).hex().encode() + b">"
    extra = {4: (f"<</Filter[/ASCIIHexDecode/FlateDecode]/Length {len(packed)}>>", packed)}
    path = tmp_path / "hex.pdf"
    path.write_bytes(pdf_bytes([LINE], (100, 100), extra=extra))
    assert len(read_pdf(path).pages[0].strokes) == 1

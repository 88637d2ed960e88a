"""Writes the LibreOffice Draw files of this folder (needs LibreOffice 7; not needed to run the tests).

libreoffice-sheet.pdf, libreoffice-sheet.svg: metric, one sheet, colours and dashes. Draw keeps 0.01 mm.
"""

import re
import subprocess
import tempfile
from pathlib import Path as File

from sheet import COLOURS, DASHES, HEIGHT, HERE, SIZES, WIDTH, captions, marks

SPACES = " ".join(f'xmlns:{k}="urn:oasis:names:tc:opendocument:xmlns:{v}:1.0"' for k, v in (
    ("office", "office"), ("draw", "drawing"), ("style", "style"), ("text", "text"), ("svg", "svg-compatible"),
    ("fo", "xsl-fo-compatible")))


def styles():
    for size in ("", *SIZES):
        r, g, b = (round(v * 255) for v in COLOURS.get(size, (0, 0, 0)))
        ink = f"#{r:02x}{g:02x}{b:02x}"
        dash = DASHES.get(size, ())
        if dash:
            second = f'draw:dots2="1" draw:dots2-length="{dash[2]}mm"' if len(dash) > 2 else ""
            yield (f'<draw:stroke-dash draw:name="d{size}" draw:style="rect" draw:dots1="1" '
                   f'draw:dots1-length="{dash[0]}mm" {second} draw:distance="{dash[1]}mm"/>')
        broken = f'draw:stroke="dash" draw:stroke-dash="d{size}"' if dash else 'draw:stroke="solid"'
        for kind, extra in (("cut", broken), ("line", 'draw:stroke="solid"')):
            yield (f'<style:style style:name="{kind}{size}" style:family="graphic"><style:graphic-properties {extra} '
                   f'svg:stroke-color="{ink}" svg:stroke-width="0.35mm" draw:fill="none"/></style:style>')
    yield ('<style:style style:name="solid" style:family="graphic"><style:graphic-properties draw:stroke="none" '
           'draw:fill="solid" draw:fill-color="#000000"/></style:style>')
    yield ('<style:style style:name="words" style:family="graphic"><style:graphic-properties draw:stroke="none" '
           'draw:fill="none" fo:padding="0mm" draw:auto-grow-width="true" draw:auto-grow-height="true"/></style:style>')
    for h in sorted({c.height for c in captions("metric")}):
        yield (f'<style:style style:name="t{h}" style:family="paragraph"><style:text-properties '
               f'fo:font-size="{h * 72 / 25.4:.2f}pt" style:font-name="DejaVu Sans" fo:font-family="DejaVu Sans"/>'
               '</style:style>')


def shape(mark):
    points = [(c[i], HEIGHT - c[i + 1]) for c in mark.curves for i in range(0, len(c), 2)]
    x, y = min(p[0] for p in points), min(p[1] for p in points)
    w, h = max(p[0] for p in points) - x, max(p[1] for p in points) - y
    parts, first = [], True
    for c in mark.curves:
        verb = "M" if first else "C" if len(c) == 6 else "L"
        first = False
        parts.append(verb + " ".join(f"{(c[i] - x) * 100:.0f} {(HEIGHT - c[i + 1] - y) * 100:.0f}"
                                     for i in range(0, len(c), 2)))
    closed = "Z" if mark.curves[0] == mark.curves[-1][-2:] else ""
    name = "solid" if mark.solid else ("cut" if mark.kind in ("cut", "key") else "line") + mark.size
    return (f'<draw:path draw:style-name="{name}" svg:x="{x:.3f}mm" svg:y="{y:.3f}mm" svg:width="{w:.3f}mm" '
            f'svg:height="{h:.3f}mm" svg:viewBox="0 0 {max(w * 100, 1):.0f} {max(h * 100, 1):.0f}" '
            f'svg:d="{"".join(parts)}{closed}"/>')


def words(word):
    inner = f'<draw:text-box><text:p text:style-name="t{word.height}">{word.text}</text:p></draw:text-box>'
    top = HEIGHT - word.y - word.height
    place = f'svg:x="{word.x}mm" svg:y="{top}mm"'
    if word.angle:
        place = f'draw:transform="rotate (1.5707963) translate ({word.x - word.height}mm {HEIGHT - word.y}mm)"'
    return (f'<draw:frame draw:style-name="words" {place} svg:width="80mm" svg:height="{word.height}mm">{inner}'
            "</draw:frame>")


def document():
    named = "".join(styles())
    dashes = "".join(re.findall(r"<draw:stroke-dash [^>]*/>", named))
    automatic = re.sub(r"<draw:stroke-dash [^>]*/>", "", named)
    body = "".join(shape(m) for m in marks("metric")) + "".join(words(w) for w in captions("metric"))
    return (f'<?xml version="1.0"?><office:document {SPACES} office:version="1.2" '
            'office:mimetype="application/vnd.oasis.opendocument.graphics">'
            f"<office:styles>{dashes}</office:styles><office:automatic-styles>"
            f'<style:page-layout style:name="p"><style:page-layout-properties fo:page-width="{WIDTH}mm" '
            f'fo:page-height="{HEIGHT}mm" fo:margin-top="0mm" fo:margin-left="0mm" fo:margin-right="0mm" '
            f'fo:margin-bottom="0mm"/></style:page-layout>{automatic}</office:automatic-styles>'
            '<office:master-styles><style:master-page style:name="m" style:page-layout-name="p"/>'
            "</office:master-styles>"
            f'<office:body><office:drawing><draw:page draw:name="1" draw:master-page-name="m">{body}</draw:page>'
            "</office:drawing></office:body></office:document>")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        file = File(folder) / "libreoffice-sheet.fodg"
        file.write_text(document())
        for kind in ("pdf", "svg"):
            subprocess.run(["soffice", "--headless", f"-env:UserInstallation=file://{folder}/profile", "--convert-to",
                            kind, "--outdir", str(HERE), str(file)], check=True, capture_output=True)

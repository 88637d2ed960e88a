"""Patterns in a real browser: a file dropped on an empty table, names put right by keyboard, odd sheets."""

import re

import pytest
from browser.conftest import PHONE

expect = pytest.importorskip("playwright.sync_api").expect

ODD = b"""<svg xmlns="http://www.w3.org/2000/svg" width="30in" height="24in" viewBox="0 0 30 24">
<g fill="none" stroke="black" stroke-width=".02"><path d="M2 2L9 2.4C9.5 6 8.6 7.5 9.2 11L8.8 20L2.1 20Z"/>
<path d="M13 2.3L20 2C20.5 6 19 8 20.2 11L19.9 20.3L13 20Z"/></g>
<text x="4" y="9" font-size=".6">front</text><text x="15" y="9" font-size=".6">back</text></svg>"""


@pytest.fixture(scope="session")
def demo_pdf(tmp_path_factory):
    from toilewright.blocks.concert import concert_dress
    from toilewright.output.printed_pattern import print_pattern

    path = tmp_path_factory.mktemp("demo") / "concert-dress.pdf"
    print_pattern(concert_dress(), path, "a4")
    return path


def drop(page, name, data, kind="application/octet-stream"):
    """Let a file fall on the page, as from the desktop."""
    page.locator("#drop").evaluate("""(zone, [name, kind, text]) => {
        const data = new DataTransfer();
        data.items.add(new File([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))], name, { type: kind }));
        for (const event of ["dragenter", "dragover", "drop"])
            zone.dispatchEvent(new DragEvent(event, { dataTransfer: data, bubbles: true, cancelable: true }));
    }""", [name, kind, data])


def coded(data):
    from base64 import b64encode

    return b64encode(data).decode()


def read_again(page):
    """Until the names are saved and the pattern was read under them."""
    page.locator(".quiet-work work-progress").wait_for()
    page.locator(".quiet-work work-progress").wait_for(state="detached", timeout=60000)


def test_a_pattern_is_dropped_looked_through_and_named_by_keyboard(empty_site, screen, demo_pdf):
    s = screen(empty_site)
    page = s.go("/patterns")
    drop(page, "letter.pdf", coded(b"Dear choir, the pattern comes on Monday."), "application/pdf")
    expect(page.locator("#drop-work .finding.stop")).to_contain_text("is a text, not a drawing", timeout=30000)
    expect(page.locator("#drop-work .finding.stop")).to_contain_text("It lies unread among your patterns")
    assert s.axe() == []
    drop(page, "concert-dress.pdf", coded(demo_pdf.read_bytes()), "application/pdf")
    page.wait_for_url(re.compile("/pattern/"), timeout=60000)
    expect(page.get_by_role("heading", level=1)).to_have_text("Concert dress")
    expect(page.locator(".facts")).to_contain_text("true to scale")
    page.locator("piece-table .piece").first.wait_for()
    assert s.axe() == [] and not s.wide()
    s.keep("pattern-laptop")

    # A piece by keyboard on the table, one of its edges renamed beside it.
    body = page.locator('.piece[data-piece="bodice front"] .body')
    body.focus()
    page.keyboard.press("Enter")
    names = page.locator('.piece-names[data-piece="bodice front"]')
    expect(names).to_be_visible()
    shoulder = names.locator('[data-part="edge:shoulder"] input').first
    shoulder.focus()
    lit = page.locator('.piece[data-piece="bodice front"] .hit.chosen')
    expect(lit).to_have_attribute("data-part", "edge:shoulder")
    page.keyboard.press("ControlOrMeta+A")
    page.keyboard.type("shoulder seam")
    page.keyboard.press("Enter")
    read_again(page)
    expect(page.locator(".seam-rows")).to_contain_text("bodice front: shoulder seam")
    expect(page.locator('.piece[data-piece="bodice front"] [data-part="edge:shoulder seam"]')).to_have_count(1)
    expect(page.locator(":focus")).to_have_attribute("data-path", re.compile("pieces/.*/kind"))

    # A name twice is said beside its field; what was written stays there, and what was saved stays saved.
    neck = names.locator('[data-part="edge:neck"] input').first
    neck.fill("waist")
    neck.press("Enter")
    expect(names.locator(".slip")).to_contain_text("two separate edges")
    assert neck.get_attribute("aria-invalid") == "true" and s.axe() == []
    s.keep("pattern-slip-laptop")
    neck.fill("neck line")
    neck.press("Enter")
    expect(names.locator(".slip")).to_have_count(0)
    page.get_by_role("button", name="The names are right").click()
    expect(page.get_by_text("You have looked the names through")).to_be_visible(timeout=30000)
    page.reload()
    page.locator("#which").select_option(label="bodice front")
    expect(page.locator('[data-part="edge:shoulder seam"] input').first).to_have_value("shoulder seam")
    expect(page.locator('[data-part="edge:neck line"] input').first).to_have_value("neck line")


def test_an_odd_sheet_in_inches_is_made_usable_on_a_phone(empty_site, screen):
    s = screen(empty_site, PHONE, theme="dark")
    page = s.go("/patterns")
    assert s.axe() == [] and not s.wide()
    page.locator("#drop-file").set_input_files({"name": "odd.svg", "mimeType": "image/svg+xml", "buffer": ODD})
    page.wait_for_url(re.compile("/pattern/"), timeout=60000)
    expect(page.locator(".facts")).to_contain_text("2 pieces in one size")
    expect(page.locator(".facts")).to_contain_text("No test square was found")
    page.locator("piece-table .piece").first.wait_for()
    assert s.axe() == [] and not s.wide()
    page.locator("#which").select_option(label="front")
    first = page.locator('.piece-names[data-piece="front"] [data-part="edge:edge 1"]')
    expect(first).to_contain_text("not made out")
    assert s.axe() == [] and not s.wide()
    s.keep("pattern-odd-phone-dark")

    # The envelope's measures are typed in, in inches; a row is kept when it is whole.
    page.get_by_role("button", name="Lengths are shown in centimetres; press to change").click()
    page.get_by_role("button", name="Lengths are shown in inches; press to change").wait_for()
    page.locator("piece-table .piece").first.wait_for()
    page.get_by_label("bust girth, size 1").fill("36 1/2")
    page.get_by_label("bust girth, size 1").press("Tab")
    expect(page.locator("#chart-slip")).to_contain_text("bust girth is kept")
    read_again(page)
    expect(page.get_by_label("bust girth, size 1")).to_have_value("36 1/2")

    # Two edges are sewn together.
    page.get_by_text("Sew two edges together").click()
    for side, piece in (("First side", "front"), ("Second side", "back")):
        group = page.get_by_role("group", name=re.compile(f"^{side}"))
        group.get_by_role("combobox").first.select_option(label=f"{piece}: edge 2")
    page.locator("#new-seam").get_by_label("Name of the seam").fill("side seam")
    page.get_by_role("button", name="Sew them").click()
    read_again(page)
    expect(page.locator(".seam-rows")).to_contain_text("front: edge 2")
    expect(page.locator(".seam-rows")).to_contain_text(re.compile("equally long|longer|shorter"))
    assert s.axe() == [] and not s.wide()
    s.keep("pattern-odd-sewn-phone-dark")


def test_the_pattern_of_a_make_is_settled_on_its_page(site, screen):
    s = screen(site, PHONE)
    page = s.go("/")
    make = page.locator(".make").get_attribute("data-make")
    s.go(f"/make/{make}/pattern")
    page.locator("piece-table .piece").first.wait_for()
    assert s.axe() == [] and not s.wide()
    s.keep("make-pattern-phone")
    page.get_by_role("link", name="Take another pattern").click()
    expect(page.get_by_role("button", name=re.compile("Take this one"))).to_be_visible()
    assert s.axe() == [] and not s.wide()
    page.get_by_role("button", name=re.compile("Take this one")).click()
    page.locator("piece-table .piece").first.wait_for()
    page.get_by_role("button", name=re.compile("Settled, on to")).click()
    page.wait_for_url(re.compile("/size"))

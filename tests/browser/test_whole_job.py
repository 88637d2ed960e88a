"""The whole job in a browser, from an empty table to printed pieces and a diary: no shell, no network.

What comes out is compared with the command line's result for the same tape sheet and pattern.
"""

import io
import json
import re
import subprocess
import sys
import zipfile

import pikepdf
import pytest
from browser.conftest import LAPTOP, PHONE
from playwright.sync_api import expect

from toilewright import demo
from toilewright.blocks.concert import concert_dress
from toilewright.output.printed_pattern import print_pattern

MEASURES = {
    "stature": "166", "bust girth": "95,5", "upper bust girth": "90", "waist girth": "78,5 cm", "hip girth": "102",
    "back neck point to waist": "43", "neck shoulder point to waist back": "43,4",
    "neck shoulder point to bust point": "29,1", "neck shoulder point to waist": "45", "bust point width": "20",
    "upper arm girth": "29,5", "waist to hip": "20,8", "forward shoulder": "1,2",
}
"""The invented alto of the demo."""

ALWAYS = ("high round back", "forward shoulder")


@pytest.fixture(scope="module")
def bought(tmp_path_factory):
    """The pattern as she bought it, on one sheet."""
    path = tmp_path_factory.mktemp("bought") / "concert-dress.pdf"
    print_pattern(concert_dress(), path, "sheet")
    return path


@pytest.fixture(scope="module")
def expected(bought, tmp_path_factory):
    """The same make by the command line, written by hand as files."""
    folder = tmp_path_factory.mktemp("by-hand")
    (folder / bought.name).write_bytes(bought.read_bytes())
    rows = "\n".join(f'"{name}" = "{text}"' for name, text in MEASURES.items())
    always = "\n".join(f'[[alteration]]\nname = "{name}"' for name in ALWAYS)
    (folder / demo.TAPE).write_text(f'name = "the alto"\nwaist_place = "natural"\n[measures]\n{rows}\n{always}\n',
                                    encoding="utf-8")
    (folder / demo.MAKE).write_text(
        f'title = "Concert dress"\npattern = "{bought.name}"\ntape = "{demo.TAPE}"\n[print]\npapers = ["a4"]\n'
        '[[alteration]]\nname = "bust dart height"\namount = "2,5 cm"\n', encoding="utf-8")
    done = subprocess.run([sys.executable, "-m", "toilewright", "make", str(folder / demo.MAKE), "--out",
                           str(folder / "out"), "--json"], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def check(s, name, size):
    """A screen as it stands: nothing for axe, nothing sticking out; kept to be looked at."""
    assert s.axe() == [], name
    assert not s.wide(), name
    s.keep(f"{name}-{'phone' if size is PHONE else 'laptop'}")


def settle(page, onto):
    page.get_by_role("button", name=re.compile("^Settled")).click()
    page.wait_for_url(re.compile(onto))
    page.wait_for_load_state()


@pytest.mark.parametrize(("size", "theme"), [(LAPTOP, "light"), (PHONE, "dark")], ids=["laptop", "phone"])
def test_from_an_empty_table_to_paper(empty_site, screen, bought, expected, size, theme):
    s = screen(empty_site, size, theme=theme)
    page = s.go("/")
    check(s, "1-welcome", size)
    page.get_by_role("button", name="Begin a make").click()
    page.wait_for_url("**/measure*")

    # -- measure: a wrong entry is questioned, everything is kept ------------------------------------------
    page.get_by_role("textbox").first.fill("the alto")
    page.keyboard.press("Enter")
    page.locator('[data-measure="bust girth"]').first.wait_for(state="attached")
    if size is PHONE:
        one_at_a_time = page.get_by_role("button", name=re.compile("One at a time"))
        expect(one_at_a_time).to_have_attribute("aria-pressed", "true")
        one_at_a_time.click()
    for name, text in MEASURES.items():
        field = page.locator(f'[data-measure="{name}"] input[data-side=""]')
        field.fill(text)
        with page.expect_response(re.compile("/state")):
            field.press("Tab")
    page.get_by_role("radio", name=re.compile("Natural")).check()
    for name in ALWAYS:
        page.get_by_label("Another one").select_option(name)
        page.get_by_role("button", name="Add", exact=True).click()
        page.get_by_role("button", name=re.compile(f"Take away.*{name}|{name}.*[Tt]ake away")).wait_for()
    check(s, "2-measure", size)
    settle(page, "/pattern")

    # -- pattern: another file is refused and nothing is lost ----------------------------------------------
    page.locator("#drop-file").set_input_files({"name": "notes.pdf", "mimeType": "application/pdf", "buffer": b"hello"})
    page.locator(".finding.stop").filter(has_text="notes.pdf").wait_for(timeout=60000)
    page.locator("#drop-file").set_input_files(bought)
    page.get_by_role("button", name="The names are right").wait_for(timeout=90000)
    page.get_by_role("button", name="The names are right").click()
    page.get_by_text("13 pieces in 10 sizes").wait_for()
    check(s, "3-pattern", size)
    settle(page, "/size")

    # -- size ----------------------------------------------------------------------------------------------
    expect(page.get_by_role("heading", name="Size 5")).to_be_visible()
    check(s, "4-size", size)
    settle(page, "/alter")

    # -- alter: typed, tried at once, saved ----------------------------------------------------------------
    page.get_by_text("Add an alteration").click()
    page.get_by_label("Find one").fill("points above")
    page.locator('[data-add="bust dart height"]').click()
    field = page.get_by_label("Amount of bust dart height")
    field.fill("2,5")
    field.press("Tab")
    page.locator("#notices").get_by_text("Saved").wait_for()
    page.locator("#stand .sews").wait_for()
    check(s, "5-alter", size)
    page.reload()
    assert page.get_by_label("Amount of bust dart height").input_value() == "2.5 cm"
    settle(page, "/walk")

    # -- walk ----------------------------------------------------------------------------------------------
    expect(page.get_by_role("heading", name="All 14 seams sew")).to_be_visible()
    page.get_by_role("button", name=re.compile("Walk it: Armhole|Walk it.*[Aa]rmhole")).click()
    page.locator("seam-walk").first.wait_for()
    check(s, "6-walk", size)
    settle(page, "/print")

    # -- print: the files hold what the command line makes of the same sheet --------------------------------
    page.get_by_role("button", name="Make the files").click()
    page.get_by_text("The files are ready.").first.wait_for(timeout=90000)
    with page.expect_download() as coming:
        page.get_by_role("link", name="Save all as one file").click()
    packed = zipfile.ZipFile(io.BytesIO(coming.value.path().read_bytes()))
    result = json.loads(packed.read(next(n for n in packed.namelist() if n.endswith("result.json"))))
    for what in ("sizes", "alterations", "landmarks", "seams", "ease"):
        assert result[what] == expected[what], what
    with pikepdf.open(io.BytesIO(packed.read(next(n for n in packed.namelist() if "a4" in n)))) as pdf:
        assert len(pdf.pages) > 20
    check(s, "7-print", size)
    settle(page, "/cards")

    # -- cards, diary ----------------------------------------------------------------------------------------
    expect(page.get_by_role("heading", name=re.compile("High round back"))).to_be_visible()
    check(s, "8-cards", size)
    settle(page, "/toile")

    # -- toile: seen, answered, taken into the pattern ---------------------------------------------------------
    page.locator("#see").get_by_label("Bust", exact=True).check()
    page.get_by_label("dart ends below the bust point").check()
    page.get_by_label("How far").fill("2")
    page.get_by_role("button", name="Note it").click()
    reading = page.locator(".answers li", has_text="bust dart height").first
    reading.get_by_role("button").click()
    reading.get_by_text("in the pattern").wait_for()
    check(s, "8-toile", size)
    settle(page, "/cloth")

    # -- cloth: laid out, to be cut in its order ---------------------------------------------------------------
    page.locator("#width-1").fill("150")
    page.locator("#width-1").press("Tab")
    page.locator("#notices").get_by_text("Saved").first.wait_for()
    page.get_by_label("How long to look").select_option("3")
    page.get_by_role("button", name="Lay it out").click()
    page.get_by_text("Everything was checked, and holds").first.wait_for(timeout=90000)
    check(s, "9-cloth", size)
    settle(page, "/$")
    check(s, "10-home", size)
    make = page.locator(".make").get_attribute("data-make")
    s.go(f"/make/{make}/diary")  # what was read off the toile wants another look first, so the way there is folded away
    page.get_by_label("What worked").check()
    page.get_by_label("In your words").fill("The back no longer rides up")
    page.get_by_role("button", name="Write it down").click()
    page.locator(".entry .said").get_by_text("The back no longer rides up").wait_for()
    check(s, "11-diary", size)

    # -- back to the size: everything after it wants another look -------------------------------------------
    s.go(f"/make/{make}/size")
    page.get_by_label("One size").check()
    page.get_by_role("radio", name="6", exact=True).check(force=True)
    page.locator("#differences li").first.wait_for()
    with page.expect_navigation():
        page.get_by_role("button", name="Take it").click()
    marks = page.locator(".tape li").evaluate_all("all => all.map(one => one.className.trim())")
    assert marks == ["settled", "settled", *["again"] * 7]

"""Tissue without a file, by keyboard: laid out, taken with a tape, doubted, gone on with to the cards."""

from browser.conftest import LAPTOP, PHONE

from toilewright.fit.flat import flat_of
from toilewright.make.takings import takings_on
from toilewright.make.tissue_kinds import find_kind


def dress_by_tape():
    """What a patient woman would write down of a dress in size 6 of our chart, in cm, net."""
    kind = find_kind("dress", "")
    flat, takings = flat_of(kind.block("6")).lengths, takings_on(kind.block())
    return {t.name: round(flat[t.makes].value / t.times / sum(o.makes == t.makes for o in takings) / 10, 1)
            for t in takings if t.makes in flat}


def test_a_dress_on_tissue_is_taken_length_by_length_and_gone_on_with(screen, site):
    s = screen(site, LAPTOP)
    page = s.go("/patterns")
    assert s.axe() == []
    s.keep("tissue-new-laptop")
    page.get_by_label("Kind of garment").select_option("dress")
    page.get_by_label("Name of the pattern").fill("Choir dress")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Choir dress", level=1).wait_for()
    assert "Still needed" in page.locator("#standing").inner_text()
    page.get_by_label("Size on the tissue").fill("14")
    page.get_by_label("Allowances beyond the seam lines").fill("0")
    page.get_by_label("Allowances beyond the seam lines").press("Tab")
    lengths = dress_by_tape()
    for name in lengths:
        page.locator(f'input[name="{name}"]').fill(str(lengths[name]))
        page.keyboard.press("Enter")
    page.get_by_text("Enough for size").wait_for()
    back = page.locator('[data-taking="across back"]')
    back.locator("input").fill("86")
    page.keyboard.press("Enter")
    back.get_by_text("do not go together").wait_for()
    assert s.axe() == [] and not s.wide()
    s.keep("tissue-doubt-laptop")
    back.get_by_role("button", name="Leave it out").click()
    page.get_by_text("Enough for size").wait_for()
    assert back.locator("input").input_value() == ""
    page.get_by_role("button", name="Undo").first.click()
    page.get_by_text("Undone: across back left out").wait_for()
    assert page.locator('[data-taking="across back"] input').input_value() == "86.0"
    pattern = page.url.rpartition("/")[2]

    p = screen(site, PHONE, theme="dark")
    page = p.go(f"/pattern/{pattern}")
    page.locator('[data-taking="across back"] input').fill(str(lengths["across back"]))
    page.keyboard.press("Enter")
    page.get_by_text("Enough for size").wait_for(state="attached")
    assert p.axe() == [] and not p.wide()
    p.keep("tissue-phone-dark")

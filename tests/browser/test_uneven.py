"""An uneven figure in a browser: one side is asked for, and both pieces stand on the table under their names."""

from browser.conftest import LAPTOP


def test_more_room_on_her_left_makes_two_pieces(screen, site):
    s = screen(site, LAPTOP)
    page = s.go("/")
    page.get_by_role("link", name="Concert dress for the alto").first.click()
    make = page.url.split("/make/")[1].split("/")[0]
    thing = page.evaluate(f"""async () => {{
      const {{ get, change }} = await import("/static/js/api.js");
      const thing = await get("/things/{make}");
      return change("{make}", thing.revision, [[["alterations", "+"],
        {{ name: "hip in or out", amount: 20, options: {{ side: "left" }}, on: true }}]], "her left hip");
    }}""")
    assert thing["document"]["alterations"][-1]["options"] == {"side": "left"}
    s.go(f"/make/{make}/alter")
    left, right = (page.locator(f'piece-table [data-piece="skirt back {side}"]') for side in ("left", "right"))
    left.wait_for(state="attached")
    right.wait_for(state="attached")
    assert left.locator(".title tspan").all_text_contents() == ["skirt back", "left"]
    assert s.axe() == [] and not s.wide()
    s.keep("uneven-alter")
    s.go(f"/make/{make}/print")
    page.get_by_text("What is cut").click()
    assert page.locator(".cut-list li", has_text="skirt back left").count() == 1
    assert s.axe() == []
    s.keep("uneven-print")

"""Parts and rungs are put in another order by hand: the handle is dragged, or moved with the arrow keys."""

from tests.harness.people import signed_in


def test_a_part_and_a_rung_are_dragged_and_moved_by_keys(demo_site, desk) -> None:
    from tests.browser.addresses import DIRECTOR, drill, session_tonight

    signed_in(desk.context, demo_site, DIRECTOR)
    desk.goto(demo_site.address(session_tonight() + "parts/"))
    titles = desk.locator("[data-part] h3")
    before = [text.split(". ", 1)[1] for text in titles.all_inner_texts()]
    desk.locator("[data-handle='0']").drag_to(desk.locator("[data-part]").nth(2))
    desk.wait_for_url("**/parts/#parts")
    after = [text.split(". ", 1)[1] for text in titles.all_inner_texts()]
    assert after == [before[1], before[2], before[0], *before[3:]]
    desk.locator("[data-handle='2']").press("ArrowUp")
    desk.wait_for_url("**/parts/#p1")
    again = [text.split(". ", 1)[1] for text in titles.all_inner_texts()]
    assert again == [before[1], before[0], before[2], *before[3:]]

    desk.goto(demo_site.address(drill("All Aboard") + "change/"))
    desk.locator("#fold-variations summary").click()
    rungs = desk.locator("#fold-variations [name$=-title]")
    first, second, third, *more = (each.input_value() for each in rungs.all())
    handles = desk.locator("#fold-variations [data-handle]")
    handles.nth(2).drag_to(desk.locator("#fold-variations [data-row]").first)
    desk.wait_for_url("**/change/#fold-variations")
    assert [each.input_value() for each in rungs.all()] == [third, first, second, *more]
    with desk.expect_navigation():
        handles.nth(0).press("ArrowDown")
    assert [each.input_value() for each in rungs.all()] == [first, third, second, *more]

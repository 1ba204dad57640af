"""Parts and rungs are put in another order by hand: the handle is dragged, or moved with the arrow keys."""

from tests.harness.accessible import complaints
from tests.harness.people import signed_in


def test_a_part_and_a_rung_are_dragged_and_moved_by_keys(demo_site, desk) -> None:
    from tests.browser.addresses import DIRECTOR, drill, session_tonight

    signed_in(desk.context, demo_site, DIRECTOR)
    desk.goto(demo_site.address(session_tonight() + "parts/"))
    titles = desk.locator("[data-part] h3")
    before = [text.split(". ", 1)[1] for text in titles.all_inner_texts()]
    changeovers = [each.input_value() for each in desk.locator("[name$=-changeover]").all()]
    desk.locator("[data-handle='0']").drag_to(desk.locator("[data-part]").nth(2))
    desk.wait_for_url("**/parts/#parts")
    after = [text.split(". ", 1)[1] for text in titles.all_inner_texts()]
    assert after == [before[1], before[2], before[0], *before[3:]]
    desk.locator("[data-handle='2']").press("ArrowUp")
    desk.wait_for_url("**/parts/#p1")
    again = [text.split(". ", 1)[1] for text in titles.all_inner_texts()]
    assert again == [before[1], before[0], before[2], *before[3:]]

    assert [each.input_value() for each in desk.locator("[name$=-changeover]").all()] == changeovers

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


def test_a_drill_goes_where_the_coach_points_by_the_keyboard_alone(demo_site, phone) -> None:
    from tests.browser.addresses import COACH, session_tonight

    signed_in(phone.context, demo_site, COACH)
    phone.goto(demo_site.address(session_tonight() + "parts/"))
    titles = phone.locator("[data-part] h3")
    before = [text.split(". ", 1)[1] for text in titles.all_inner_texts()]
    where = phone.get_by_label("Where it goes")
    where.focus()
    phone.keyboard.type(f"before 2. {before[1]}")
    assert where.input_value() == "before:1"
    add = phone.locator(".picks button").first
    added = add.get_attribute("aria-label").removeprefix("Add ")
    with phone.expect_navigation():
        add.press("Enter")
    assert [text.split(". ", 1)[1] for text in titles.all_inner_texts()] == [before[0], added, *before[1:]]
    assert phone.evaluate("document.activeElement.textContent") == f"2. {added}"  # and it is in view

    where.select_option("into:0")
    with phone.expect_navigation():
        phone.locator(".picks button").nth(1).press("Enter")
    beside = phone.locator("#p0 .beside-it li")
    assert beside.inner_text().startswith("At the same time: ")
    assert complaints(phone, "parts") == []
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360
    with phone.expect_navigation():
        beside.get_by_role("button").press("Enter")
    assert beside.count() == 0

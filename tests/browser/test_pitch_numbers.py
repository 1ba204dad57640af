"""Numbers changed at the pitch without signal: parts set up from what was taken along, another drill, teams, who is off."""

import json
import re
from collections.abc import Callable
from typing import Any

from playwright.sync_api import expect

from tests.browser.at_the_pitch import Pitch
from tests.browser.test_set_up_all import stations
from tests.harness.accessible import complaints

MUCH_MS = 30_000  # answers are worked out when they are asked for first


def whole(phone: Pitch, view: str = "register") -> None:
    """Open the page, and wait until what goes along with it is there."""
    phone.page.set_default_navigation_timeout(MUCH_MS)
    phone.open(view)
    phone.page.wait_for_selector("main[data-taken]", timeout=MUCH_MS)


def cut(phone: Pitch) -> None:
    phone.page.context.set_offline(True)


def back(phone: Pitch) -> None:
    phone.page.context.set_offline(False)


def look(phone: Pitch, key: str) -> None:
    phone.go("more")
    phone.page.click(f'[data-go="{key}"]')
    phone.page.wait_for_selector('main[data-view="part"]')


def shown(phone: Pitch) -> list[str]:
    """What a coach reads of the part on the page, its plan among it: without the clock, which runs."""
    found = [
        *phone.part(".tonight").all(),
        *phone.part(".plan .drawn:not([hidden])").all(),
        *phone.part("[data-words] > :not([hidden])").all(),
        *phone.part(".fitted:not([hidden])").all(),
    ]
    return [re.sub(r"\s+", " ", each.text_content()).strip() for each in found]


def keys(phone: Pitch) -> list[str]:
    return [each["key"] for each in json.loads(phone.page.locator("#evening").text_content())["parts"]]


def accepted(phone: Pitch, players: int) -> list[str]:
    """Numbers changed for the part on the page: the first answer, taken."""
    phone.part('[data-do="numbers"]').click()
    phone.page.fill('[name="players"]', str(players))
    answer = phone.page.locator("#answers .answer").first
    expect(answer.locator("h3")).to_be_visible(timeout=MUCH_MS)
    phone.page.wait_for_function(
        "n => document.querySelector('#answers [data-setup]')?.dataset.setup.includes(`\"players_total\": ${n}`)"
        " || document.querySelector('#answers [data-setup]')?.dataset.setup.includes(`\"players_total\":${n}`)",
        arg=players,
        timeout=MUCH_MS,
    )
    answer.locator("button").click()
    phone.page.wait_for_selector('main[data-view="part"]')
    phone.says(".fitted", re.compile("^Tonight "))
    return shown(phone)


def test_with_and_without_signal_a_part_reads_the_same(pitch: Callable[..., Pitch]) -> None:
    with_signal, without = pitch(), pitch("helper@demo.example")
    whole(with_signal, "part")
    whole(without, "part")
    second = keys(with_signal)[1]
    look(with_signal, second)
    look(without, second)
    cut(without)
    before = shown(without)
    now = accepted(without, 14)
    assert now != before
    assert now == accepted(with_signal, 14)


def test_everything_is_set_up_without_signal_and_undone(pitch: Callable[..., Pitch]) -> None:
    phone = pitch("helper@demo.example")
    whole(phone)
    phone.page.click("#begin")  # the first part has begun: it stays as it is
    phone.go("register")
    phone.page.click("#all-here")
    phone.arrived(16)
    first, *later = stations(phone)
    before = [(each.setup, each.evening) for each in later]
    look(phone, keys(phone)[1])
    looked = shown(phone)
    phone.go("register")
    cut(phone)
    offer = phone.page.locator("#set-up-all")
    expect(offer).to_have_text("Set everything up for 15")
    offer.click()
    became = phone.page.locator("#became")
    expect(became).to_contain_text("Set up for 15.")
    expect(became.locator("li")).to_have_count(len(later))
    expect(became.locator("li[data-changed]")).to_have_count(len(later))
    expect(offer).to_be_hidden()
    assert complaints(phone.page, "register") == []
    back(phone)
    phone.arrived(16 + len(later))
    now = stations(phone)
    assert now[0].setup == first.setup
    assert [each.evening["players"] for each in now[1:]] == [15] * len(later)
    expect(phone.page.locator("#tapped")).to_contain_text("Set up for 15.")
    cut(phone)
    phone.page.click("#tapped button")
    expect(offer).to_have_text("Set everything up for 15")
    back(phone)
    phone.arrived(16 + 2 * len(later))
    assert [(each.setup, each.evening) for each in stations(phone)[1:]] == before
    look(phone, keys(phone)[1])
    assert shown(phone) == looked


def test_beyond_four_more_it_is_said_and_the_nearest_is_offered(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    whole(phone, "part")
    cut(phone)
    phone.part('[data-do="numbers"]').click()
    phone.page.fill('[name="players"]', "23")
    answers = phone.page.locator("#answers")
    expect(answers.locator(".problems")).to_contain_text(
        re.compile(r"Not worked out for 23\. Nearest: set it up for \d+, with \d+ off in turn\."),
        timeout=MUCH_MS,
    )
    expect(answers.locator(".problems")).to_contain_text("No signal. This was worked out before:")
    phone.page.fill('[name="players"]', "3")
    expect(answers.locator(".problems")).to_contain_text(re.compile(r"you are \d+ short"))
    expect(answers.locator("button[data-setup]")).to_have_count(1)
    assert complaints(phone.page, "numbers") == []


def test_another_drill_takes_a_parts_place_and_another_phone_shows_it(pitch: Callable[..., Pitch]) -> None:
    phone, other = pitch(), pitch("helper@demo.example")
    whole(phone, "part")
    phone.page.click('[data-do="hold"] >> visible=true')  # the clock runs
    cut(phone)
    title = phone.part(".further h2")
    planned, before = title.text_content(), shown(phone)
    digits = phone.part(".digits")
    phone.part(".instead summary").click()
    choice = phone.part(".instead button[data-instead]").last  # one of the library
    instead = choice.locator("b").text_content()
    choice.click()
    expect(title).to_have_text(instead)
    phone.says(".swapped", f"Instead of {planned}.")
    expect(digits).to_have_text(re.compile(r"^\d+:\d\d$"))
    swapped = shown(phone)
    assert swapped != before
    assert complaints(phone.page, "swapped") == []
    back(phone)
    phone.sent_all()
    assert "part_swapped" in [kind for kind, _body in phone.events()]
    whole(other, "part")
    other.says(".further h2", instead)
    assert shown(other) == swapped
    phone.page.reload()
    whole(phone, "part")
    phone.says(".further h2", instead)
    phone.part(".instead summary").click()
    phone.part(".instead button[data-instead]").first.click()  # as planned
    expect(title).to_have_text(planned)
    expect(phone.part(".swapped")).to_be_hidden()
    assert shown(phone) == before


def test_two_parts_change_places(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    whole(phone, "part")
    second, third = keys(phone)[1:3]
    cut(phone)
    look(phone, second)
    was = phone.part(".further h2").text_content()
    phone.part(".instead summary").click()
    row = phone.part(
        ".instead button",
    ).filter(has_text="of part 3")
    title = row.locator("b").text_content()
    row.click()
    phone.says(".further h2", title)
    look(phone, third)
    phone.says(".further h2", was)
    look(phone, second)
    phone.part(".instead summary").click()
    back(phone)


def test_teams_are_made_moved_wished_for_and_undone(pitch: Callable[..., Pitch]) -> None:
    phone = pitch("helper@demo.example")
    whole(phone)
    phone.page.click("#all-here")
    phone.page.click("#add-trialist")
    phone.go("part")
    cut(phone)
    phone.part("[data-make-teams]").click()
    phone.page.click("#draw-teams")
    lists = phone.page.locator("#teams-list section")
    expect(lists.first).to_be_visible()
    sizes = [each.locator("li").count() for each in lists.all()]
    assert sum(sizes) == 16
    assert complaints(phone.page, "teams") == []
    mover = lists.first.locator("li .tap").first
    name = mover.locator(".who").text_content()
    mover.click()
    expect(lists.nth(1)).to_contain_text(name)
    phone.page.click("#tapped button")
    expect(lists.first).to_contain_text(name)
    partner = lists.nth(1).locator("li .who").first.text_content()
    phone.page.click("#pairs summary")
    phone.page.select_option("#pair-first", label=f"\u2068{name}\u2069")
    phone.page.select_option("#pair-second", label=f"\u2068{partner}\u2069")
    phone.page.click("#pair-together")
    expect(phone.page.locator("#wishes li")).to_contain_text("together")
    both = lists.filter(has_text=name).filter(has_text=partner)
    expect(both).to_have_count(1)
    phone.go("part")
    expect(phone.part(".own-teams")).to_contain_text(name)
    back(phone)
    phone.sent_all()
    sets = [body for kind, body in phone.events() if kind == "teams_set"]
    assert sets
    assert all(isinstance(each["seed"], int) for each in sets)
    assert not [body for body in sets if name in json.dumps(body)]  # ids alone
    other = pitch("coach@demo.example")
    whole(other, "part")
    expect(other.part(".own-teams")).to_have_text(phone.part(".own-teams").text_content())


def made(phone: Pitch, script: str, *given: Any) -> Any:
    from django.templatetags.static import static

    url = static("sessions/pitch/tonight/teams_made.js")
    return phone.page.evaluate(
        f"async ([url, ...given]) => {{ const made = await import(url); return {script}; }}", [url, *given]
    )


def test_the_same_seed_draws_the_same_teams_and_wishes_are_met_where_they_can_be(
    pitch: Callable[..., Pitch],
) -> None:
    phone = pitch()
    phone.open("register")
    players = [f"p{n:02}" for n in range(13)]
    asked = {"players": players, "counts": [4, 4, 4], "seed": 7, "wishes": []}
    one = made(phone, "made.makeTeams(given[0])", asked)
    again = made(phone, "made.makeTeams(given[0])", {**asked, "players": players[::-1]})
    assert one == again
    assert sorted(len(each) for each in one["teams"]) == [4, 4, 5]
    assert sorted(name for team in one["teams"] for name in team) == players
    assert made(phone, "made.makeTeams(given[0])", {**asked, "seed": 8}) != one
    wishes = [
        {"first": "p00", "second": "p01", "together": True},
        {"first": "p01", "second": "p02", "together": False},
        {"first": "p03", "second": "p04", "together": False},
    ]
    for seed in range(40):
        found = made(phone, "made.makeTeams(given[0])", {**asked, "seed": seed, "wishes": wishes})
        team = {name: n for n, each in enumerate(found["teams"]) for name in each}
        assert (team["p00"] == team["p01"], team["p01"] == team["p02"], team["p03"] == team["p04"]) == (
            True,
            False,
            False,
        )
        assert found["open"] == []
        assert max(map(len, found["teams"])) - min(map(len, found["teams"])) <= 1
    clash = [*wishes, {"first": "p00", "second": "p01", "together": False}]
    assert len(made(phone, "made.makeTeams(given[0])", {**asked, "wishes": clash})["open"]) == 1
    assert made(phone, "made.sizes([5, 5, 2], 15)") == [6, 6, 3]
    assert made(phone, "made.sizes([5, 5, 2], 9)") == [4, 4, 1]


def test_in_a_ring_nobody_is_off_twice_before_all_were_off_once(pitch: Callable[..., Pitch]) -> None:
    from django.templatetags.static import static

    phone = pitch()
    phone.open("register")
    script = """async ([url, ring, waiting]) => {
      const { offIn } = await import(url);
      return [1, 2, 3, 4, 5, 6].map((round) => offIn(round, { bibs: "", planned: null, waiting, ring }).ids);
    }"""
    url = static("sessions/pitch/tonight/off_next.js")
    for players, waiting in ((7, 2), (9, 3), (5, 1), (11, 4)):
        ring = [f"p{n:02}" for n in range(players)]
        rounds = phone.page.evaluate(script, [url, ring, waiting])
        times = dict.fromkeys(ring, 0)
        for each in rounds:
            assert len(set(each)) == waiting
            for name in each:
                times[name] += 1
            assert max(times.values()) - min(times.values()) <= 1
    assert phone.page.evaluate(script, [url, ["a", "b"], 2])[0] == []

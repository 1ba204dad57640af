"""Pages of training: what each shows, keeps, and refuses in a coach's words."""

import re
from datetime import timedelta
from typing import Any

import pytest
import time_machine
from django.urls import reverse

from club.queries import today
from sessions import queries
from sessions.choices import State
from sessions.models import LedgerEntry, Slot, TrainingSession
from tests.factories import ThemeFactory, ZoneFactory
from tests.factories_sessions import part_input, planned_session, shared_drill, weekly_slot
from tests.people import World, signed_in


@pytest.fixture
def drill(world: World) -> Any:
    return shared_drill(owner=world.people.coach)


@pytest.fixture
def session(world: World, drill: Any) -> Any:
    return planned_session(
        place=world.own,
        by=world.people.coach,
        title="Gates and patience",
        staff=[world.people.coach],
        zones=[ZoneFactory(pitch__name="Long Meadow", name="North")],
        parts=[part_input(drill=drill), part_input(drill=drill, effort=9.0, minutes=30)],
    )


@pytest.fixture
def coach(world: World) -> Any:
    return signed_in(world.people.coach)


def frame_of(session: Any, **changes: Any) -> dict[str, Any]:
    given = {
        "title": session.title,
        "theme": "",
        "day": session.day.isoformat(),
        "starts": "18:00",
        "ends": "19:15",
        "zones": [each["id"] for each in queries.zones_of(session)],
        "leads": queries.staff_rows_of(session)[0]["id"],
        "helps": [],
        "players_expected": "14",
        "note": "",
        "version": session.version,
    }
    return {**given, **changes}


def text_of(response: Any) -> str:
    return " ".join(response.content.decode().split())


def test_the_session_says_when_where_what_and_what_is_over(coach: Any, session: Any) -> None:
    text = text_of(coach.get(reverse("sessions:session", args=[session.public_id])))
    assert "Long Meadow: North" in text
    assert "A pass through the lantern opens both goals." in text
    assert "Effort 9 of 10 is above the 8 that this age group plans at most." in text
    # 2 × 2 + 18 × 5 + 30 × 9 = 364 against the 340 of the age group
    assert "364 AU expected, 24 more than the 340 AU for a session." in text
    assert "18:02–18:20" in text


def test_the_section_of_the_youngest_has_no_budget(world: World) -> None:
    world.own.age_group.session_load_au = world.own.age_group.week_load_au = None
    world.own.age_group.save()
    made = planned_session(place=world.own, by=world.people.coach, parts=[part_input()])
    text = text_of(signed_in(world.people.coach).get(reverse("sessions:session", args=[made.public_id])))
    assert "This age group is looked after by minutes and days" in text
    assert 'class="level"' not in text


def test_frame_is_saved(coach: Any, session: Any) -> None:
    theme = ThemeFactory(title="Third player")
    data = frame_of(session, title="Later", starts="18:30", ends="19:40", theme=str(theme.public_id))
    response = coach.post(reverse("sessions:edit", args=[session.public_id]), data)
    assert response.status_code == 302
    saved = queries.session_by_id(session.public_id)
    assert saved is not None
    assert (saved.title, f"{saved.starts:%H:%M}", saved.theme) == ("Later", "18:30", theme)
    assert [each["name"] for each in queries.staff_rows_of(saved)] == ["Carl Coach"]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"ends": "17:00"}, "The end must be after the start."),
        ({"players_expected": "500"}, "Say how many players you expect, from 1 to 60."),
        ({"players_expected": "a few"}, "A whole number, please: 12."),
        ({"day": "2019-01-01"}, "The season runs from 01 Jul"),
        ({"starts": "quarter to"}, "A time on the clock, please: 18:00."),
        ({"zones": ["00000000-0000-4000-8000-000000000000"]}, "This is not among the choices (any more)."),
    ],
)
def test_a_wrong_frame_is_refused_beside_the_field_and_kept(
    coach: Any, session: Any, changes: dict[str, Any], words: str
) -> None:
    response = coach.post(
        reverse("sessions:edit", args=[session.public_id]),
        frame_of(session, title="Typed for long", **changes),
    )
    text = text_of(response)
    assert (response.status_code, words in text, "Typed for long" in text) == (200, True, True)
    assert TrainingSession.objects.get().title == "Gates and patience"


def test_a_clash_stands_beside_the_field_and_names_the_other(world: World, coach: Any, session: Any) -> None:
    other = planned_session(place=world.colleague, zones=[ZoneFactory(pitch__name="Cage", name="Far")])
    zones = [each["id"] for each in queries.zones_of(other)]
    response = coach.post(reverse("sessions:edit", args=[session.public_id]), frame_of(session, zones=zones))
    assert response.context["form"].errors["zones"] == [
        f"Cage, Far is taken on {today():%a} {today().day} {today():%b} 18:00–19:15 by Badgers."
    ]


def test_a_stale_frame_shows_mine_theirs_and_before_and_can_be_saved_over(coach: Any, session: Any) -> None:
    url = reverse("sessions:edit", args=[session.public_id])
    loaded = coach.get(url).context["form"]["loaded"].value()
    coach.post(url, frame_of(session, title="Theirs"))
    response = coach.post(url, frame_of(session, title="Mine", loaded=loaded))
    assert response.status_code == 409
    differs = response.context["differs"][0]
    assert (differs.mine, differs.theirs, differs.before) == ("Mine", "Theirs", "Gates and patience")
    again = {name: response.context["form"][name].value() for name in response.context["form"].fields}
    again["loaded"] = "[]"  # what isn't ours is no reason to fall over
    assert coach.post(url, again).status_code == 302
    assert TrainingSession.objects.get().title == "Mine"


def test_a_session_is_moved_and_called_off(coach: Any, session: Any) -> None:
    tomorrow = session.day + timedelta(days=1)
    moved = {"day": tomorrow.isoformat(), "starts": "17:00", "ends": "18:00", "version": session.version}
    coach.post(reverse("sessions:move", args=[session.public_id]), moved)
    row = TrainingSession.objects.get()
    assert row.day == tomorrow
    coach.post(
        reverse("sessions:cancel", args=[session.public_id]), {"why": "weather", "version": row.version}
    )
    row.refresh_from_db()
    assert (row.state, row.why_cancelled) == (State.CANCELLED, "weather")


def test_an_empty_slot_becomes_a_session_with_its_time_place_and_coaches(world: World, coach: Any) -> None:
    slot = weekly_slot(place=world.own, coaches=[world.people.coach])
    text = text_of(coach.get(reverse("sessions:week")))
    address = f"{reverse('sessions:new')}?slot={slot.public_id}&amp;day={today():%Y-%m-%d}"
    assert address in text
    form = coach.get(address.replace("&amp;", "&")).context["form"]
    data = {name: form[name].value() for name in form.fields if form[name].value() is not None}
    data |= {"start_from": "order", "title": "From the slot", "loaded": "{}"}
    data |= {"starts": "18:00", "ends": "19:15", "day": today().isoformat()}
    made = coach.post(reverse("sessions:new"), data)
    row = TrainingSession.objects.get()
    assert made.url == reverse("sessions:parts", args=[row.public_id])
    assert (row.slot_id, row.title, row.parts.count()) == (slot.pk, "From the slot", 3)
    assert row.staff.get().user == world.people.coach


def test_a_new_session_may_begin_as_a_copy(world: World, coach: Any, session: Any) -> None:
    data = frame_of(
        session,
        day=(today() + timedelta(days=1)).isoformat(),
        squad=str(world.own.squad.public_id),
        start_from=f"copy:{session.public_id}",
        loaded="{}",
    )
    assert coach.post(reverse("sessions:new"), data).status_code == 302
    made = TrainingSession.objects.exclude(pk=session.pk).get()
    assert [each.minutes for each in made.parts.all()] == [18, 30]


def test_a_coach_can_not_plan_for_another_age_group(world: World, coach: Any, session: Any) -> None:
    data = frame_of(session, squad=str(world.foreign.squad.public_id), start_from="blank", loaded="{}")
    response = coach.post(reverse("sessions:new"), data)
    assert response.context["form"].errors["squad"] == ["This is not among the choices (any more)."]
    assert TrainingSession.objects.count() == 1


def test_weeks_tell_a_week_over_its_budget_and_what_would_clear_it(world: World, coach: Any) -> None:
    world.own.age_group.week_load_au = 100
    world.own.age_group.save()
    part = part_input(minutes=60, bouts=6, bout_s=600, rest_s=0, changeover_s=0)
    planned_session(place=world.own, by=world.people.coach, parts=[part])
    text = text_of(coach.get(reverse("sessions:week")))
    assert "Heavy week" in text
    assert " AU" not in text.partition("<main")[2]
    text = text_of(coach.get(reverse("sessions:squad", args=[world.own.squad.public_id])))
    assert "Heavy week: more than twice what this team should do (figures in the detail)." in text
    assert f"Drop 4 rounds of Practice ({today():%a}): takes off all of that." in text


def test_own_age_groups_stand_first_among_the_weeks(world: World) -> None:
    def order(person: Any) -> list[str]:
        page = signed_in(person).get(reverse("sessions:week"))
        return [row.age_group.label for row in page.context["weeks"].rows]

    assert order(world.people.director) == ["U9", "U12", "U16"]
    assert order(world.people.coach) == ["U12", "U9", "U16"]


def test_a_match_counts_in_the_squads_week_and_can_be_taken_out(world: World, coach: Any) -> None:
    url = reverse("sessions:squad", args=[world.own.squad.public_id])
    entry = {"kind": "match", "day": today().isoformat(), "minutes": "70", "effort": "6,5", "title": "Cup"}
    assert (
        coach.post(reverse("sessions:add-entry", args=[world.own.squad.public_id]), entry).status_code == 302
    )
    page = coach.get(url).context["page"]
    assert (page.week.total_au, page.week.days, page.week.rest_days) == (455.0, 1, 6)
    made = LedgerEntry.objects.get()
    coach.post(reverse("sessions:drop-entry", args=[world.own.squad.public_id, made.public_id]))
    assert LedgerEntry.objects.count() == 0


def test_a_wrong_entry_keeps_what_was_typed(world: World, coach: Any) -> None:
    entry = {
        "kind": "match",
        "day": today().isoformat(),
        "minutes": "long",
        "effort": "11",
        "title": "Cup tie",
    }
    response = coach.post(reverse("sessions:add-entry", args=[world.own.squad.public_id]), entry)
    assert response.status_code == 400
    assert response.context["form"].errors["minutes"] == ["A whole number, please: 12."]
    assert "Cup tie" in text_of(response)


def test_the_directors_detail_is_hidden_before_day_28(world: World) -> None:
    director = signed_in(world.people.director)
    url = reverse("sessions:squad", args=[world.own.squad.public_id])
    assert "Monotony, strain and trends show from day 28 on" in text_of(director.get(url))
    add = reverse("sessions:add-entry", args=[world.own.squad.public_id])
    long_ago = today() - timedelta(days=30)
    director.post(add, {"kind": "match", "day": long_ago.isoformat(), "minutes": "60", "effort": "6"})
    text = text_of(director.get(url))
    assert "<dt>Monotony</dt><dd>n/a" in text
    coach_text = text_of(signed_in(world.people.coach).get(url))
    assert "Monotony" not in coach_text


def test_the_director_gives_out_changes_and_ends_a_slot(world: World) -> None:
    director, zone = signed_in(world.people.director), ZoneFactory()
    slot = {
        "squad": str(world.own.squad.public_id),
        "weekday": "2",
        "starts": "18:00",
        "ends": "17:00",
        "first_day": today().isoformat(),
        "last_day": (today() + timedelta(days=60)).isoformat(),
        "zones": [str(zone.public_id)],
        "version": "0",
    }
    refused = director.post(reverse("sessions:new-slot"), slot)
    assert refused.context["form"].errors["ends"] == ["The end must be after the start."]
    assert director.post(reverse("sessions:new-slot"), {**slot, "ends": "19:00"}).status_code == 302
    row = Slot.objects.get()
    changed = {**slot, "ends": "19:30", "version": "1"}
    assert director.post(reverse("sessions:slot", args=[row.public_id]), changed).status_code == 302
    assert director.post(reverse("sessions:slot", args=[row.public_id]), changed).status_code == 200  # stale
    director.post(reverse("sessions:end-slot", args=[row.public_id]), {"version": "2"})
    row.refresh_from_db()
    assert (f"{row.ends:%H:%M}", row.last_day) == ("19:30", today())


def test_home_shows_a_helper_where_when_what_to_carry_and_one_thing_to_do(world: World, session: Any) -> None:
    with time_machine.travel(session.period.lower - timedelta(hours=1), tick=False):
        text = text_of(signed_in(world.people.helper).get(reverse("tonight")))
    assert "Gates and patience" in text
    assert "Long Meadow: North" in text
    assert "marker cones" in text
    assert reverse("sessions:pitch", args=[session.public_id]) in text
    assert "Plan a session" not in text
    assert " AU" not in re.sub("<svg.*?</svg>", "", text)


def test_home_tells_the_director_what_waits(world: World, drill: Any) -> None:
    weekly_slot(place=world.own)
    blank = planned_session(place=world.colleague, title="Still blank")
    with time_machine.travel(blank.period.lower - timedelta(hours=1), tick=False):
        text = text_of(signed_in(world.people.director).get(reverse("tonight")))
    assert "1 drill waits for your review" in text
    assert "Still blank" in text
    assert "planned, but no parts yet." in text
    assert f"{reverse('sessions:new')}?slot=" in text

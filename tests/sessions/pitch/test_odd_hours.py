"""Nights and clocks that are odd: the clocks change during a session, phones are an hour apart, a week is recorded late."""

import json
import random
from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

import pytest
import time_machine
from django.urls import reverse

from club import queries as club
from club.errors import Refused
from sessions import actions, pages, queries
from sessions.actions import DayAndTimes
from sessions.models import DeliveryEvent, LedgerEntry, Register
from sessions.pages.happened import what_happened
from sessions.pages.pitch import pitch_page
from sessions.planning.clock import clock_text
from sessions.queries.calendar.games import fixtures_between
from sessions.queries.ledger import ledger_rows, load_week
from tests.factories_sessions import part_input, planned_session
from tests.people import World, make_world, signed_in
from tests.sessions.pitch.evening import Evening
from tests.sessions.test_one_ledger import arrive, forget, happened, sessions_of, snapshot

pytestmark = pytest.mark.django_db
# London's clocks go back at 01:00 UTC on the last Sunday of October and forward at the same moment in March.
BACK, FORWARD = date(2026, 10, 25), date(2027, 3, 28)


@pytest.fixture
def night(request: Any, db: None) -> Iterator[World]:
    """The morning after a night in which the clocks changed."""
    with time_machine.travel(datetime.combine(request.param, time(8), tzinfo=UTC), tick=False):
        yield make_world()


def long_session(world: World, day: date, starts: time = time(0, 30), ends: time = time(2, 30)) -> Any:
    parts = [part_input(minutes=n, bouts=1, bout_s=60 * n, rest_s=0, changeover_s=0) for n in (60, 60, 30)]
    return planned_session(
        place=world.own, by=world.people.coach, day=day, starts=starts, ends=ends, parts=parts
    )


@pytest.mark.parametrize("night", [BACK], indirect=True)
def test_a_session_in_which_the_clocks_go_back_lasts_an_hour_longer_than_they_say(night: World) -> None:
    session = long_session(night, BACK)
    begins = datetime(2026, 10, 24, 23, 30, tzinfo=UTC)
    assert (session.period.lower, session.period.upper) == (begins, begins + timedelta(hours=3))
    view = queries.session_view(session)
    times = view.timetable
    assert view.plan.minutes == 180
    assert [clock_text(each.starts_at) for each in times.parts] == ["00:30", "01:30", "01:30"]
    assert [each.starts_at.astimezone(UTC) - begins for each in times.parts] == [
        timedelta(hours=0), timedelta(hours=1), timedelta(hours=2),
    ]  # fmt: skip
    assert [clock_text(each) for each in (times.parts[2].ends_at, times.clear_by)] == ["02:00", "02:30"]
    clocks = [each["from"] for each in pitch_page(session).data["parts"]]
    assert clocks == [1000 * int(begins.timestamp() + 3600 * n) for n in range(3)]


@pytest.mark.parametrize("night", [BACK], indirect=True)
def test_what_happened_in_it_counts_the_minutes_that_passed(night: World) -> None:
    session = long_session(night, BACK)
    begins = session.period.lower
    first, second, third = (str(each.public_id) for each in session.parts.all())
    ann = str(night.own.player.public_id)
    evening = Evening(session, night.people, [ann], "", "", begins, [first, second, third])
    event = evening.event
    sent = [
        event("late", 3, player=ann, minutes=100),
        event("part_started", 0, part=first),
        event("next_part", 61, part=second),
        event("next_part", 121, part=third),
        event("part_ended", 150, part=third),
        event("effort", 181, cr10=4),
        event("delivered", 182),
    ]
    # A phone says the same moments by the clock on the wall, before and after it went back.
    summer = {"part_started": "2026-10-25T00:30:00+01:00", "next_part": "2026-10-25T01:31:00+01:00"}
    assert [datetime.fromisoformat(summer[each["kind"]]) for each in sent[1:3]] == [
        datetime.fromisoformat(each["at"]) for each in sent[1:3]
    ]
    sent[1]["at"], sent[2]["at"] = summer["part_started"], summer["next_part"]
    sent[3]["at"] = "2026-10-25T01:31:00+00:00"
    assert {each.outcome for each in evening.append(*sent)} == {"taken"}
    done = what_happened(queries.session_view(queries.session_by_id(session.public_id)), with_names=True)
    assert done is not None
    assert [part.account.minutes for part in done.parts] == [61, 60, 29]
    team, player = LedgerEntry.objects.order_by("player_id")[::-1][:2]
    if team.player_id:
        team, player = player, team
    assert (team.day, float(team.minutes), float(team.load_au)) == (BACK, 180, 720)
    assert (float(player.minutes), float(player.load_au)) == (80, 320)  # 100 of 180 minutes late
    assert Register.objects.get().came_at == begins + timedelta(minutes=100)
    before = snapshot()
    actions.rebuild_all()
    assert snapshot() == before


@pytest.mark.parametrize("night", [FORWARD], indirect=True)
def test_a_night_in_which_the_clocks_go_forward_has_an_hour_less(night: World) -> None:
    session = long_session(night, FORWARD)
    view = queries.session_view(session)
    assert view.plan.minutes == 60
    assert [clock_text(each.starts_at) for each in view.timetable.parts] == ["00:30", "02:30", "03:30"]
    with pytest.raises(Refused) as refused:
        long_session(night, FORWARD, time(1, 30), time(2, 35))
    assert refused.value.by_field() == {
        "ends": [
            "The clocks go forward that night, so this would last 5 minutes. Choose an end at least 5 minutes later."
        ]
    }
    with pytest.raises(Refused):
        actions.move_session(
            session=session, version=session.version, when=DayAndTimes(FORWARD, time(1, 15), time(2, 5))
        )


# Two phones ---------------------------------------------------------------------------------------------------


def of_two_phones(evening: Evening) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """What two people tap in turns; the second one's phone is the wrong one."""
    ann, ben, cat = evening.players
    warm, game = evening.parts
    event = evening.event
    right = [
        event("arrived", 1, player=ann),
        event("part_started", 0, part=warm),
        event("bout_held", 15, part=game),
        event("left", 40, player=ann),
        event("effort", 58, cr10=4),
        event("delivered", 60),
    ]
    wrong = [
        event("late", 12, player=ben),
        event("arrived", 1, player=cat),
        event("next_part", 10, part=game),
        event("bout_resumed", 17, part=game),
        event("part_ended", 50, part=game),
        event("effort", 59, cr10=6),
    ]
    return right, wrong


def left_behind(evening: Evening) -> Any:
    session = evening.read()
    register = Register.objects.filter(session=session).order_by("player_id")
    return (
        session.state,
        session.delivered_minutes,
        {name: each for name, each in session.delivery.items() if name != "starts_at"},
        list(register.values_list("player_id", "state", "came_at", "left_at", "minutes")),
        snapshot(),
    )


@pytest.mark.parametrize("ahead", [timedelta(hours=1), timedelta(hours=-1)])
def test_two_phones_an_hour_apart_tell_one_evening(evening: Evening, ahead: timedelta) -> None:
    right, wrong = of_two_phones(evening)
    with time_machine.travel(evening.starts + timedelta(minutes=61), tick=False):
        now = datetime.now(UTC)
        evening.append(*right, *wrong)
        wanted = left_behind(evening)
        assert (wanted[1], [part["held_s"] for part in wanted[2]["parts"]]) == (60, [0, 120])
        forget([evening.session])
        shifted = [{**each, "at": (datetime.fromisoformat(each["at"]) + ahead).isoformat()} for each in wrong]
        url = f"/api/v1/sessions/{evening.session.public_id}/events/"
        for batch, clock in ((shifted, now + ahead), (right, now), (shifted[::-1], now + ahead)):
            body = {"events": batch, "now": clock.isoformat(), "since": 0}
            answer = signed_in(evening.people.coach).post(
                url, json.dumps(body), content_type="application/json"
            )
            assert {each["outcome"] for each in answer.json()["results"]} <= {"taken", "already"}
        assert left_behind(evening) == wanted
        actions.rebuild_all()
        assert left_behind(evening) == wanted
        # Each phone is told the moments by the server's clock, and puts them on its own.
        told = signed_in(evening.people.coach).post(
            url, json.dumps({"events": [], "since": 0}), content_type="application/json"
        )
    moments = {each["id"]: each["ms"] for each in told.json()["events"]}
    assert moments == {
        each["id"]: round(1000 * datetime.fromisoformat(each["at"]).timestamp()) for each in (*right, *wrong)
    }


# A week that is recorded late -----------------------------------------------------------------------------------


def week_of(world: World, monday: date) -> Any:
    squad, last = world.own.squad, monday + timedelta(days=6)
    sessions = [each for each in queries.sessions_between(monday, last) if each.squad_id == squad.pk]
    rows = ledger_rows([squad.pk], monday - timedelta(days=60), last)
    return load_week(
        monday=monday,
        squad_id=squad.pk,
        age_group=world.own.age_group,
        sessions=sessions,
        entries=rows,
        fixtures=fixtures_between(monday, last),
    )


def assert_week_is_its_entries(world: World, monday: date) -> float:
    entries = LedgerEntry.objects.filter(
        squad=world.own.squad, player__isnull=True, day__range=(monday, monday + timedelta(days=6))
    )
    total = float(sum(each.load_au or 0 for each in entries))
    assert week_of(world, monday).total_au == pytest.approx(total)  # whatever is done, nothing that is off
    return total


def test_weeks_that_are_recorded_and_entered_afterwards_count_as_if_in_time(world: World) -> None:
    chance = random.Random(12)
    made = sessions_of(world)
    players = [str(world.own.player.public_id)]
    told = [(each, happened(each, players, chance, ratings=int(n != 7))) for n, each in enumerate(made)]
    mondays = sorted({pages.monday_of(each.day) for each in made})
    arrive(world, told)
    first = snapshot()
    sums = [assert_week_is_its_entries(world, monday) for monday in mondays]
    forget(made)
    arrive(world, [*told[4:], *told[:4]])  # the later weeks first, then the backdated ones
    assert snapshot() == first
    assert [assert_week_is_its_entries(world, monday) for monday in mondays] == sums
    # A match of a past week, entered now: that week has its load, and no session of any week another one.
    day = made[0].day
    typed = {"day": day.isoformat(), "kind": "match", "title": "Cup", "minutes": "50", "effort": "6"}
    client = signed_in(world.people.coach)
    url = reverse("sessions:add-entry", args=[world.own.squad.public_id])
    assert client.post(url, typed).status_code == 302
    assert [row for row in snapshot() if row[0] is not None] == first
    assert assert_week_is_its_entries(world, pages.monday_of(day)) == pytest.approx(sums[0] + 300)
    actions.rebuild_all()
    assert [row for row in snapshot() if row[0] is not None] == first
    # Longer ago than anybody keeps count: refused beside the field, and nothing is written.
    entries = LedgerEntry.objects.count()
    refused = client.post(url, {**typed, "day": (club.today() - timedelta(days=400)).isoformat()})
    assert "This day is more than a year away." in refused.content.decode()
    assert LedgerEntry.objects.count() == entries


# Players who are on the list no more -----------------------------------------------------------------------------


def test_events_about_a_player_who_was_removed_are_refused_one_by_one(evening: Evening, world: Any) -> None:
    from club import actions as club_actions

    ann, ben, _cat = evening.players
    club_actions.leave_squad(player=world.own.player, on=evening.session.day)
    kinds = ("arrived", "late", "left", "watching", "absent", "limited", "out", "guest")
    sent = [evening.event(kind, n, player=ann) for n, kind in enumerate(kinds)]
    sent += [evening.event("teams_set", 20, teams=[[ann], [ben]])]
    good = [evening.event("arrived", 30, player=ben), evening.event("effort", 58, cr10=5), evening.event("delivered", 60)]  # fmt: skip
    url = f"/api/v1/sessions/{evening.session.public_id}/events/"
    answer = signed_in(evening.people.coach).post(
        url, json.dumps([*sent, *good]), content_type="application/json"
    )
    found = answer.json()["results"]
    assert (answer.status_code, [each["outcome"] for each in found]) == (
        200, ["refused"] * len(sent) + ["taken"] * 3,
    )  # fmt: skip
    words = {each["text"] for each in found[: len(sent)]}
    assert words == {
        "This player is not on the list of the team.",
        "A guest is added by the coach of their own team, or by the director.",
    }
    assert DeliveryEvent.objects.count() == 3
    assert LedgerEntry.objects.get(player__isnull=False).minutes == 60
    for address in ("", "pitch/"):
        path = f"/sessions/{evening.session.public_id}/{address}"
        assert signed_in(evening.people.coach).get(path).status_code == 200


@pytest.mark.parametrize("how", ["leaves", "is erased"])
def test_what_a_player_did_before_they_were_removed_that_day_stays_counted(
    evening: Evening, world: Any, how: str
) -> None:
    from club import actions as club_actions

    ann = evening.players[0]
    evening.append(
        evening.event("arrived", 1, player=ann),
        evening.event("effort", 58, cr10=5),
        evening.event("delivered", 60),
    )
    before = snapshot()
    assert len(before) == 2
    if how == "leaves":
        club_actions.leave_squad(player=world.own.player, on=evening.session.day)
    else:
        club_actions.erase_player(player=world.own.player)
    actions.rebuild_all()
    assert snapshot() == before
    # A correction that comes in afterwards is taken: they are on this register.
    (late,) = evening.append(evening.event("late", 70, player=ann, minutes=20))
    assert late.outcome == "taken"
    row = LedgerEntry.objects.get(player__isnull=False)
    assert (float(row.minutes), float(row.load_au)) == (40, 200)
    page = signed_in(evening.people.coach).get(f"/sessions/{evening.session.public_id}/")
    assert page.status_code == 200
    assert ("Former player" in page.content.decode()) == (how == "is erased")

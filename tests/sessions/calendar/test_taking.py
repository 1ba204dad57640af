"""Matches and closed days from a text or a file: each line has an outcome before it is saved, and nothing typed is lost."""

from datetime import date, timedelta
from typing import Any

import pytest
import time_machine
from django.core.files.uploadedfile import SimpleUploadedFile

from sessions.models import ClosedDays, Fixture
from tests.factories_sessions import weekly_slot
from tests.people import World, signed_in
from tests.sessions.calendar.reading import address, entries_in, local, of_team, text_at

pytestmark = pytest.mark.django_db

MATCHES, CLOSED = "/sessions/days/matches/", "/sessions/days/closed/"


@pytest.fixture(autouse=True)
def february() -> Any:
    with time_machine.travel("2027-02-01T12:00:00Z"):
        yield


def sent(world: World, path: str, step: str = "look", *, by: str = "director", **fields: Any) -> Any:
    given = {"squad": world.own.squad.public_id} if path == MATCHES else {"pitch": ""}
    return signed_in(getattr(world.people, by)).post(path, {**given, "step": step, **fields})


def outcomes(answer: Any) -> list[str]:
    return [each.judged.outcome for each in answer.context["taking"].lines]


def reasons(answer: Any) -> list[str]:
    return [each.judged.reason for each in answer.context["taking"].lines]


def ics(*events: str) -> bytes:
    """A calendar as some league's website would send it, lines folded or not."""
    body = "".join(f"BEGIN:VEVENT\r\nDTSTAMP:20270101T000000Z\r\n{each}\r\nEND:VEVENT\r\n" for each in events)
    return f"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//League//EN\r\n{body}END:VCALENDAR\r\n".encode()


RIDGEWAY = (
    "UID:ridge@league.example\r\nDTSTART:20270213T103000Z\r\nDTEND:20270213T120000Z\r\n"
    "SUMMARY:Home to Ridgeway\\, cup\r\nLOCATION:Mill Field"
)


def test_looking_saves_nothing_and_saving_takes_what_can_be_taken(world: World) -> None:
    typed = (
        "2027-02-13, 10:30, 12:00, Home to Ridgeway, Mill Field\n"
        "20.2.2027, , , Away to Fenwick\n"
        "2027-02-30, 10:30, 12:00, Nowhere\n"
        "2027-03-28, 01:15, 02:15, Night owls\n"
        "2027-02-27, 12:00, 10:30, Backwards\n"
        "2027-02-27, noon, , Unclear\n"
        "2027-02-27, 10:30, 12:00,\n"
    )
    looked = sent(world, MATCHES, text=typed)
    assert outcomes(looked) == ["new", "new", "refused", "refused", "refused", "refused", "refused"]
    assert reasons(looked)[2:] == [
        "“2027-02-30” is no day. Write it as 2026-12-05 or 5.12.2026.",
        "The clocks go forward that night: this time is not there. Ask when it is.",
        "It ends before it starts, or on another day.",
        "“noon” is no time. Write it as 10:30.",
        "It has no title.",
    ]
    assert Fixture.objects.count() == 0
    saved = sent(world, MATCHES, "save", text=looked.context["form"].initial["text"])
    assert list(Fixture.objects.values_list("title", "day", "starts__hour")) == [
        ("Home to Ridgeway", date(2027, 2, 13), 10),
        ("Away to Fenwick", date(2027, 2, 20), None),
    ]
    assert "2 saved, 5 can’t be taken." in saved.content.decode()
    left = saved.context["form"].initial["text"]
    assert [name in left for name in ("Ridgeway", "2027-02-30", "Night owls", "noon")] == [
        False,
        True,
        True,
        True,
    ]


def test_the_same_file_again_changes_only_what_moved(world: World) -> None:
    where = address(world.people.coach, of_team(world.own))
    for text, outcome, sequence, starts in (
        (RIDGEWAY, "new", "0", "2027-02-13 10:30"),
        (RIDGEWAY, "there", "0", "2027-02-13 10:30"),
        (RIDGEWAY.replace("T103000Z", "T093000Z"), "changed", "1", "2027-02-13 09:30"),
        (
            f"{RIDGEWAY.replace('T103000Z', 'T093000Z')}\r\nSTATUS:CANCELLED",
            "changed",
            "2",
            "2027-02-13 09:30",
        ),
    ):
        looked = sent(world, MATCHES, file=SimpleUploadedFile("league.ics", ics(text)))
        assert outcomes(looked) == [outcome]
        sent(world, MATCHES, "save", text=looked.context["form"].initial["text"])
        (found,) = entries_in(text_at(where)).values()
        assert (found.sequence.value, local(found.dtstart.value)) == (sequence, starts)
    assert found.status.value == "CANCELLED"
    assert "location" not in found.contents


def test_times_of_another_zone_stand_on_the_clubs_clock(world: World) -> None:
    paris = RIDGEWAY.replace("DTSTART:20270213T103000Z", "DTSTART;TZID=Europe/Paris:20270213T113000").replace(
        "DTEND:20270213T120000Z", "DTEND;TZID=Europe/Paris:20270213T130000"
    )
    looked = sent(world, MATCHES, file=SimpleUploadedFile("league.ics", ics(paris)))
    (line,) = looked.context["taking"].lines
    assert (str(line.judged.row.starts), str(line.judged.row.ends)) == ("10:30:00", "12:00:00")


def test_what_repeats_or_stands_twice_is_refused_with_the_reason(world: World) -> None:
    file = ics(
        f"{RIDGEWAY}\r\nRRULE:FREQ=WEEKLY", RIDGEWAY, RIDGEWAY, "UID:x\r\nDTSTART:soon\r\nSUMMARY:Soon"
    )
    looked = sent(world, MATCHES, file=SimpleUploadedFile("league.ics", file))
    assert outcomes(looked) == ["refused", "new", "refused", "refused"]
    assert [each.split(".")[0] for each in reasons(looked)] == [
        "It repeats by a rule",
        "",
        "It stands in the file twice",
        "“soon” is no day",
    ]


def test_holidays_that_overlap_are_refused_by_name_and_the_first_is_taken(world: World) -> None:
    typed = "2027-02-15, 2027-02-19, Half-term\n2027-02-19, 2027-02-21, Long weekend\n2027-04-01, 2027-04-09, Easter"
    looked = sent(world, CLOSED, text=typed)
    assert outcomes(looked) == ["new", "refused", "new"]
    assert reasons(looked)[1] == "It overlaps Half-term, 15 Feb 2027 to 19 Feb 2027. Change one of the two."
    sent(world, CLOSED, "save", text=typed)
    again = sent(world, CLOSED, text=typed)
    assert outcomes(again) == ["there", "refused", "there"]
    assert [(each.first_day.day, each.last_day.day) for each in ClosedDays.objects.all()] == [
        (15, 19),
        (1, 9),
    ]


def test_closed_days_of_a_calendar_end_before_its_end(world: World) -> None:
    event = "UID:half\r\nDTSTART;VALUE=DATE:20270215\r\nDTEND;VALUE=DATE:20270220\r\nSUMMARY:Half-term"
    looked = sent(world, CLOSED, file=SimpleUploadedFile("holidays.ics", ics(event)))
    (line,) = looked.context["taking"].lines
    assert (line.judged.row.first, line.judged.row.last) == (date(2027, 2, 15), date(2027, 2, 19))


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("league.ics", b"x" * 50_000_000, "This file has 47.7\xa0MB; at most 390.6\xa0KB."),
        ("team.png", b"\x89PNG\r\n\x1a\n\x00\xff", "This is no text"),
        ("league.ics", b"BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\n", "damaged or cut off"),
        ("league.ics", ics(), "There is no day in it."),
        ("old.csv", b"2026-12-01,10:00,11:00,Over", "Every day in it is over."),
        (
            "many.csv",
            b"2027-03-01,10:00,11:00,One\n" * 151,
            "151 days that are not over; at most 150 at a time.",
        ),
    ],
)
def test_files_that_cannot_be_taken_say_why_beside_the_field(
    world: World, name: str, data: bytes, words: str
) -> None:
    answer = sent(world, MATCHES, file=SimpleUploadedFile(name, data), text="2027-02-13,,,Typed before")
    assert answer.status_code == 400
    assert words in " ".join(answer.context["form"].errors["file"])
    assert "Typed before" in answer.content.decode()  # nothing that was typed is lost


def test_a_coach_takes_matches_of_the_own_teams_alone(world: World) -> None:
    answer = signed_in(world.people.coach).post(
        MATCHES, {"squad": world.foreign.squad.public_id, "text": "2027-02-13,,,Ridgeway", "step": "save"}
    )
    assert (answer.status_code, Fixture.objects.count()) == (400, 0)


def test_days_that_were_opened_again_leave_calendars(world: World) -> None:
    sent(world, CLOSED, "save", text="2027-02-15, 2027-02-19, Half-term")
    where = address(world.people.coach, of_team(world.own))
    (row,) = ClosedDays.objects.all()
    assert str(row.public_id) in text_at(where)
    signed_in(world.people.director).post(f"/sessions/days/closed/{row.public_id}/drop/")
    assert entries_in(text_at(where)) == {}


def test_an_empty_slot_is_offered_nowhere_on_a_closed_day(world: World) -> None:
    from club.queries import actor_of, club_now, today
    from sessions import actions, queries
    from tests.factories import ZoneFactory

    zone, other = ZoneFactory(), ZoneFactory()
    weekly_slot(place=world.own, zones=[zone])
    actions.close_days(
        title="Half-term", first_day=today() + timedelta(weeks=1), last_day=today() + timedelta(days=9)
    )
    actions.close_days(
        title="Reseeding",
        first_day=today() + timedelta(weeks=2),
        last_day=today() + timedelta(weeks=2),
        pitch_id=zone.pitch_id,
    )
    actions.close_days(title="Elsewhere", first_day=today(), last_day=today(), pitch_id=other.pitch_id)
    offered = queries.next_free_slots(actor_of(world.people.director), club_now(), most=9)
    assert [(each.day - today()).days for each in offered] == [0, 21]
    weeks = signed_in(world.people.director).get("/sessions/weeks/")
    cells = next(row for row in weeks.context["weeks"].rows if row.age_group == world.own.age_group).cells
    assert [len(each.free) for each in cells] == [1, 0, 0, 1]
    assert "Half-term" in weeks.content.decode()
    uids = entries_in(text_at(address(world.people.coach, of_team(world.own))))
    usual = sorted(uid[-8:] for uid, each in uids.items() if each.status.value == "TENTATIVE")
    assert usual[:2] == [f"{today():%Y%m%d}", f"{today() + timedelta(weeks=3):%Y%m%d}"]

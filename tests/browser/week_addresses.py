"""Where the pages over weeks are in the demo club: blocks, attendance, calendars, what falls out."""

from typing import Any

from tests.browser.addresses import (
    COACH,
    DIRECTOR,
    session_done,
    session_tonight,
    squad_id,
)


def _block() -> Any:
    from club import queries

    return queries.block_among(queries.blocks(queries.current_season()))


def block() -> str:
    """The block of today."""
    return f"/club/blocks/{_block().public_id}/"


def block_targets() -> str:
    from club.models import AgeGroup

    return f"{block()}{AgeGroup.objects.get(label='U12').public_id}/"


def block_taught() -> str:
    """What the under-twelves are taught of a theme that is in one of their sessions."""
    from club import queries
    from sessions.queries.block.taught import taught_between

    found = _block()
    squad = squad_id("U12")
    rows = taught_between(found.first_day, found.last_day)
    key = next(
        iter(next(each for each in rows if each.themes and str(each.session.squad.public_id) == squad).themes)
    )
    theme = next(each for each in queries.themes() if each.key == key)
    return f"/sessions/block/{found.public_id}/{squad}/{theme.public_id}/"


def attendance() -> str:
    """The under-twelves' eight weeks: every mark, a guest, somebody who left the team, and a session that runs."""
    import uuid
    from datetime import timedelta

    from club import actions as club
    from club.models import Player, Squad, User
    from club.queries import actor_of, club_settings, players_of, today
    from sessions import actions
    from sessions.actions import DayAndTimes
    from sessions.bridge import local_moment
    from sessions.models import TrainingSession

    session_done()
    team = Squad.objects.get(public_id=squad_id())
    group = team.seasons.get().age_group
    director = actor_of(User.objects.get(email=DIRECTOR))
    guest = Player.objects.filter(squads__squad__seasons__age_group__label="U11").order_by("pk").first()
    own = players_of([team.pk])
    kinds = ("arrived", "arrived", "late", "arrived", "left", "arrived", "absent", "arrived", "watching", "")
    tonight = TrainingSession.objects.get(public_id=session_tonight().split("/")[2])
    there = TrainingSession.objects.filter(squad=team, title="Gates").exists()
    for number in () if there else (5, 4, 3, 0):
        session = tonight
        if number:
            when = DayAndTimes(today() - timedelta(weeks=number), tonight.starts, tonight.ends)
            session = actions.plan_session(age_group_id=group.pk, squad_id=team.pk, when=when, title="Gates")
        starts = local_moment(session.day, session.starts, club_settings().time_zone)
        told = [(kinds[(number * 3 + at * 7) % 10], each) for at, each in enumerate(own)]
        told += [("guest", guest)] if number == 3 else []
        events: list[dict[str, Any]] = [
            {
                "kind": kind,
                "player": str(each.public_id),
                **({"minutes": 20} if kind in ("late", "left") else {}),
            }
            for kind, each in told
            if kind
        ]
        events += [{"kind": "delivered"}] if number else []
        sent = [{"id": str(uuid.uuid4()), "at": starts.isoformat(), **each} for each in events]
        actions.append_events(actor=director, session=session, device="demo", events=sent)
    if not there:
        club.leave_squad(player=own[-1])
    return f"/sessions/squads/{squad_id()}/attendance/"


def _calendar_link(of: object, **switched: bool) -> None:
    from club.models import User
    from club.queries import actor_of
    from sessions import actions

    given = {"with_place": False, "with_coach": False, **switched}
    actions.open_calendar(actor=actor_of(User.objects.get(email=DIRECTOR)), of=of, days="366", **given)  # type: ignore[arg-type]


def pitch_lost() -> str:
    """The pitch that most of this week's sessions are on, off for three days."""
    from datetime import timedelta

    from club.models import Pitch
    from club.queries import today

    pitch = Pitch.objects.get(name="Mill Field")
    return f"/sessions/pitch-off/?pitch={pitch.public_id}&first={today()}&last={today() + timedelta(days=2)}"


def coach_away() -> str:
    """The under-twelves' coach, away for a week."""
    from datetime import timedelta

    from club.models import User
    from club.queries import today

    coach = User.objects.get(email=COACH)
    return f"/sessions/away/?person={coach.public_id}&first={today()}&last={today() + timedelta(days=6)}"


def calendar_of_team() -> str:
    """The under-twelves' calendar with two addresses."""
    from club.models import Squad
    from sessions.choices import Reach
    from sessions.queries.calendar.links import CalendarOf

    squad = Squad.objects.filter(seasons__age_group__label="U12")[0]
    _calendar_link(CalendarOf(Reach.TEAM, squad))
    _calendar_link(CalendarOf(Reach.TEAM, squad), with_place=True)
    return f"/sessions/calendar/teams/{squad.public_id}/"


def calendar_of_pitch() -> str:
    """A pitch's calendar."""
    from club.models import Pitch

    return f"/sessions/calendar/pitches/{Pitch.objects.all()[0].public_id}/"


def slot_again() -> str:
    """A slot of the under-twelves, some weeks ahead: what took place in it last, one part one step harder."""
    from datetime import timedelta

    from club.queries import today
    from sessions import queries

    slots = queries.slots_from(today())
    slot = next(
        each
        for each in slots
        if each.last_stations and each.squad.public_id.hex == squad_id().replace("-", "")
    )
    first = today() + timedelta(weeks=3)
    day = queries.days_of(slot, first, first + timedelta(days=6))[0]
    return f"/sessions/slots/{slot.public_id}/again/?day={day}"

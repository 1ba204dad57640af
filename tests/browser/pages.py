"""Every page that is looked at: by whom, and where it is in the demo club. Pictures and axe share this list."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

DIRECTOR = "director@demo.example"
COACH = "coach@demo.example"
HELPER = "helper@demo.example"
READER = "reader@demo.example"


@dataclass(frozen=True)
class Page:
    """A page by name; `path` is worked out in the demo club; `who` is empty for somebody who isn't signed in.

    `like` names a page that has all that this one is built of: eyes look at both, axe at that one alone. `view` and
    `press` are opened and pressed before a picture is taken; `screen` takes what is seen at once, not all of the page.
    """

    name: str
    who: str
    path: Callable[[], str]
    like: str = ""
    view: str = ""
    press: str = ""
    screen: bool = False


def _at(path: str) -> Callable[[], str]:
    return lambda: path


def _drill(title: str) -> str:
    from drills.models import Drill

    return f"/library/{Drill.objects.get(title=title).public_id}/"


def _tonight() -> str:
    """The under-twelves' session of today."""
    from club.queries import today
    from sessions.models import TrainingSession

    found = TrainingSession.objects.get(age_group__label="U12", day=today())
    return f"/sessions/{found.public_id}/"


def _youngest() -> str:
    """The under-nines' next session."""
    from club.queries import today
    from sessions.models import TrainingSession

    found = TrainingSession.objects.filter(age_group__label="U9", day__gte=today()).earliest("day")
    return f"/sessions/{found.public_id}/"


def _pitch_page() -> str:
    return f"{_tonight()}pitch/"


def _done() -> str:
    """The under-twelves' last session that is done."""
    from sessions.choices import TOOK_PLACE
    from sessions.models import TrainingSession

    found = TrainingSession.objects.filter(age_group__label="U12", state__in=TOOK_PLACE).latest("day")
    _who_played(found)
    return f"/sessions/{found.public_id}/"


def _who_played(session: Any) -> None:
    """Turns of its longest part of one station, so that it is known who was in play: as many wait as have no place."""
    from sessions import actions
    from sessions.models import Register, Turns

    rows = [each for each in session.parts.order_by("-minutes") if each.stations.count() == 1]
    there = [
        str(each)
        for each in Register.objects.filter(session=session).values_list("player__public_id", flat=True)
    ]
    if not rows or len(there) < 8 or Turns.objects.filter(session=session).exists():
        return
    bouts = []
    for number in range(1, rows[0].bouts + 1):
        turned = there[number:] + there[:number]
        team = {"bib": "red", "place": "inside", "players": turned[:-2]}
        bouts.append({"number": number, "teams": [team], "waiting": turned[-2:], "away": [], "loans": []})
    worked_out = {"bout_min": rows[0].minutes / rows[0].bouts, "whole_teams": False, "proven": True}
    counted = {"spread_min": 0.0, "bound_min": 0.0, "changes": 0, "cycle": rows[0].bouts}
    facts = {**worked_out, **counted, "players": there, "keepers": []}
    Turns.objects.create(
        session=session, station_id=rows[0].stations.get().public_id, bouts=bouts, facts=facts
    )
    actions.rebuild(session=session)


def _part(number: int) -> Any:
    from sessions.models import Part

    return Part.objects.get(session__public_id=_tonight().split("/")[2], position=number)


def _leaving() -> str:
    """Asked before the under-twelves' coach goes."""
    from club.models import User

    return f"/club/staff/{User.objects.get(email=COACH).public_id}/close/"


def _stations() -> str:
    return f"{_tonight()}parts/{_part(1).public_id}/stations/"


def _zone() -> str:
    """One with fences and a fixed goal."""
    from club.models import Zone

    return f"/club/zones/{Zone.objects.get(name='Gate end').public_id}/change/"


def _turns() -> str:
    """Worked out, so that the tables are there."""
    from club.models import User
    from club.queries import actor_of
    from sessions import actions
    from sessions.queries.turns import session_with_turns

    session = session_with_turns(_tonight().split("/")[2])
    assert session is not None
    station = _part(2).stations.all()[0]
    found = actions.station_in_part(session, station.public_id)
    assert found is not None
    actor = actor_of(User.objects.get(email=COACH))
    actions.rotate_station(actor=actor, session=session, part=found[0], station=found[1])
    return f"{_tonight()}stations/{station.public_id}/turns/"


def _proposal(**limits: float) -> str:
    """A proposal for tonight, worked out here and now."""
    import msgspec

    from club.queries import actor_of, user_by_email
    from sessions import queries
    from sessions.proposals import actions
    from sessions.proposals.queries import wish_for

    session = queries.session_by_id(_tonight().split("/")[2])
    wish = msgspec.structs.replace(wish_for(session, keep=[]), **limits)
    coach = actor_of(user_by_email(COACH))
    made = actions.ask_for_proposal(actor=coach, wish=wish, session=session, instead=True)
    actions.work_out_proposal(public_id=str(made.public_id))
    return f"{_tonight()}propose/{made.public_id}/"


def _squad(age_group: str = "U12") -> str:
    from club.models import Squad

    return str(Squad.objects.get(seasons__age_group__label=age_group).public_id)


def _slot_again() -> str:
    """A slot of the under-twelves, some weeks ahead: what took place in it last, one part one step harder."""
    from datetime import timedelta

    from club.queries import today
    from sessions import queries

    slots = queries.slots_from(today())
    slot = next(
        each for each in slots if each.last_stations and each.squad.public_id.hex == _squad().replace("-", "")
    )
    first = today() + timedelta(weeks=3)
    day = queries.days_of(slot, first, first + timedelta(days=6))[0]
    return f"/sessions/slots/{slot.public_id}/again/?day={day}"


def _age_group() -> str:
    from club.models import AgeGroup

    return f"/club/age-groups/{AgeGroup.objects.get(label='U12').public_id}/"


def _player() -> str:
    from club.models import Player

    found = Player.objects.filter(squads__squad__seasons__age_group__label="U12").order_by("pk").first()
    return f"/squads/players/{found.public_id}/"


def _attended() -> str:
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

    _done()
    team = Squad.objects.get(public_id=_squad())
    group = team.seasons.get().age_group
    director = actor_of(User.objects.get(email=DIRECTOR))
    guest = Player.objects.filter(squads__squad__seasons__age_group__label="U11").order_by("pk").first()
    own = players_of([team.pk])
    kinds = ("arrived", "arrived", "late", "arrived", "left", "arrived", "absent", "arrived", "watching", "")
    tonight = TrainingSession.objects.get(public_id=_tonight().split("/")[2])
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
    return f"/sessions/squads/{_squad()}/attendance/"


def _checks() -> str:
    from club.models import User

    return f"/club/staff/{User.objects.get(email=HELPER).public_id}/dates/"


def _pitch() -> str:
    from club.models import Pitch

    return f"/club/pitches/{Pitch.objects.get(name='Mill Field').public_id}/change/"


def _player_out() -> str:
    """Out until lifted, since this moment."""
    from club import actions
    from club.models import Player, User

    path = _player()
    player = Player.objects.get(public_id=path.split("/")[3])
    actions.set_out(player=player, by_id=User.objects.get(email=HELPER).pk)
    return path


def _readings() -> str:
    """With notes of several people, one page of them full."""
    from club import actions
    from club.choices import NamesOn
    from club.models import Squad, User

    squads = list(Squad.objects.values_list("pk", flat=True))
    for user in User.objects.filter(roles__isnull=False).distinct():
        for page in NamesOn:
            actions.note_reading(user_id=user.pk, squad_ids=squads, page=page)
    return "/squads/readings/"


PAGES = (
    Page("sign-in", "", _at("/accounts/login/")),
    Page("words", "", _at("/words/")),
    Page("not-found", COACH, _at("/nothing-here/")),
    Page("home-coach", COACH, _at("/")),
    Page("home-director", DIRECTOR, _at("/")),
    Page("home-helper", HELPER, _at("/"), like="home-coach"),
    Page("library", COACH, _at("/library/")),
    Page("library-found", COACH, _at("/library/?players=14&length=40&width=30&age_group=U12")),
    Page("library-spelt", COACH, _at("/library/?q=all+abord"), like="library-found"),
    Page("library-empty", COACH, _at("/library/?q=zeppelin")),
    Page("drill", COACH, lambda: _drill("All Aboard")),
    Page("drill-fit", COACH, lambda: _drill("All Aboard") + "?players=15&length=30&width=20&adults=2"),
    Page(
        "drill-use",
        COACH,
        lambda: f"/sessions/use{_drill('All Aboard').removeprefix('/library')}?players=15&length=30&width=20",
    ),
    Page("drill-youngest", COACH, lambda: _drill("Hens and Foxes"), like="drill"),
    Page("drill-draw", DIRECTOR, lambda: _drill("All Aboard") + "draw/"),
    Page("library-files", COACH, _at("/library/files/")),
    Page("drill-quick", COACH, _at("/library/quick/?numbers=5v5%2B2&length=30&width=20")),
    Page("drill-write", COACH, _at("/library/write/")),
    Page("week-director", DIRECTOR, _at("/sessions/weeks/")),
    Page("week-coach", COACH, _at("/sessions/weeks/"), like="week-director"),
    Page("sessions", COACH, _at("/sessions/")),
    Page("session-done", COACH, _done),
    Page("session", COACH, _tonight),
    Page("session-parts", COACH, lambda: _tonight() + "parts/"),
    Page("session-set-up", COACH, lambda: _tonight() + "set-up/?players=15"),
    Page("session-wish", COACH, lambda: _tonight() + "propose/"),
    Page("session-proposal", COACH, _proposal),
    Page("session-clash", COACH, lambda: _proposal(load_au=50.0)),
    Page("session-youngest", DIRECTOR, _youngest, like="session"),
    Page("session-wish-youngest", DIRECTOR, lambda: _youngest() + "propose/", like="session-wish"),
    Page("session-frame", COACH, lambda: _tonight() + "edit/"),
    Page("session-new", COACH, _at("/sessions/new/")),
    Page("slot-again", DIRECTOR, _slot_again),
    Page("slots", DIRECTOR, _at("/sessions/slots/")),
    Page("squad-week", DIRECTOR, lambda: f"/sessions/squads/{_squad('U14')}/"),
    Page("squad-week-youngest", DIRECTOR, lambda: f"/sessions/squads/{_squad('U9')}/", like="squad-week"),
    Page("pitch", COACH, _pitch_page, screen=True),
    Page("squads", DIRECTOR, _at("/squads/")),
    Page("readings", DIRECTOR, _readings),
    Page("squad", COACH, lambda: f"/squads/{_squad()}/"),
    Page("squad-reader", READER, lambda: f"/squads/{_squad()}/", like="squad"),
    Page("club", DIRECTOR, _at("/club/")),
    Page("account", COACH, _at("/account/")),
    Page("staff", DIRECTOR, _at("/club/staff/")),
    Page("staff-coach", COACH, _at("/club/staff/"), like="staff"),
    Page("staff-dates", DIRECTOR, _checks),
    Page("invite", DIRECTOR, _at("/club/staff/invite/")),
    Page("guidelines", DIRECTOR, _at("/club/guidelines/")),
    Page("guideline-add", DIRECTOR, _at("/club/guidelines/add/")),
    Page("age-groups", DIRECTOR, _at("/club/age-groups/")),
    Page("age-group", DIRECTOR, _age_group),
    Page("age-group-change", DIRECTOR, lambda: _age_group() + "change/"),
    Page("pitches", DIRECTOR, _at("/club/pitches/")),
    Page("pitch-change", DIRECTOR, _pitch, like="zone"),
    Page("zone", DIRECTOR, _zone),
    Page("pitch-add", DIRECTOR, _at("/club/pitches/add/"), like="zone"),
    Page("kit", DIRECTOR, _at("/club/kit/")),
    Page("themes", DIRECTOR, _at("/club/themes/")),
    Page("club-settings", DIRECTOR, _at("/club/settings/")),
    Page("player", COACH, _player),
    Page("player-out", COACH, _player_out, like="player"),
    Page("session-again", DIRECTOR, lambda: _tonight() + "again/"),
    Page("session-stations", COACH, _stations),
    Page("session-turns", COACH, _turns),
    Page("part-orders", DIRECTOR, _at("/sessions/orders/")),
    Page("proposal-weights", DIRECTOR, _at("/sessions/weights/")),
    Page("session-together", DIRECTOR, lambda: _tonight() + "together/"),
    Page("staff-leaving", DIRECTOR, _leaving),
    Page("session-move", DIRECTOR, lambda: _tonight() + "move/"),
    Page("session-reader", READER, _tonight, like="session"),
    Page("slot-new", DIRECTOR, _at("/sessions/slots/new/")),
    Page("squads-left", DIRECTOR, _at("/squads/left/")),
    Page("link-spent", "", _at("/enter/used-before/")),
    # Last: it takes tonight's register, which other pages show as not yet taken.
    Page("attendance", DIRECTOR, _attended),
    Page("attendance-reader", READER, lambda: f"/sessions/squads/{_squad()}/attendance/"),
    Page("attendance-teams", DIRECTOR, _at("/sessions/attendance/")),
)

# Views of one address: for eyes alone; tests of the pitch ask axe about them.
VIEWS = (
    Page("pitch-register", COACH, _pitch_page, view="register"),
    Page(
        "pitch-player",
        COACH,
        _pitch_page,
        view="register",
        press="#names > li:nth-child(2) .more",
        screen=True,
    ),
    Page("pitch-more", COACH, _pitch_page, view="more"),
    Page("pitch-thunder", COACH, _pitch_page, view="more", press="#more [data-thunder]", screen=True),
    Page("pitch-emergency", COACH, _pitch_page, view="emergency"),
    Page("pitch-after", COACH, _pitch_page, view="after"),
)

"""What the walk meets: the demo club, with one of each thing that an address, a form or a body may name."""

from typing import Any

from drills.drawing.film import Film
from tests.fuzz.addresses import first
from tests.fuzz.asking import Asker
from tests.fuzz.bodies import Described
from tests.fuzz.walk import Walk

DIRECTOR = "director@demo.example"
NOTHING_DRAWN = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"/>'


def walk_of(much: int, seed: int) -> Walk:
    """The walk of the director, by cookie and by token. Call it where a transaction is undone."""
    from bibrack.api_urls import description
    from club.models import User

    director = User.objects.get(email=DIRECTOR)
    things = things_of(director)
    askers = Asker(director), Asker(director, by_token=True), Asker(None)
    return Walk(*askers, Described(description(), things), things, much=much, seed=seed)


def things_of(director: Any) -> dict[str, Any]:
    """By the name of a field, of a model, or of a place in an address; of addresses with a secret by how they begin."""
    from club.queries import actor_of, today
    from drills import actions as drills
    from sessions import actions as sessions
    from sessions.models import Station, TrainingSession
    from sessions.queries.helping import code_of

    actor = actor_of(director)
    session = TrainingSession.objects.get(age_group__label="U12", day=today())
    station = Station.objects.filter(part__session=session).order_by("part__position", "position").first()
    assert station is not None
    drill = first("drills.Drill")
    drills.note_after_use(actor=actor, public_id=drill, text="Went well.")
    shared = drills.share_drill(actor=actor, public_id=drill, days="30")
    evening = sessions.share_session(actor=actor, session=session, days="30")
    calendar = _calendar(actor, session.squad)
    drills.ask_for_video(actor=actor, public_id=drill, film=Film(NOTHING_DRAWN, 1.0))
    return {
        **_named(session, str(director.public_id), drill),
        **_secrets(director, session.age_group, shared, evening),
        "sessions/at/": code_of(session),
        "calendar/": calendar,
        "training.TrainingSession": str(session.public_id),
        "training.Computation": _proposal(actor, session),
        "station_id": str(station.public_id),
        "part_id": str(station.part.public_id),
        "drills.Drill": drill,
        "DrillToWrite": _document(drill),
        "RotationIn": {"teams": 3, "inside": 2, "bouts": 6, "bout_minutes": 4.0},
    }


def _calendar(actor: Any, squad: Any) -> str:
    """The secret of a team's calendar; with it a match and closed days, so that there are addresses of each."""
    from club.queries import today
    from sessions import actions
    from sessions.choices import Reach
    from sessions.ics.table import cells_of, valued
    from sessions.queries.calendar.links import CalendarOf

    rows = [valued(each, "matches", "Europe/London") for each in cells_of(f"{today()},,,Cup", "matches")]
    actions.take_matches(squad_id=squad.pk, rows=rows)
    actions.close_days(title="Half-term", first_day=today(), last_day=today())
    of = CalendarOf(Reach.TEAM, squad)
    return actions.open_calendar(actor=actor, of=of, days="366", with_place=True, with_coach=True)


def _named(session: Any, person: str, drill: str) -> dict[str, str]:
    from club.models import Player

    players = Player.objects.filter(squads__squad_id=session.squad_id).order_by("pk")
    one, other = (str(each.public_id) for each in players[:2])
    return {
        "squad": str(session.squad.public_id),
        "age_group": str(session.age_group.public_id),
        "session": str(session.public_id),
        "theme": first("club.Theme"),
        "zone": first("club.Zone"),
        "staff": person,
        "coache": person,
        "adult": person,
        "drill": drill,
        "banned": drill,
        "player": one,
        "keeper": one,
        "first": one,
        "second": other,
        "slot": "",
    }


def _secrets(director: Any, group: Any, shared: str, evening: str) -> dict[str, str]:
    from club import actions
    from club.choices import Role

    invited = actions.invite(
        email="new@ashmere.example", role=Role.COACH, age_group=group, made_by_id=director.pk
    )
    return {
        "enter/": actions.make_sign_in_link(user=director),
        "invited/": invited.split("/")[2],
        "library/shared/": shared,
        "sessions/shared/": evening,
    }


def _proposal(actor: Any, session: Any) -> str:
    from sessions import queries
    from sessions.proposals import actions
    from sessions.proposals.queries import wish_for

    row = queries.session_by_id(session.public_id)
    assert row is not None
    made = actions.ask_for_proposal(actor=actor, wish=wish_for(row, keep=[]), session=row)
    actions.work_out_proposal(public_id=str(made.public_id))
    return str(made.public_id)


def _document(drill: str) -> Any:
    from drills.models import Drill

    return Drill.objects.select_related("current_revision").get(public_id=drill).current_revision.document

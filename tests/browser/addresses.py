"""Where the pages are in the demo club; what a page shows is recorded first where the demo has none of it."""

from typing import Any

from django.utils import timezone

DIRECTOR = "director@demo.example"
COACH = "coach@demo.example"
HELPER = "helper@demo.example"
READER = "reader@demo.example"


def drill(title: str) -> str:
    from drills.models import Drill

    return f"/library/{Drill.objects.get(title=title).public_id}/"


def drill_video(state: str) -> str:
    """A video that somebody asked for, as far as that: asked for, half made, there, or given up."""
    from club.models import User
    from club.queries import actor_of
    from drills import actions, pages, queries
    from drills.game.played import as_played
    from drills.models import Video

    actor = actor_of(User.objects.get(email=COACH))
    found = queries.document_for(actor, drill("Post and Return").split("/")[2])
    film = pages.film_of(as_played(found.document))
    assert film is not None
    row = actions.ask_for_video(actor=actor, public_id=found.drill.public_id, film=film)
    file = b"mp4" if state == "done" else None
    Video.objects.filter(pk=row.pk).update(
        state=state, frames=row.of_frames // 2, file=file, seen_at=timezone.now()
    )
    return f"/library/{found.drill.public_id}/video/{row.public_id}/"


def drill_with_photo() -> str:
    """A drill beside which a coach's photo waits for the director, below the one that is approved."""
    from django.core.files.base import ContentFile

    from club.queries import actor_of, user_by_email
    from drills import actions
    from drills.models import Drill
    from tests.drills.taken import board, saved

    found = Drill.objects.get(title="All Aboard")
    if found.sketches.count() == 1:
        sent, coach = ContentFile(saved(board((900, 1200)))), actor_of(user_by_email(COACH))
        actions.add_sketch(actor=coach, public_id=found.public_id, sent=sent)
    return f"/library/{found.public_id}/#sketches"


def session_tonight() -> str:
    """The under-twelves' session of today."""
    from club.queries import today
    from sessions.models import TrainingSession

    found = TrainingSession.objects.get(age_group__label="U12", day=today())
    return f"/sessions/{found.public_id}/"


def session_with_link() -> str:
    """Where the under-twelves' session of today is shared, with a link to it."""
    session_shared()
    return f"{session_tonight()}share/"


def session_shared() -> str:
    """What a link to it opens."""
    from club.models import User
    from club.queries import actor_of
    from sessions import actions, queries

    session = queries.session_by_id(session_tonight().split("/")[2])
    assert session is not None
    actor = actor_of(User.objects.get(email=COACH))
    return f"/sessions/shared/{actions.share_session(actor=actor, session=session, days='7')}/"


def session_by_code() -> str:
    """What the code on its sheet opens without an account."""
    from sessions import queries
    from sessions.queries.helping import code_of

    session = queries.session_by_id(session_tonight().split("/")[2])
    assert session is not None
    return f"/sessions/at/{code_of(session)}/"


def session_of_youngest() -> str:
    """The under-nines' next session."""
    from club.queries import today
    from sessions.models import TrainingSession

    found = TrainingSession.objects.filter(age_group__label="U9", day__gte=today()).earliest("day")
    return f"/sessions/{found.public_id}/"


def pitch_phone() -> str:
    return f"{session_tonight()}pitch/"


def session_done() -> str:
    """The under-twelves' last session that is done."""
    from sessions.choices import TOOK_PLACE
    from sessions.models import TrainingSession

    found = TrainingSession.objects.filter(age_group__label="U12", state__in=TOOK_PLACE).latest("day")
    record_who_played(found)
    return f"/sessions/{found.public_id}/"


def record_who_played(session: Any) -> None:
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


def part_tonight(number: int) -> Any:
    from sessions.models import Part

    return Part.objects.get(session__public_id=session_tonight().split("/")[2], position=number)


def staff_leaving() -> str:
    """Asked before the under-twelves' coach goes."""
    from club.models import User

    return f"/club/staff/{User.objects.get(email=COACH).public_id}/close/"


def part_stations() -> str:
    return f"{session_tonight()}parts/{part_tonight(1).public_id}/stations/"


def zone_change() -> str:
    """One with fences and a fixed goal."""
    from club.models import Zone

    return f"/club/zones/{Zone.objects.get(name='Gate end').public_id}/change/"


def station_turns() -> str:
    """Worked out, so that the tables are there."""
    from club.models import User
    from club.queries import actor_of
    from sessions import actions
    from sessions.queries.turns import session_with_turns

    session = session_with_turns(session_tonight().split("/")[2])
    assert session is not None
    station = part_tonight(2).stations.all()[0]
    found = actions.station_in_part(session, station.public_id)
    assert found is not None
    actor = actor_of(User.objects.get(email=COACH))
    actions.rotate_station(actor=actor, session=session, part=found[0], station=found[1])
    return f"{session_tonight()}stations/{station.public_id}/turns/"


def proposal(**limits: float) -> str:
    """A proposal for tonight, worked out here and now."""
    import msgspec

    from club.queries import actor_of, user_by_email
    from sessions import queries
    from sessions.proposals import actions
    from sessions.proposals.queries import wish_for

    session = queries.session_by_id(session_tonight().split("/")[2])
    wish = msgspec.structs.replace(wish_for(session, keep=[]), **limits)
    coach = actor_of(user_by_email(COACH))
    made = actions.ask_for_proposal(actor=coach, wish=wish, session=session, instead=True)
    actions.work_out_proposal(public_id=str(made.public_id))
    return f"{session_tonight()}propose/{made.public_id}/"


def squad_id(age_group: str = "U12") -> str:
    from club.models import Squad

    return str(Squad.objects.get(seasons__age_group__label=age_group).public_id)


def age_group() -> str:
    from club.models import AgeGroup

    return f"/club/age-groups/{AgeGroup.objects.get(label='U12').public_id}/"


def player() -> str:
    from club.models import Player

    found = Player.objects.filter(squads__squad__seasons__age_group__label="U12").order_by("pk").first()
    return f"/squads/players/{found.public_id}/"


def staff_dates() -> str:
    from club.models import User

    return f"/club/staff/{User.objects.get(email=HELPER).public_id}/dates/"


def pitch_change() -> str:
    from club.models import Pitch

    return f"/club/pitches/{Pitch.objects.get(name='Mill Field').public_id}/change/"


def player_out() -> str:
    """Out until lifted, since this moment."""
    from club import actions
    from club.models import Player, User

    path = player()
    row = Player.objects.get(public_id=path.split("/")[3])
    actions.set_out(player=row, by_id=User.objects.get(email=HELPER).pk)
    return path


def readings() -> str:
    """With notes of several people, one page of them full."""
    from club import actions
    from club.choices import NamesOn
    from club.models import Squad, User

    squads = list(Squad.objects.values_list("pk", flat=True))
    for user in User.objects.filter(roles__isnull=False).distinct():
        for page in NamesOn:
            actions.note_reading(user_id=user.pk, squad_ids=squads, page=page)
    return "/squads/readings/"

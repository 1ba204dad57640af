"""A club at its smallest and one at its largest: everything in it is as little, or as much, as forms and API take."""

from dataclasses import dataclass, field
from datetime import time
from typing import Any
from uuid import UUID

from msgspec.structs import replace

from club import actions as club
from club.actor import Actor
from club.choices import EDGES, Rule
from club.limits import FIXED_GOALS
from club.models import AgeGroup, ClubSettings
from club.queries import actor_of, today
from drills import actions as drills
from drills.drawing.film import Film
from drills.game.format import MOST_PLAYERS
from drills.models import Video
from sessions import actions
from sessions.actions import PartInput, StationInput
from sessions.choices import Kind
from sessions.proposals import actions as proposal_actions
from sessions.proposals.queries import wish_for
from sessions.queries.turns import session_with_turns
from sessions.validators import MOST_PART_MINUTES, MOST_PARTS, SHORTEST_MINUTES
from tests.drills.changes import FULL
from tests.drills.samples import SMALL
from tests.factories import GuidelineFactory, PitchFactory, ThemeFactory, ZoneFactory, player_in
from tests.factories_sessions import planned_session, weekly_slot
from tests.people import World, make_world

Document = dict[str, Any]
AT_ONCE = 2  # stations: laying out more of the largest grids takes seconds, and shows nothing more on a page


@dataclass
class Extreme:
    """A club with one of everything. `ids` are what addresses name, `asked` what Fit and the library are asked."""

    world: World
    drill: Any
    session: Any
    asked: tuple[str, ...]
    ids: dict[str, Any] = field(default_factory=dict)


def wide(length: int) -> str:
    """A text of so many letters, without a place to break a line at."""
    return "W" * length


def smallest() -> Extreme:
    """One player, one minute, nobody in charge, nowhere booked, a squad without players, no texts."""
    world = make_world()
    ClubSettings.objects.update(name="x", pace_m="0.4", changeover_s=0, clear_minutes=0)
    AgeGroup.objects.update(
        under=4, years=1, match_format="1v1", session_minutes=15, session_load_au=None, week_load_au=None
    )
    club.leave_squad(player=world.own.player)
    drill = drills.create_drill(actor=actor_of(world.people.director), document=_least_document())
    session = planned_session(
        place=world.own,
        by=world.people.director,
        day=world.season.period.lower,
        starts=time(0, 0),
        ends=time(0, SHORTEST_MINUTES),
        players_expected=1,
        parts=[_least_part(), _least_part(StationInput(drill_id=drill.public_id))],
    )
    asked = ("players=1&length=1&width=1&adults=0", "players=1&keepers=1")
    made = Extreme(world, drill, session, asked)
    _add_the_rest(made, zone=ZoneFactory(name="x", length_m=5, width_m=5), minutes=0)
    return made


def largest() -> Extreme:
    """Sixty players, twelve parts, four hours, the longest texts, the largest pitch."""
    world = make_world()
    ClubSettings.objects.update(name=wide(80), pace_m="1.5", changeover_s=900, clear_minutes=30, units="yd")
    AgeGroup.objects.update(
        under=99, years=96, match_format="11v11", match_length_m=120, match_width_m=90, session_minutes=180,
        session_load_au=2000, week_load_au=6000, week_minutes=1500, week_days=7, hardest_part=10,
    )  # fmt: skip
    for number in range(1, MOST_PLAYERS):  # one is there already
        player_in(squad=world.own.squad, display_name=f"{number:02}{wide(38)}", is_keeper=number < 9)
    drill = drills.create_drill(actor=actor_of(world.people.director), document=_most_document())
    pitch = PitchFactory(name=wide(40))
    goals = [{"edge": EDGES[n % 4], "along": n / 7, "size": "age group"} for n in range(FIXED_GOALS)]
    fenced = {f"edge_{edge}": "fence" for edge in EDGES}
    zone = ZoneFactory(pitch=pitch, name=wide(40), length_m=130, width_m=100, fixed_goals=goals, **fenced)
    rungs = [StationInput(drill_id=drill.public_id, variation_key=key) for key in ("", "rung0", "rung2")]
    at_once = [StationInput(drill_id=drill.public_id, group=wide(40), place=wide(80))] * AT_ONCE
    parts = [_most_part(), *(_most_part(each) for each in rungs), _most_part(*at_once)]
    session = planned_session(
        place=world.own,
        by=world.people.director,
        day=world.season.last_day,
        starts=time(19, 59),
        ends=time(23, 59),
        zones=[zone],
        staff=[world.people.coach, world.people.helper],
        players_expected=MOST_PLAYERS,
        title=wide(80),
        note=wide(1000),
        theme_id=ThemeFactory(title=wide(60)).pk,
        parts=[*parts, *[_most_part()] * (MOST_PARTS - len(parts))],
    )
    asked = (
        "players=60&length=130&width=130&adults=30",
        "players=60&keepers=60",
        "players=60&length=1&width=130",
    )
    made = Extreme(world, drill, session, asked)
    _add_the_rest(made, zone=zone, minutes=600)
    row = session_with_turns(session.public_id)
    found = actions.station_in_part(row, made.ids["station"])
    actions.rotate_station(
        actor=actor_of(world.people.director), session=row, part=found[0], station=found[1]
    )
    return made


def _least_document() -> Document:
    return {
        **SMALL,
        "title": "x",
        "purpose": "x",
        "format": "1",
        "grids": [{"key": "k", "length_m": 2, "width_m": 2, "purpose": "x"}],
        "work": {"minutes": 1, "bouts": 1, "bout_s": 10, "rest_s": 0, "effort": 0},
        "balls": {"number": 0},
        "setup_minutes": 0,
    }


def _most_document() -> Document:
    """Every list but those that others name is full, every text as long as it may be."""
    line, sentence = wide(120), wide(300)
    return {
        **FULL,
        "title": wide(80),
        "purpose": sentence,
        "notes": wide(2000),
        "under_from": 5,
        "under_to": 100,
        "adults": 10,
        "numbers": {"kind": "range", "least": 2, "most": MOST_PLAYERS},
        "groups": [
            {**each, "least": 0, "most": MOST_PLAYERS} if each["key"] in ("A", "B") else each
            for each in FULL["groups"]
        ],
        "grids": [{"key": f"g{n}", "length_m": 120 - n, "width_m": 90, "purpose": line} for n in range(8)],
        "kit": [{"kind": f"{n:02}{wide(118)}", "count": 200} for n in range(20)],
        "balls": {"number": 200, "spare": 200, "supply": line},
        "setup_minutes": 60,
        "shot_towards": line,
        "queue": {"work_s": 1, "wait_s": 600, "next": line, "cycle": [line] * 8},
        "work": {"minutes": 120, "bouts": 40, "bout_s": 5400, "rest_s": 1200, "effort": 10},
        "heading": "planned",
        "headers_per_player": 50,
        "challenges": [{"text": sentence}] * 10,
        "say_this": [sentence] * 3,
        "points": [{"role": line, "looks_like": sentence}] * 12,
        "faults": [{"fault": sentence, "fix": sentence}] * 8,
        "questions": [
            {"key": f"q{n}", "role": line, "moment": "freeze", "ask": sentence, "listen_for": sentence}
            for n in range(12)
        ],
        "praise": sentence,
        "coach_place": line,
        "safety": [sentence] * 8,
    }


def _video(actor: Actor, drill: Any) -> UUID:
    """A video that is there, of a picture with nothing on it."""
    nothing = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"/>'
    row = drills.ask_for_video(actor=actor, public_id=drill.public_id, film=Film(nothing, 1.0))
    Video.objects.filter(pk=row.pk).update(state="done", file=b"mp4")
    return row.public_id


def _least_part(*stations: StationInput) -> PartInput:
    return PartInput(minutes=1, bouts=1, bout_s=10, rest_s=0, changeover_s=0, effort=0, stations=stations)


def _most_part(*stations: StationInput) -> PartInput:
    return PartInput(
        title=wide(80),
        minutes=MOST_PART_MINUTES,
        bouts=40,
        bout_s=7200,
        rest_s=1200,
        changeover_s=1800,
        effort=10,
        stations=stations,
        changes_round=len(stations) > 1,
    )


def _add_the_rest(made: Extreme, *, zone: Any, minutes: int) -> None:
    """What has an address of its own besides the drill and the session."""
    place, director, session = made.world.own, actor_of(made.world.people.director), made.session
    station = next(each for part in session.parts.all() for each in part.stations.all())
    wish = wish_for(session)
    wish = replace(wish, length=wish.length or float(zone.length_m), width=wish.width or float(zone.width_m))
    actions.add_ledger_entry(
        squad_id=place.squad.pk,
        day=today(),
        kind=Kind.MATCH,
        title=session.title,
        minutes=minutes,
        effort=minutes / 60,
        headers=minutes // 3,
        entered_by_id=made.world.people.director.pk,
    )
    season = made.world.season
    block = club.add_block(season=season, name="x", first_day=season.period.lower, last_day=season.last_day)
    made.ids = {
        "session": session.public_id,
        "station": station.public_id,
        "part": station.part.public_id,
        "proposal": proposal_actions.ask_for_proposal(actor=director, wish=wish, session=session).public_id,
        "video": _video(director, made.drill),
        "order": actions.keep_order(actor=director, session=session, name="x").public_id,
        "slot": weekly_slot(place=place, zones=[zone], coaches=[made.world.people.coach]).public_id,
        "drill": made.drill.public_id,
        "squad": place.squad.public_id,
        "player": place.player.public_id if minutes else made.world.foreign.player.public_id,
        "age-group": place.age_group.public_id,
        "season": made.world.season.public_id,
        "pitch": zone.pitch.public_id,
        "zone": zone.public_id,
        "theme": ThemeFactory().public_id,
        "block": block.public_id,
        "guideline": GuidelineFactory(rule=Rule.BALL_SIZE).public_id,
        "person": made.world.people.reader.public_id,
        "role": made.world.people.reader.roles.get().public_id,
    }

"""Working out who is in which bib in which bout of a station, and keeping it."""

from collections.abc import Mapping, Sequence

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club import queries as club
from club.actions import action, lock_rows
from club.actor import Actor
from club.errors import Clash, FieldProblem, Refused
from sessions import queries
from sessions.actions.booking import refuse_if
from sessions.actions.projections import rebuild
from sessions.choices import TOOK_PLACE
from sessions.models import TrainingSession, Turns
from sessions.planning.reasons import PlanningReason
from sessions.planning.rotation import PeopleBout, PeopleRotation, RotationLimits, rotate_people
from sessions.queries import PartView, StationView, turns

MOST_RUNNING = 9  # games; more is no cap


@action
def rotate_station(
    *,
    actor: Actor,
    session: TrainingSession,
    part: PartView,
    station: StationView,
    keepers: Sequence[str] = (),
    pairs: Sequence[turns.PairWish] = (),
    seen: int | None = None,
) -> Turns:
    """Rotate whoever is here through the station's places; bouts that are over stay as they were.

    `seen` is the version of the turns that were looked at: what somebody has worked out since is not written over.

    `keepers` are the outer ids of those who stay in goal, `pairs` those who are kept together or apart. The session was read with its turns. Raises Refused with the
    reasons where it can't be done.
    """
    kept = _unchanged(session, station, seen)
    people = turns.here(actor, session, part)
    places = turns.places_of(station, part.row.bouts)
    ids = [each.player.id for each in people]
    in_goal = [each for each in keepers if each in ids][: places.keepers]
    refuse_if([] if people else [FieldProblem("players", _("Nobody is here yet: the register says so."))])
    wished = _pairs(pairs, ids)
    found = rotate_people(
        teams=places.teams,
        players=ids,
        bouts=part.row.bouts,
        bout_min=part.row.bout_s / 60,
        keepers=places.keepers,
        tonight=_tonight(people, in_goal, wished, part.row.bouts),
        played=_played(kept, part, ids),
    )
    if not found.bouts:
        raise Refused([FieldProblem("players", _said(each, people)) for each in found.reasons])
    turns_kept = _keep(kept, found, in_goal, wished)
    if session.state in TOOK_PLACE:
        rebuild(session=session)  # minutes in play follow from the turns
    return turns_kept


def _unchanged(session: TrainingSession, station: StationView, seen: int | None) -> Turns:
    """The turns as they are kept now, held. Raises Clash where somebody has worked them out since they were looked at."""
    kept = _kept(session, station)
    if seen is not None and kept.version != seen:
        raise Clash(
            _("Somebody else has just worked these turns out. They are shown now: look, then change them.")
        )
    return kept


def _pairs(pairs: Sequence[turns.PairWish], ids: Sequence[str]) -> list[turns.PairWish]:
    """The wishes about two who are both here. Raises Refused for too many, and for one player twice."""
    alone = any(each.first == each.second for each in pairs)
    refuse_if([FieldProblem("pairs", _("A pair is two different players."))] if alone else [])
    refuse_if(
        [FieldProblem("pairs", _("At most {most_pairs} pairs.").format(most_pairs=turns.MOST_PAIRS))]
        if len(pairs) > turns.MOST_PAIRS
        else []
    )
    return [each for each in dict.fromkeys(pairs) if each.first in ids and each.second in ids]


def _said(each: PlanningReason, people: Sequence[turns.Here]) -> str:
    """A reason as a sentence, with the pairs that clash by name: first those to be together, then those apart."""
    names = {person.player.id: person.player.name for person in people}
    values = {name: str(value) for name, value in each.values}
    told = [
        words.format(pairs=", ".join(_named(pair, names) for pair in values[how].split(",")))
        for how, words in (("together", _("Together: {pairs}.")), ("apart", _("Apart: {pairs}.")))
        if values.get(how)
    ]
    return " ".join([each.said(_, ngettext), *told])


def _named(pair: str, names: Mapping[str, str]) -> str:
    first, second = (names.get(each, "") for each in pair.split())
    return _("{first} and {second}").format(first=first, second=second)


def _tonight(
    people: Sequence[turns.Here], in_goal: Sequence[str], pairs: Sequence[turns.PairWish], bouts: int
) -> RotationLimits:
    return RotationLimits(
        keepers=tuple(in_goal),
        outside_only=frozenset(each.player.id for each in people if each.outside_only),
        most_min={each.player.id: each.most_min for each in people if each.most_min is not None},
        presence={
            each.player.id: (each.first, each.last)
            for each in people
            if (each.first, each.last) != (1, bouts)
        },
        together=tuple((each.first, each.second) for each in pairs if each.together),
        apart=tuple((each.first, each.second) for each in pairs if not each.together),
    )


def _played(kept: Turns, part: PartView, ids: Sequence[str]) -> list[PeopleBout]:
    """Bouts of the plan before that are over by now, as long as everybody in them is still known."""
    if not kept.bouts:
        return []
    now = club.club_now()
    over = {each.number for each in part.times.spells if each.kind == "bout" and each.ends_at <= now}
    before: PeopleRotation = turns.as_rotation(kept.bouts, kept.facts)
    found = [each for each in before.bouts if each.number in over]
    named = {name for each in found for team in each.teams for name in team.names}
    return found if named <= set(ids) else []


def _keep(
    kept: Turns,
    found: PeopleRotation,
    in_goal: list[str],
    pairs: list[turns.PairWish],
) -> Turns:
    bouts, facts = turns.as_data(found, keepers=in_goal, pairs=pairs)
    if "winners" in kept.facts:
        facts["winners"] = kept.facts["winners"]
    kept.bouts, kept.facts, kept.version = bouts, facts, kept.version + 1
    kept.save()
    return kept


def _kept(session: TrainingSession, station: StationView) -> Turns:
    """The station's turns as they are kept now, empty at first; held, so that nobody's note of a winner is lost."""
    kept, _new = Turns.objects.select_for_update(no_key=True).get_or_create(
        station_id=station.row.public_id, defaults={"session": session, "bouts": [], "facts": {}}
    )
    return kept


@action
def forget_pairs() -> int:
    """Who was kept with or from whom is nobody's business the day after. The number of stations it is forgotten of."""
    over = TrainingSession.objects.filter(day__lt=club.today())
    rows = lock_rows(Turns.objects.filter(session__in=over, facts__has_key="pairs"))
    for row in rows:
        del row.facts["pairs"]
    Turns.objects.bulk_update(rows, ["facts"])
    return len(rows)


@action
def note_winner(
    *,
    session: TrainingSession,
    part: PartView,
    station: StationView,
    bout: int,
    ended: str,
    cap: int | None = None,
    grid: int = 1,
) -> Turns:
    """Note how a bout of winner stays on ended on a grid: a bib, `draw`, or empty to take the last one back.

    Only the bout that is on can be noted, so that two phones don't note it twice. `cap` counts from the first bout;
    None leaves it as it is.
    """
    kept = _kept(session, station)
    places = turns.places_of(station, part.row.bouts)
    every = turns.winner_stays(places, part, {"facts": kept.facts})
    shown = next((each for each in every if each.grid == grid), None)
    if shown is None:
        raise Refused(
            _("Winner stays on needs two sides of one size on the grid, and a third that waits."), "grid"
        )
    results = [each.ended for each in shown.played]
    if not ended:
        if bout != len(results):
            raise Refused(
                _("Another round has been noted since, or this one undone. Look at it again."), "bout"
            )
        results = results[:-1]
    elif shown.on is None or bout != shown.on.number or ended not in (*shown.on.playing, turns.DRAW):
        raise Refused(_("This round has been noted already. Look at it again."), "bout")
    else:
        results.append(ended)
    cap = shown.cap if cap is None else cap
    refuse_if(
        []
        if 1 <= cap <= MOST_RUNNING
        else [FieldProblem("cap", _("From 1 to {most_running} games.").format(most_running=MOST_RUNNING))]
    )
    noted = {**kept.facts.get("winners", {}), str(grid): {"cap": cap, "results": results}}
    kept.facts = {**kept.facts, "winners": noted}
    kept.save(update_fields=["facts", "made_at"])
    return kept


def station_in_part(session: TrainingSession, station_id: object) -> tuple[PartView, StationView] | None:
    """A station with its part on the clock, from a session whose rows are at hand."""
    view = queries.session_view(session, k=1.0, judged=False, stock={})
    return next(
        (
            (part, each)
            for part in view.parts
            for each in part.stations
            if str(each.row.public_id) == str(station_id) and each.document is not None
        ),
        None,
    )

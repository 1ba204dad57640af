"""Everybody of one night through inside, outside and waiting, in bibs: whole teams where there are any, else one by one."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from sessions.planning.numbers import at_least, whole
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.rotation.model import PlayerBout, evenness, labels
from sessions.planning.rotation.players import rotate_players
from sessions.planning.rotation.seating import GaveUp, Seating, Way
from sessions.planning.rotation.teams import rotate_teams
from sessions.planning.rotation.tonight import (
    INSIDE,
    KEEPER,
    OUTSIDE,
    RESTING,
    InBib,
    PeopleBout,
    PeopleRotation,
    RotationLimits,
    TeamPlaces,
)
from sessions.planning.rotation.whole import dealt, first_as_drawn, goes_on, team_bout, whole_teams


def rotate_people(
    *,
    teams: Sequence[TeamPlaces],
    players: Sequence[str],
    bouts: int,
    bout_min: float,
    keepers: int = 0,
    tonight: RotationLimits | None = None,
    played: Sequence[PeopleBout] = (),
) -> PeopleRotation:
    """Who is where in which bout. `keepers` is how many places in goal there are, over all grids.

    Whole teams go round where the sides are alike, everybody fills one team or another (those that rest among them), who
    keeps goal stays there, and nobody comes late, leaves or is limited; a team that is one short borrows a player from
    another, one that has one too many lends him. With two teams inside that is two changes of bib in a break at most.
    Otherwise players go round one by one: waiting first evened out, then inside and outside, then few changes of bib.
    Bouts already played stay as they were.
    Pairs are kept in every bout that is planned. Too few players, or pairs that can't be kept, are answered with a reason
    and no bouts. ValueError naming the field.
    """
    names = labels("players", list(players), letters=False)
    at_least("bout_min", bout_min, 0)
    whole("keepers", keepers, 0)
    tonight = tonight or RotationLimits()
    _known(names, tonight)
    free = [name for name in names if name not in tonight.keepers]
    pairs = tonight.together or tonight.apart
    places = [each for each in teams if each.place != RESTING]
    seating = Seating(tuple(places), keepers, tonight.together, tonight.apart) if pairs else None
    try:
        if len(tonight.keepers) == keepers and whole_teams(teams, len(free), tonight, seating):
            found = _teams(teams, free, bouts, bout_min, seating, tonight.keepers)
            if found is not None and goes_on(found, played):
                return replace(found, names=names)
        return _one_by_one(places, names, bouts, bout_min, keepers, tonight, tuple(played), seating)
    except GaveUp:
        return _none(names, bout_min, (reason("pairs_not_found"),))


def _none(names: Sequence[str], bout_min: float, why: tuple[PlanningReason, ...]) -> PeopleRotation:
    return PeopleRotation((), bout_min, False, 0, 0, False, 0, 1, why, tuple(names))


def _known(names: Sequence[str], tonight: RotationLimits) -> None:
    pairs = (*tonight.together, *tonight.apart)
    paired = [name for pair in pairs for name in pair]
    for name in (*tonight.keepers, *tonight.outside_only, *tonight.most_min, *tonight.presence, *paired):
        if name not in names:
            raise ValueError(f"tonight: {name!r} is not among the players")
    if any(a == b for a, b in pairs):
        raise ValueError("tonight: a pair is two players")


def _teams(
    teams: Sequence[TeamPlaces],
    names: Sequence[str],
    bouts: int,
    bout_min: float,
    seating: Seating | None,
    in_goal: tuple[str, ...] = (),
) -> PeopleRotation | None:
    """Whole teams; None where a loan would part a pair, so that it has to be gone about one by one."""
    members = dealt(teams, names)
    if seating is not None:
        own = {name: bib for bib, hand in members.items() for name in hand}
        seats = seating.seats(names, lambda *_: True, lambda name, bib, _role: float(own[name] != bib))
        if seats is None:
            return None
        members = {each.bib: tuple(name for name in names if seats[name][0] == each.bib) for each in teams}
    inside, outside = (sum(each.place == place for each in teams) for place in (INSIDE, OUTSIDE))
    plan = rotate_teams(teams=[each.bib for each in teams], inside=inside, outside=outside, bouts=bouts)
    size = next(each.places for each in teams if each.place == INSIDE)
    lent: Counter[str] = Counter()
    found = [team_bout(each, members, size, lent, in_goal) for each in first_as_drawn(plan.bouts, teams)]
    if seating is not None and not all(seating.suits(_ways_of(each)) for each in found):
        return None
    left_out = "waiting" if any(each.place == RESTING for each in teams) else OUTSIDE
    minutes = [sum(each.place_of(name)[0] == left_out for each in found) for name in names]
    spread = evenness(minutes)
    total = sum(minutes)
    bound = 1 if total % len(names) else 0
    cycle = len(teams) // math.gcd(len(teams), inside)
    why: tuple[PlanningReason, ...] = ()
    if spread:
        why = (reason("waiting_uneven", bouts=bouts, spread=float(spread)), reason("cycle", cycle=cycle))
    rotation = PeopleRotation(
        bouts=tuple(found),
        bout_min=bout_min,
        whole_teams=True,
        spread_min=spread * bout_min,
        bound_min=bound * bout_min,
        proven=spread == bound,
        changes=0,
        cycle=cycle,
        reasons=why,
        names=tuple(names),
    )
    return replace(rotation, changes=sum(rotation.swaps()))


def _ways_of(bout: PeopleBout) -> dict[str, Way]:
    return {name: (team.bib, team.place) for team in bout.teams for name in team.names}


def _one_by_one(
    teams: Sequence[TeamPlaces],
    names: tuple[str, ...],
    bouts: int,
    bout_min: float,
    keepers: int,
    tonight: RotationLimits,
    played: tuple[PeopleBout, ...],
    seating: Seating | None = None,
) -> PeopleRotation:
    slots = {
        INSIDE: sum(each.places for each in teams if each.place == INSIDE),
        OUTSIDE: sum(each.places for each in teams if each.place == OUTSIDE),
        KEEPER: keepers,
    }
    in_goal = tonight.keepers[:keepers]
    slots = {role: count for role, count in slots.items() if count}
    found = rotate_players(
        players=names,
        slots=slots,
        bouts=bouts,
        pinned=dict.fromkeys(in_goal, KEEPER),
        only=_only(tonight, slots, in_goal),
        presence=_presence(names, bouts, bout_min, tonight),
        played=[_as_roles(each, slots) for each in played],
        seating=seating,
    )
    if not found.bouts:
        return _none(names, bout_min, found.reasons)
    if seating is None:
        shown = _in_bibs(teams, found.bouts, played)
    else:
        shown = (*played, *_as_seated(teams, found.bouts[len(played) :], found.bibs))
    return PeopleRotation(
        bouts=shown,
        bout_min=bout_min,
        whole_teams=False,
        spread_min=found.spread * bout_min,
        bound_min=found.bound * bout_min,
        proven=found.proven,
        changes=_changes(names, shown),
        cycle=found.cycle,
        reasons=found.reasons,
        names=names,
    )


def _only(tonight: RotationLimits, slots: Mapping[str, int], in_goal: Iterable[str]) -> dict[str, list[str]]:
    if OUTSIDE not in slots:
        return {}
    return {name: [OUTSIDE] for name in sorted(tonight.outside_only.difference(in_goal))}


def _presence(
    names: Iterable[str], bouts: int, bout_min: float, tonight: RotationLimits
) -> dict[str, tuple[int, int]]:
    """Bouts that each player is there for; who may take part for so many minutes does so in the first bouts."""
    found = {}
    for name in names:
        first, last = tonight.presence.get(name, (1, bouts))
        if name in tonight.most_min and bout_min > 0:
            last = min(last, first + int(tonight.most_min[name] / bout_min + 1e-9) - 1)
        if (first, last) != (1, bouts):
            found[name] = (first, last)
    return found


def _as_roles(bout: PeopleBout, slots: Mapping[str, int]) -> PlayerBout:
    places = {role: tuple(n for t in bout.teams if t.place == role for n in t.names) for role in slots}
    return PlayerBout(bout.number, tuple(places.items()), bout.waiting, bout.away)


def _in_bibs(
    teams: Sequence[TeamPlaces], bouts: Sequence[PlayerBout], played: Sequence[PeopleBout]
) -> tuple[PeopleBout, ...]:
    """Bibs for the roles: everybody keeps the last one as long as there is room in it."""
    wears: dict[str, str] = {}
    found = list(played)
    for done in played:
        wears |= {name: team.bib for team in done.teams for name in team.names}
    for bout in bouts[len(played) :]:
        given: list[InBib] = []
        for place in (INSIDE, OUTSIDE):
            kept = _handed([each for each in teams if each.place == place], bout.roles.get(place, ()), wears)
            given += [InBib(bib, place, tuple(hand)) for bib, hand in kept.items()]
        if KEEPER in bout.roles:
            given.append(InBib(KEEPER, KEEPER, bout.roles[KEEPER]))
        wears |= {name: each.bib for each in given for name in each.names}
        found.append(PeopleBout(bout.number, tuple(given), bout.waiting, bout.away))
    return tuple(found)


def _as_seated(
    teams: Sequence[TeamPlaces], bouts: Sequence[PlayerBout], seats: Sequence[Mapping[str, Way]]
) -> list[PeopleBout]:
    """Bouts in the bibs that keep the pairs."""
    ways = dict.fromkeys([*((each.bib, each.place) for each in teams), (KEEPER, KEEPER)])
    found = []
    for bout, way_of in zip(bouts, seats, strict=True):
        hands = [InBib(*way, tuple(name for name in way_of if way_of[name] == way)) for way in ways]
        given = tuple(each for each in hands if each.bib != KEEPER or each.names)
        found.append(PeopleBout(bout.number, given, bout.waiting, bout.away))
    return found


def _handed(
    teams: Sequence[TeamPlaces], names: Sequence[str], wears: Mapping[str, str]
) -> dict[str, list[str]]:
    hands: dict[str, list[str]] = {each.bib: [] for each in teams}
    room = {each.bib: each.places for each in teams}
    rest = []
    for name in names:
        bib = wears.get(name, "")
        if bib in hands and len(hands[bib]) < room[bib]:
            hands[bib].append(name)
        else:
            rest.append(name)
    for name in rest:
        bib = max(hands, key=lambda each: room[each] - len(hands[each]))
        hands[bib].append(name)
    return hands


def _changes(names: Iterable[str], bouts: Sequence[PeopleBout]) -> int:
    total = 0
    for name in names:
        worn = [bib for bib in (bout.place_of(name)[1] for bout in bouts) if bib]
        total += sum(a != b for a, b in pairwise(worn))
    return total

"""Single players through the roles of a drill, where the numbers are odd."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from sessions.planning.numbers import whole
from sessions.planning.reasons import PlanningReason, reason
from sessions.planning.rotation.evening import Night, bound_and_targets, unevenness
from sessions.planning.rotation.model import PlayerBout, PlayerRotation, labels
from sessions.planning.rotation.paired import seat_all
from sessions.planning.rotation.roles import Roles, assign_roles
from sessions.planning.rotation.seating import Seating, Way
from sessions.planning.rotation.waiting import plan_waiting


def rotate_players(
    *,
    players: int | Sequence[str],
    slots: Mapping[str, int],
    bouts: int,
    pinned: Mapping[str, str] | None = None,
    only: Mapping[str, Sequence[str]] | None = None,
    presence: Mapping[str, tuple[int, int]] | None = None,
    played: Sequence[PlayerBout] = (),
    seating: Seating | None = None,
) -> PlayerRotation:
    """Rotate players through `slots` (role → places); whoever is left waits.

    Tries for, in order: even waiting, even bouts in each role, few changes of bib, few repeated team-mates.
    `pinned` players (a keeper) keep their role and are exempt from waiting; `only` lists the roles a player
    may take tonight; `presence` is (first bout, last bout) for late-comers and leavers; `played` bouts stay
    untouched and count. `seating` has the bibs and the pairs to be kept together or apart. Too few players for the
    places, or pairs that can't be kept, are answered with a reason and no bouts. Raises GaveUp where pairs take too long.
    """
    night = _night(players, slots, bouts, pinned or {}, only or {}, presence or {}, tuple(played))
    night = replace(night, seating=seating)
    why = _too_few(night)
    if why:
        return PlayerRotation((), 0, 0, False, 0, 0, 1, why)
    waiting = plan_waiting(night)
    if isinstance(waiting, PlanningReason):
        return PlayerRotation((), 0, 0, False, 0, 0, 1, (waiting,))
    found = [*night.played]
    roles, seats = _roles(night, waiting.sets)
    for bout in night.to_plan:
        found.append(_bout(night, bout, roles[bout], waiting.sets[bout]))
    return replace(_answer(night, tuple(found), waiting.exhausted), bibs=seats)


def _roles(night: Night, sets: Mapping[int, frozenset[str]]) -> tuple[Roles, tuple[dict[str, Way], ...]]:
    """Roles of the bouts to come; where pairs decide who is with whom, the bibs too."""
    if night.seating is None:
        return assign_roles(night, sets), ()
    seats = seat_all(night, sets)
    roles = {bout: {name: role for name, (_bib, role) in of.items()} for bout, of in seats.items()}
    return roles, tuple(seats[bout] for bout in night.to_plan)


def _night(
    players: int | Sequence[str],
    slots: Mapping[str, int],
    bouts: int,
    pinned: Mapping[str, str],
    only: Mapping[str, Sequence[str]],
    presence: Mapping[str, tuple[int, int]],
    played: tuple[PlayerBout, ...],
) -> Night:
    names = labels("players", players, letters=False)
    whole("bouts", bouts, 1)
    for role, places in slots.items():
        whole(f"slots {role}", places, 0)
    for field, given in (("pinned", pinned), ("only", only), ("presence", presence)):
        for name in given:
            if name not in names:
                raise ValueError(f"{field}: {name!r} is not among the players")
    for role in [*pinned.values(), *(role for roles in only.values() for role in roles)]:
        if role not in slots:
            raise ValueError(f"slots: there is no role {role!r}")
    if len(played) > bouts:
        raise ValueError(f"played: {len(played)} bouts are more than the {bouts} there are")
    return Night(
        names=names,
        slots=dict(slots),
        bouts=bouts,
        pinned=dict(pinned),
        only={name: frozenset(roles) for name, roles in only.items()},
        presence={name: presence.get(name, (1, bouts)) for name in names},
        played=played,
    )


def _too_few(night: Night) -> tuple[PlanningReason, ...]:
    places = sum(night.slots.values())
    for bout in night.to_plan:
        there = len(night.there(bout))
        if there < places:
            return (reason("too_few_players", players=there, bout=bout, places=places),)
    return ()


def _bout(night: Night, bout: int, roles: Mapping[str, str], waiting: frozenset[str]) -> PlayerBout:
    there = night.there(bout)
    places = tuple(
        (role, tuple(name for name in night.names if roles.get(name) == role)) for role in night.slots
    )
    return PlayerBout(
        bout,
        places,
        waiting=tuple(name for name in night.names if name in waiting),
        away=tuple(name for name in night.names if name not in there),
    )


def _answer(night: Night, found: tuple[PlayerBout, ...], exhausted: bool) -> PlayerRotation:
    sets = {bout.number: frozenset(bout.waiting) for bout in found}
    spread = unevenness(night, sets)
    bound = bound_and_targets(night)[0]
    waits = len(night.names) - sum(night.slots.values())
    exempt_free = max(1, len(night.free))
    cycle = exempt_free // math.gcd(exempt_free, max(0, waits)) if waits > 0 else 1
    proven = exhausted or spread <= bound + 1e-9
    why = (
        ()
        if spread < 1e-9
        else (reason("waiting_uneven", bouts=night.bouts, spread=float(spread)), reason("cycle", cycle=cycle))
    )
    return PlayerRotation(
        bouts=found,
        spread=float(spread),
        bound=float(spread if exhausted else bound),
        proven=proven,
        changes=_changes(night, found),
        twice_running=sum(len(set(a.waiting).intersection(b.waiting)) for a, b in pairwise(found)),
        cycle=cycle,
        reasons=why,
    )


def _changes(night: Night, found: Sequence[PlayerBout]) -> int:
    total = 0
    for name in night.names:
        roles = [role for role in (bout.role_of(name) for bout in found) if role is not None]
        total += sum(a != b for a, b in pairwise(roles))
    return total

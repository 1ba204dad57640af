"""Whole teams through a night: whether they can go round, who is in them, and who plays for another when sides are uneven."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

from sessions.planning.rotation.model import TeamBout
from sessions.planning.rotation.seating import Seating
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


def whole_teams(
    teams: Sequence[TeamPlaces], players: int, tonight: RotationLimits, seating: Seating | None
) -> bool:
    """Equal sides inside, and teams outside that are one smaller or one larger at most; who rests is a whole team.

    With pairs to be kept nobody rests or stays in goal.
    """
    of = {
        place: [each.places for each in teams if each.place == place] for place in (INSIDE, OUTSIDE, RESTING)
    }
    if tonight.outside_only or tonight.most_min or tonight.presence or len(set(of[INSIDE])) != 1:
        return False
    if players != sum(map(sum, of.values())) or (seating and (of[RESTING] or tonight.keepers)):
        return False
    size = of[INSIDE][0]
    odd = {each - size for each in of[OUTSIDE]}
    if of[RESTING]:
        return odd <= {0} and set(of[RESTING]) == {size}
    return odd <= {-1, 0} or odd <= {0, 1}


def goes_on(found: PeopleRotation, played: Sequence[PeopleBout]) -> bool:
    """Whether bouts that are played already are those of this plan."""
    return len(played) <= len(found.bouts) and all(
        before.place_of(name) == planned.place_of(name)
        for before, planned in zip(played, found.bouts, strict=False)
        for name in found.names
    )


def first_as_drawn(bouts: Sequence[TeamBout], teams: Sequence[TeamPlaces]) -> list[TeamBout]:
    """The same bouts with the teams renamed so that the first is the one that is drawn."""
    first = bouts[0]
    drawn = [each.bib for place in (INSIDE, OUTSIDE, RESTING) for each in teams if each.place == place]
    bib = dict(zip((*first.inside, *first.outside, *first.resting), drawn, strict=True))
    return [
        replace(
            each,
            inside=tuple(bib[name] for name in each.inside),
            outside=tuple(bib[name] for name in each.outside),
            resting=tuple(bib[name] for name in each.resting),
        )
        for each in bouts
    ]


def dealt(teams: Sequence[TeamPlaces], names: Sequence[str]) -> dict[str, tuple[str, ...]]:
    """Names dealt out to the bibs like cards, so that a list by name or number makes mixed teams."""
    room = {each.bib: each.places for each in teams}
    hands: dict[str, list[str]] = {each.bib: [] for each in teams}
    queue = list(names)
    while queue:
        for bib, places in room.items():
            if queue and len(hands[bib]) < places:
                hands[bib].append(queue.pop(0))
    return {bib: tuple(hand) for bib, hand in hands.items()}


def team_bout(
    bout: TeamBout,
    members: Mapping[str, tuple[str, ...]],
    size: int,
    lent: Counter[str],
    in_goal: tuple[str, ...],
) -> PeopleBout:
    """Teams inside that are not alike are brought to `size`: who was lent least joins them, or leaves for outside."""
    at = {bib: list(hand) for bib, hand in members.items()}
    loans: list[tuple[str, str, str]] = []

    def lend(own: str, other: str) -> None:
        name = min(members[own], key=lambda each: (each not in at[own], lent[each]))
        at[own].remove(name)
        at[other].append(name)
        lent[name] += 1
        loans.append((name, own, other))

    uneven = len({len(at[bib]) for bib in bout.inside}) > 1
    for bib in bout.inside if uneven and bout.outside else ():
        while len(at[bib]) > size:
            lend(bib, min(bout.outside, key=lambda each: len(at[each])))
        while len(at[bib]) < size:
            lend(max(bout.outside, key=lambda each: len(at[each])), bib)
    hands = [InBib(bib, INSIDE if bib in bout.inside else OUTSIDE, tuple(hand)) for bib, hand in at.items()]
    waiting = [name for each in hands if each.bib in bout.resting for name in each.names]
    playing = [each for each in hands if each.bib not in bout.resting]
    keepers = [InBib(KEEPER, KEEPER, in_goal)] if in_goal else []
    return PeopleBout(bout.number, (*playing, *keepers), tuple(waiting), loans=tuple(loans))

"""Assemble a session: the best one with its reasons and two others, or the limits that clash."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import partial

from sessions.planning.assemble.answer import AssembledSession, Proposal, ProposedPart
from sessions.planning.assemble.clash import clash
from sessions.planning.assemble.explain import clash_reasons, part_reasons, unfinished
from sessions.planning.assemble.library import Offer, checked
from sessions.planning.assemble.options import POINT, Expansion, Option
from sessions.planning.assemble.request import PIN, TENTHS, Request
from sessions.planning.assemble.solve import Differs, Progress, SolvedChoice, Watch, best
from sessions.planning.assemble.totals import Choice, score_if_kept, totals
from sessions.planning.numbers import at_least

ALTERNATIVES = 2
INSTEAD = 3


def assemble(
    request: Request,
    library: Iterable[Offer],
    *,
    seconds: float,
    alternatives: int = ALTERNATIVES,
    watch: Watch | None = None,
    explained: bool = True,
) -> Proposal:
    """The best session for a request out of a library, whether it is proven to be, and the reasons.

    `seconds` limits the solver's time for the best session, and again that for what comes with it (alternatives, or
    the clash); reading a library of thousands takes up to a second beside it. `watch` is told of every better session
    and may stop the search, also for what comes with the best; what has been found by then is answered, not proven.
    Without `explained` an impossible request is said to be that and no more. Deterministic unless the time ends it.
    ValueError for an impossible input; an impossible request is answered with its clash.
    """
    at_least("seconds", seconds, 0)
    offers = checked(library)
    parts = Expansion(request, offers).parts()
    found = best(request, parts, seconds=seconds, watch=watch)
    if found.impossible:
        return (
            _impossible(request, offers, found, seconds, watch)
            if explained
            else Proposal(proven=found.proven)
        )
    if not found.choice:
        return Proposal(bound=found.bound / POINT, reasons=unfinished(None))
    build = _Build(request, offers, parts)
    others = _alternatives(request, parts, found, seconds, alternatives, watch) if found.proven else []
    proposal = Proposal(
        session=build.session(found.choice),
        proven=found.proven,
        bound=found.bound / POINT,
        alternatives=tuple(build.session(choice) for choice in others),
    )
    return proposal if found.proven else replace(proposal, reasons=unfinished(proposal.gap))


def _impossible(
    request: Request, offers: Sequence[Offer], found: SolvedChoice, seconds: float, watch: Watch | None
) -> Proposal:
    going_on = partial(watch, Progress(None, found.bound / POINT)) if watch else None
    left_s = seconds - found.spent_s if watch else seconds  # who watches has one clock for all of it
    reason = clash(request, offers, seconds=max(left_s, 1.0), going_on=going_on)
    if reason is None:
        return Proposal(proven=found.proven, reasons=unfinished(None))
    return Proposal(
        proven=found.proven,
        clash=reason.names,
        clash_smallest=reason.smallest,
        clears=reason.clears,
        let_go=reason.let_go,
        reasons=clash_reasons(request, reason),
    )


def _alternatives(
    request: Request,
    parts: Sequence[Sequence[Option]],
    found: SolvedChoice,
    seconds: float,
    most: int,
    watch: Watch | None,
) -> list[Choice]:
    """The best sessions that differ from all before in at least half of the free parts' drills."""
    free = tuple(at for at, part in enumerate(request.wanted) if not _drill_pinned(request, part.key))
    choices: list[Choice] = [found.choice]
    left_s = seconds
    while free and len(choices) <= most and left_s > 0:
        differs = [Differs(choice, free, -(-len(free) // 2)) for choice in choices]
        other = best(request, parts, seconds=left_s, differs=differs, watch=_told_of(found, watch))
        left_s -= other.spent_s
        if not other.choice:
            break
        choices.append(other.choice)
    return choices[1:]


def _told_of(found: SolvedChoice, watch: Watch | None) -> Watch | None:
    """The watcher, told of the best all the while: it may still stop the search."""
    assert found.score is not None
    best_ = Progress(found.score / POINT, found.bound / POINT, found.choice)
    return (lambda _other: watch(best_)) if watch else None


def _drill_pinned(request: Request, key: str) -> bool:
    pin = request.pin(key)
    return pin is not None and pin.drill is not None and request.holds(PIN + key)


class _Build:
    """Choices of options as sessions that people can read."""

    def __init__(self, request: Request, offers: Sequence[Offer], parts: Sequence[Sequence[Option]]) -> None:
        self.request, self.offers, self.parts = request, offers, parts

    def session(self, choice: Choice) -> AssembledSession:
        sums = totals(self.request, choice)
        made, clock = [], 0
        for at, option in enumerate(choice):
            change = self._changeover(at, stays=sums.stays[at])
            clock += change
            made.append(self._part(choice, at, clock, change, stays=sums.stays[at]))
            clock += option.minutes
        return AssembledSession(
            parts=tuple(made),
            objective=sums.score / POINT,
            minutes=sums.minutes,
            load_au=sums.load / TENTHS,
            headers=sums.headers,
            set_up_minutes=sums.set_up,
        )

    def _changeover(self, at: int, *, stays: bool) -> int:
        if at == 0:
            return 0
        return self.request.same_cones_minutes if stays else self.request.changeover_minutes

    def _part(self, choice: Choice, at: int, starts: int, change: int, *, stays: bool) -> ProposedPart:
        option, part = choice[at], self.request.wanted[at]
        offer = self.offers[option.offer]
        way = offer.ways[option.way]
        return ProposedPart(
            key=part.key,
            kind=part.kind,
            offer=offer,
            way=way,
            minutes=option.minutes,
            starts_min=starts,
            changeover_minutes=change,
            cones_stay=stays,
            pinned=_drill_pinned(self.request, part.key),
            reasons=part_reasons(self.request, part.key, offer, way, stays=stays, options=self.parts[at]),
            instead=self._instead(choice, at),
        )

    def _instead(self, choice: Choice, at: int) -> tuple[str, ...]:
        """Other drills for one part, best first, with everything else as it is."""
        found: dict[int, int] = {}
        drills: set[int] = {option.drill for option in choice}
        most_minutes = choice[at].minutes + self.request.minutes - totals(self.request, choice).minutes
        most_minutes += 2 * (self.request.changeover_minutes - self.request.same_cones_minutes)
        for option in sorted(self.parts[at], key=lambda each: -each.score):
            if len(found) == INSTEAD:
                break
            if option.drill in drills or (option.minutes > most_minutes and self.request.holds("minutes")):
                continue
            changed = [*choice[:at], option, *choice[at + 1 :]]
            score = score_if_kept(self.request, changed)
            if score is not None:
                found[option.offer] = score
                drills.add(option.drill)
        return tuple(self.offers[offer].key for offer in sorted(found, key=lambda each: -found[each]))

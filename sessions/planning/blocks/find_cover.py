"""A coach is away: who leads, who joins whom, who is asked, what is shorter or off; the adults are always enough."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from sessions.planning.blocks.cover import (
    COVER_ORDER,
    CoverRequest,
    CoverSession,
    CoverWay,
    ways_of,
)
from sessions.planning.blocks.solving import BlockWatch, Clock, MeasuredAnswer, in_order
from sessions.planning.supervision import AdultRule, adults_needed, stricter

LEADS = ("stays", "assistant", "neighbour")  # ways in which a session runs whole and can be joined


@dataclass(frozen=True, slots=True)
class CoverChange:
    """One change; `needs` are the keys of changes that have to be accepted with it.

    `code`: assistant (leads) · joins (`host`) · neighbour (leads) · shorter · off · adult (a `person` helps to look after
    the children). `starts` and `ends` in minutes after midnight, `lost_minutes` those of each child.
    """

    key: str
    session: str
    code: str
    person: str = ""
    host: str = ""
    starts: int = 0
    ends: int = 0
    lost_minutes: int = 0
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CoverFound(MeasuredAnswer):
    """The changes, measured in the order of `COVER_ORDER`."""

    changes: tuple[CoverChange, ...]


@dataclass(frozen=True, slots=True)
class _Chosen:
    """A way for each session that changes, or that is joined; and the adults asked beside, by session."""

    ways: Mapping[str, CoverWay]
    adults: Mapping[str, tuple[str, ...]]

    def guests(self, host: str) -> list[str]:
        return [key for key, way in self.ways.items() if way.host == host]


class _Model:
    """Ways and adults to ask as variables: who is in one place only, how many adults and players there are where."""

    def __init__(self, request: CoverRequest) -> None:
        from ortools.sat.python import cp_model

        self.request = request
        self.cp: Any = cp_model.CpModel()
        self.sessions = {each.key: each for each in request.sessions}
        self.ways = {each.key: ways_of(request, each) for each in request.sessions}
        hit = {each.key for each in request.sessions if request.is_hit(each)}
        hosts = {way.host for key in hit for way in self.ways[key] if way.host}
        self.keys = [each.key for each in request.sessions if each.key in hit | hosts]
        self.x = {key: [self.cp.new_bool_var("") for _ in self.ways[key]] for key in self.keys}
        self.extra = {
            (key, person.key): self.cp.new_bool_var("")
            for key in self.keys
            for person in request.people
            if person.adult
            and person.key not in self.sessions[key].staff
            and request.free_part(person, self.sessions[key])
            == (self.sessions[key].starts, self.sessions[key].ends)
        }
        self.adult = {each.key: each.adult for each in request.people}
        for key in self.keys:
            self.cp.add_exactly_one(self.x[key])
            self._look_after(key, hit)
        self._in_one_place()

    def _adults_there(self, key: str) -> set[str]:
        """Adults of a session who are not away."""
        return {each for each in self.request.present(self.sessions[key]) if self.adult[each]}

    def _brought(self, key: str, guests: Mapping[str, Any]) -> Any:
        """Adults whom those bring that join a session; each counts once, whether down for one of them or for more."""
        by_person = defaultdict(list)
        for guest, joined in guests.items():
            for who in sorted(self._adults_there(guest) - self._adults_there(key)):
                by_person[who].append(joined)
        once = []
        for joined_by in by_person.values():
            once.append(self.cp.new_bool_var(""))
            self.cp.add(once[-1] <= sum(joined_by))
        return sum(once)

    def _of(self, key: str, *codes: str, host: str = "") -> Any:
        return sum(
            x
            for way, x in zip(self.ways[key], self.x[key], strict=True)
            if way.code in codes and way.host == host
        )

    def _look_after(self, key: str, hit: set[str]) -> None:
        """Adults and room for a session with all that join it; one that is as booked is left as it is."""
        session = self.sessions[key]
        guests = {
            other: next(x for way, x in zip(self.ways[other], self.x[other], strict=True) if way.host == key)
            for other in self.keys
            if any(way.host == key for way in self.ways[other])
        }
        runs = self._of(key, *LEADS)
        for joined in guests.values():
            self.cp.add(joined <= runs)
        led = sum(
            x
            for way, x in zip(self.ways[key], self.x[key], strict=True)
            if (way.asked or (way.code == "shorter" and way.lead not in self.request.present(session)))
            and self.adult[way.lead]
        )
        adults = len(self._adults_there(key)) + led + self._brought(key, guests)
        adults += sum(x for (of, _), x in self.extra.items() if of == key)
        players = session.players + sum(self.sessions[other].players * x for other, x in guests.items())
        holds = [(session.rule, each) for each in guests.values()]
        holds += [(self.sessions[other].rule, each) for other, each in guests.items()]
        if key in hit:
            runs_somehow = self._of(key, *LEADS, "shorter")
            literal = self.cp.new_bool_var("")
            self.cp.add(literal == runs_somehow)
            holds.append((session.rule, literal))
        for rule, literal in holds:
            self._enough(rule, adults, players, literal)
        if session.most_players is not None:
            for joined in guests.values():
                self.cp.add(players <= session.most_players).only_enforce_if(joined)

    def _enough(self, rule: AdultRule | None, adults: Any, players: Any, literal: Any) -> None:
        if rule is not None:
            self.cp.add(adults >= (rule.fewest or 0)).only_enforce_if(literal)
            if rule.children_per_adult:
                self.cp.add(adults * rule.children_per_adult >= players).only_enforce_if(literal)

    def _in_one_place(self) -> None:
        """Whoever is asked is asked once at a time; in their own sessions they are not free anyway."""
        by_person = defaultdict(list)
        for (key, person), x in self.extra.items():
            session = self.sessions[key]
            by_person[person].append((session.day, session.starts, session.ends, x))
        for key in self.keys:
            for way, x in zip(self.ways[key], self.x[key], strict=True):
                if way.asked:
                    by_person[way.lead].append((self.sessions[key].day, way.starts, way.ends, x))
        for spans in by_person.values():
            for day, start in sorted({(day, start) for day, start, _, _ in spans}):
                running = [x for d, a, b, x in spans if d == day and a <= start < b]
                if len(running) > 1:
                    self.cp.add(sum(running) <= 1)

    def sums(self) -> dict[str, Any]:
        found: dict[str, Any] = dict.fromkeys(COVER_ORDER, 0)
        for key in self.keys:
            session = self.sessions[key]
            for way, x in zip(self.ways[key], self.x[key], strict=True):
                lost = session.length if way.code == "off" else session.length - (way.ends - way.starts)
                found["without"] += session.players * (way.code == "off") * x
                found["minutes"] += session.players * lost * x
                found["asked"] += way.asked * x
                found["joins"] += (way.code == "joins") * x
                found["changes"] += (way.code != "stays") * x
        asked = sum(self.extra.values())
        found["asked"] += asked
        found["changes"] += asked
        return found


def find_cover(request: CoverRequest, *, seconds: float = 5, watch: BlockWatch | None = None) -> CoverFound:
    """The changes that a club would turn to first, fewest of them; `watch` may end the search.

    A session whose people are all there is changed only by others who join it, and by adults asked for that.
    """
    clock = Clock(seconds, watch)
    model = _Model(request)
    sums = model.sums()
    flat = [*(x for key in model.keys for x in model.x[key]), *model.extra.values()]
    measures, values = in_order(model.cp, [(name, sums[name]) for name in COVER_ORDER], flat, clock)
    if flat and not values:
        return CoverFound((), clock.spent_s, ())
    given = iter(values)
    ways = {key: next(w for w, on in [(w, next(given)) for w in model.ways[key]] if on) for key in model.keys}
    extra = [pair for pair, on in zip(model.extra, given, strict=True) if on]
    adults = {key: tuple(person for of, person in extra if of == key) for key in model.keys}
    chosen = _Chosen(ways, adults)
    changes = [
        change for each in request.sessions if each.key in ways for change in _changes(request, each, chosen)
    ]
    return CoverFound(measures, clock.spent_s, tuple(changes))


def _changes(request: CoverRequest, session: CoverSession, chosen: _Chosen) -> list[CoverChange]:
    way = chosen.ways[session.key]
    asked = [
        CoverChange(
            _adult(session.key, who), session.key, "adult", who, starts=session.starts, ends=session.ends
        )
        for who in chosen.adults[session.key]
    ]
    if way.code == "stays":
        return asked
    lost = session.length if way.code == "off" else session.length - (way.ends - way.starts)
    needs = [each.key for each in asked]
    if way.code in LEADS and not _looked_after(request, session.key, (), chosen):
        needs += chosen.guests(session.key)  # who joins brings the adults
    if way.host:
        needs += [_adult(way.host, who) for who in chosen.adults[way.host]]
        if chosen.ways[way.host].code != "stays":
            needs.append(way.host)
        needs += _other_guests(request, session, chosen)
    change = CoverChange(
        session.key, session.key, way.code, way.lead, way.host, way.starts, way.ends, lost, tuple(needs)
    )
    return [*asked, change]


def _adult(session: str, person: str) -> str:
    return f"{session}+{person}"


def _other_guests(request: CoverRequest, session: CoverSession, chosen: _Chosen) -> list[str]:
    """All that join with it, where some of them alone would be too few adults: then they are accepted together or not."""
    host = chosen.ways[session.key].host
    guests = chosen.guests(host)
    fewer = (some for size in range(1, len(guests)) for some in combinations(guests, size))
    if all(_looked_after(request, host, some, chosen) for some in fewer):
        return []
    return [each for each in guests if each != session.key]


def _looked_after(request: CoverRequest, host: str, guests: Sequence[str], chosen: _Chosen) -> bool:
    sessions = {each.key: each for each in request.sessions}
    there = [sessions[host], *(sessions[each] for each in guests)]
    adult = {each.key for each in request.people if each.adult}
    who = {person for each in there for person in request.present(each)}
    who |= {chosen.ways[host].lead, *chosen.adults[host]}
    rule = stricter(each.rule for each in there)
    return len(who & adult) >= adults_needed(sum(each.players for each in there), rule)

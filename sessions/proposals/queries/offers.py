"""The library's offers for an evening: rungs that run tonight, each fitted; and, to find a clash, those that don't."""

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import timedelta

from club.actor import Actor
from drills import queries as drills
from drills.game.fit.kit import kit_list
from drills.game.playable import design_of
from drills.game.steps import steps
from drills.queries import DrillSearch, OfferedRung
from sessions.models import Station, TrainingSession
from sessions.planning.assemble import Offer, Way
from sessions.planning.assemble.library import LastWeek, minutes_of, part_kinds, rating_of
from sessions.planning.assemble.request import PART_FLOOR
from sessions.proposals.queries.apart import rungs_beside, stations_for
from sessions.proposals.queries.request import kept_rung
from sessions.proposals.queries.ways import is_at_hand, is_between_sides, ways_of
from sessions.proposals.wish import Wish
from sessions.queries.evening import share_of
from sessions.queries.plan import PartView, session_view
from sessions.queries.station import in_play_as_written

FIT_SECONDS = 8.0  # for what has not been fitted before
LAST_DAYS = 10  # "last week" reaches back so far
FIRST_THEME, OTHER_THEME = 1.0, 0.5  # a drill's first theme is what it is for (ours, a judgement)
MOST_CORNERS = 3
FINE_UP_TO, STEP = 6, 2  # minutes: a long part need not be tried at every length


@dataclass
class Shelf:
    """The library as one evening sees it. `left_out` drills were not fitted before the time was over."""

    actor: Actor
    wish: Wish
    ages: tuple[int, int | None]
    session: TrainingSession | None = None
    looked_at: int = 0
    left_out: int = 0
    kept: dict[str, tuple[str, int]] = field(default_factory=dict)
    _runs: set[str] = field(default_factory=set)
    _fitted: list[Offer] = field(default_factory=list)

    def fitted(
        self, going_on: Callable[[int, int], bool] = lambda done, all_: True, *, seconds: float = FIT_SECONDS
    ) -> tuple[Offer, ...]:
        """Offers that run tonight. `going_on` is told how many of how many are fitted, and may stop it."""
        rungs = drills.offered_rungs(self.actor, ages=self.ages, tonight=self._tonight())
        self._runs = {_key(rung) for rung in rungs}
        wanted = _no_twins(rungs)
        # What is on tonight's theme is fitted first.
        wanted.sort(key=lambda rung: -self._worth(rung))
        until, last, evening = time.monotonic() + seconds, self._last_week(), self.wish.evening
        went = drills.how_it_went({rung.drill_id for rung in wanted})
        for done, rung in enumerate(wanted):
            if not is_at_hand(rung, evening) and time.monotonic() > until:
                self.left_out += 1
                continue
            if not going_on(done, len(wanted)):
                self.left_out += len(wanted) - done
                break
            if ways := ways_of(rung, evening):
                offer = _offer(rung, ways, last.get(_key(rung), ""))
                self._fitted.append(_rated(offer, went.get(rung.drill_id)))
        self.looked_at = len({rung.drill_id for rung in rungs})
        kept = self._kept()
        if self.wish.apart is not None:
            self._add_apart(self.wish.apart.kind, kept, until, lambda: going_on(len(wanted), len(wanted)))
        self._fitted += kept
        return tuple(self._fitted)

    def all(self) -> tuple[Offer, ...]:
        """The same and everything for these ages that does not run tonight, for whoever asks what stands in the way."""
        rungs = drills.offered_rungs(self.actor, ages=self.ages)
        others = [rung for rung in _no_twins(rungs) if _key(rung) not in self._runs]
        rooms = drills.rooms_for_players([rung.footprint for rung in others], self.wish.players)
        made = [_offer(rung, _rough(rung, rooms.get(rung.footprint, ()), self.wish), "") for rung in others]
        return (*self._fitted, *made)

    def _add_apart(self, kind: str, kept: list[Offer], until: float, going_on: Callable[[], bool]) -> None:
        """Ways with the keepers at a station of their own, for drills that suit that part. Three queries more."""
        but = frozenset(offer.drill for offer in kept)
        stations = stations_for(self.actor, self.wish, ages=self.ages, but=but)
        rungs = [
            rung
            for rung in _no_twins(rungs_beside(self.actor, stations, ages=self.ages))
            if kind in _kinds(rung)
        ]
        rungs.sort(key=lambda rung: -self._worth(rung))
        went = drills.how_it_went({each.drill_id for each in (*rungs, *(one.rung for one in stations))})
        at = {offer.key: index for index, offer in enumerate(self._fitted)}
        for rung in rungs:
            made: list[Way] = []
            for station in stations:
                if not is_at_hand(rung, station.rest.evening) and time.monotonic() > until:
                    self.left_out += 1
                    continue
                themes, heard = _themes(station.rung), went.get(station.rung.drill_id)
                made += [station.beside(way, themes, heard) for way in ways_of(rung, station.rest.evening)]
            if made and (index := at.get(_key(rung))) is not None:
                before = self._fitted[index]
                self._fitted[index] = replace(before, ways=(*before.ways, *made))
            elif made:
                self._runs.add(_key(rung))
                self._fitted.append(_rated(_offer(rung, tuple(made), ""), went.get(rung.drill_id)))
            if not going_on():
                return

    # --- tonight -----------------------------------------------------------------------------------------------

    def _tonight(self) -> DrillSearch:
        return DrillSearch.on(self.wish.evening)

    def _worth(self, rung: OfferedRung) -> float:
        shares = _themes(rung)
        return sum(shares.get(theme, 0.0) for theme in self.wish.themes)

    def _last_week(self) -> dict[str, LastWeek]:
        """Rungs that the squad played last, in the same age group, and the next one up of each. Two queries; one for none."""
        if self.session is None:
            return {}
        since = self.session.day - timedelta(days=LAST_DAYS)
        stations = Station.objects.filter(
            part__session__squad_id=self.session.squad_id,
            part__session__age_group_id=self.session.age_group_id,
            part__session__day__range=(since, self.session.day - timedelta(days=1)),
            revision__isnull=False,
        ).exclude(part__session__state="cancelled")
        rows = set(stations.values_list("revision_id", "variation_key"))
        documents = drills.documents({revision for revision, _key in rows}) if rows else {}
        found: dict[str, LastWeek] = {}
        for revision, key in rows:
            drill = documents[revision]
            found[f"{drill.drill_public_id} {key}"] = "same rung"
        for revision, key in rows:
            drill = documents[revision]
            up = steps(drill.document, key).harder
            if up is not None:
                found.setdefault(f"{drill.drill_public_id} {up}", "one rung up")
        return found

    def _kept(self) -> list[Offer]:
        """Parts of the session that stay, as offers that only their own part can take."""
        named = {part.kept.part for part in self.wish.parts if part.kept}
        if not named or self.session is None:
            return []
        found, seen = [], set[str]()
        for part in session_view(self.session, judged=False, stock={}).parts:
            if str(part.row.public_id) in named:
                made = _kept_offer(part, self.wish.players, seen)
                self.kept[str(part.row.public_id)] = made.drill, part.row.minutes
                seen.add(made.drill)
                found.append(made)
        return found


def _key(rung: OfferedRung) -> str:
    return f"{rung.drill_id} {rung.key}"


def _no_twins(rungs: list[OfferedRung]) -> list[OfferedRung]:
    """Rungs of a drill that cost and earn the same are one choice for the solver: the first stands for them."""
    seen: set[tuple[object, ...]] = set()
    kept = []
    for rung in rungs:
        counted = rung.minutes, rung.effort, rung.headers, rung.set_up_minutes, tuple(rung.design.kit.items())
        mark = (rung.drill_id, rung.footprint, *counted)
        if mark not in seen:
            seen.add(mark)
            kept.append(rung)
    return kept


def _themes(rung: OfferedRung) -> Mapping[str, float]:
    return {theme: OTHER_THEME if at else FIRST_THEME for at, theme in enumerate(rung.theme_keys)}


def _kinds(rung: OfferedRung) -> frozenset[str]:
    return part_kinds(rung.activity, rung.effort, between_sides=is_between_sides(rung.design))


def _offer(rung: OfferedRung, ways: tuple[Way, ...], last_week: LastWeek) -> Offer:
    least, most = minutes_of(rung.minutes)
    return Offer(
        key=_key(rung),
        drill=str(rung.drill_id),
        variation=rung.key,
        title=rung.drill_title if not rung.key else f"{rung.drill_title}: {rung.title}",
        kinds=_kinds(rung),
        effort_cr10=rung.effort,
        ways=ways,
        least_minutes=least,
        most_minutes=most,
        step_minutes=STEP if most - least > FINE_UP_TO else 1,
        set_up_minutes=rung.set_up_minutes,
        headers_per_player=rung.headers,
        themes=_themes(rung),
        last_week=last_week,
    )


def _rated(offer: Offer, heard: tuple[int, int] | None) -> Offer:
    """With what coaches noted after running the drill, on whatever rung."""
    return replace(offer, rating=rating_of(*heard), heard=heard) if heard else offer


def _rough(rung: OfferedRung, rooms: tuple[tuple[float, float], ...], wish: Wish) -> tuple[Way, ...]:
    """How a rung that does not run tonight would: in another space, or, where there is none, with its own numbers, while
    the others wait.
    """
    design = rung.design
    kit, adults = kit_list(design, [design.format]), design.adults_needed
    if not rooms:
        waiting = Way(
            players=wish.players,
            format=str(design.format),
            length_m=design.length_m,
            width_m=design.width_m,
            adults=adults,
            kit=kit,
            playing_share=min(1.0, design.format.players / wish.players),
            off_by_plan=design.may_wait,
        )
        if not waiting.keeps(PART_FLOOR):
            return (waiting,)
        players = design.format.players if design.format.players != wish.players else wish.players + 1
        return (Way(players, str(design.format), design.length_m, design.width_m, adults=adults, kit=kit),)
    nearest = sorted(rooms, key=lambda room: _apart(room, wish))[:MOST_CORNERS]
    return tuple(
        Way(wish.players, str(design.format), long, short, adults=adults, kit=kit) for long, short in nearest
    )


def _apart(room: tuple[float, float], wish: Wish) -> float:
    """By how many metres the free space would have to grow."""
    short, long = sorted(wish.ground_m)
    return max(0.0, room[0] - long) + max(0.0, room[1] - short)


def _in_play(part: PartView, players: int) -> tuple[float, float]:
    """The share of so many players that a part of the session keeps in play, and the share that its drills plan to leave off.

    As it is set up, else as it is written; a part without a drill takes everybody.
    """
    shares, planned = [], [0.0]
    for station in part.stations:
        if station.drill is None:
            continue
        design = design_of(station.drill.document, station.row.variation_key)
        here = share_of(players, station.row)
        if station.setup is not None and station.evening is not None:
            shares.append(min(here, station.evening.players - station.setup.waiting) / here)
        else:
            shares.append(in_play_as_written(design, here) or 0.0)
        planned.append(design.may_wait)
    return (sum(shares) / len(shares) if shares else 1.0), max(planned)


def _kept_offer(part: PartView, players: int, seen: set[str]) -> Offer:
    rung = kept_rung(str(part.row.public_id))
    first = part.first
    drill = str(first.drill.drill_public_id) if first and first.drill else rung
    kit: dict[str, int] = {}
    for station in part.stations:
        for kind, count in station.kit.items():
            kit[kind] = kit.get(kind, 0) + count
    documents = [station.document for station in part.stations if station.document]
    playing, off_by_plan = _in_play(part, players)
    setup = first.setup if first else None
    return Offer(
        key=rung,
        drill=rung if drill in seen else drill,
        variation=rung,
        title=part.title,
        kinds=frozenset(),
        effort_cr10=float(part.row.effort),
        ways=(
            Way(
                players,
                setup.numbers if setup else "",
                setup.length_m if setup else 0.0,
                setup.width_m if setup else 0.0,
                kit=kit,
                playing_share=playing,
                off_by_plan=off_by_plan,
            ),
        ),
        least_minutes=part.row.minutes,
        most_minutes=part.row.minutes,
        set_up_minutes=max((each.setup_minutes for each in documents), default=0),
        headers_per_player=max((each.headers_per_player for each in documents), default=0),
        themes={theme: 1.0 for each in documents for theme in each.themes},
    )

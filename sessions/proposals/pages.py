"""A proposal as its page shows it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club import queries as club
from club.actor import Actor
from drills.game.fit import SetUp
from drills.queries import StationDrill
from sessions.choices import PartKind
from sessions.pages.pitch.fitting import picture_of_run, title_of
from sessions.pictures.section import plan_and_section
from sessions.planning.clock import clock_text
from sessions.planning.plan import PlannedPart, SessionPlan
from sessions.planning.reasons import PlanningReason, reason_from
from sessions.proposals.queries.chosen import documents_of
from sessions.proposals.queries.promised import promised, stations_kept
from sessions.proposals.queries.request import stays
from sessions.proposals.queries.rows import QueuePlace, is_open, is_quiet, turn_of
from sessions.proposals.wish import Wish, wish_from
from sessions.queries.outline import outline_of

if TYPE_CHECKING:
    from sessions.models import Computation, TrainingSession

PERCENT = 100


@dataclass(frozen=True)
class Proposed:
    """A station with the set-up that it gets when the proposal is taken; None where its drill was changed meanwhile.

    `lost`: another version of the app kept it, and it can't be read here.
    """

    set_up: SetUp | None
    picture: SafeString | None
    lost: bool = False

    @property
    def title(self) -> str:
        return title_of(self.set_up) if self.set_up else ""


@dataclass(frozen=True)
class PartShown:
    """One proposed part on the clock. `drill` is its outer id, empty for a part that stays as it is."""

    facts: Mapping[str, Any]
    clock: str
    kind: str
    reasons: list[PlanningReason]
    place: Proposed | None = None
    keepers_place: Proposed | None = None

    @property
    def picture(self) -> SafeString | None:
        return self.place.picture if self.place else None

    @property
    def keepers_picture(self) -> SafeString | None:
        return self.keepers_place.picture if self.keepers_place else None

    @property
    def is_gone(self) -> bool:
        """Whether a drill was changed since, so that it can't be taken like this."""
        return any(each.set_up is None and not each.lost for each in self._places)

    @property
    def is_lost(self) -> bool:
        """Whether a set-up can't be read, so that it can't be taken."""
        return any(each.lost for each in self._places)

    @property
    def _places(self) -> list[Proposed]:
        return [each for each in (self.place, self.keepers_place) if each is not None]

    @property
    def keepers(self) -> Mapping[str, Any] | None:
        """The keepers' station, where they are apart."""
        found: Mapping[str, Any] | None = self.facts.get("keepers")
        return found

    @property
    def stays(self) -> bool:
        return stays(self.facts)

    @property
    def drill(self) -> str:
        return "" if self.stays else str(self.facts["drill"])


@dataclass(frozen=True)
class SessionShown:
    """One whole proposal; `which` names it when it is taken."""

    which: int
    facts: Mapping[str, Any]
    parts: list[PartShown]
    large: SafeString
    phone: SafeString
    in_play: int  # per cent, weighted by minutes

    @property
    def titles(self) -> str:
        return " · ".join(part.facts["title"] for part in self.parts)


@dataclass(frozen=True)
class ProposalShown:
    """A proposal in whatever state. `gap` is by how many per cent a better one could score at most; None where nobody knows."""

    row: Computation
    wish: Wish
    is_open: bool
    is_quiet: bool
    turn: QueuePlace | None
    best: SessionShown | None
    others: list[SessionShown]
    reasons: list[PlanningReason]
    gap: float | None
    replaces: list[str]  # the parts that the session has now and that go when one is used

    @property
    def proven(self) -> bool:
        return bool(self.row.result.get("proven"))

    @property
    def clashes(self) -> bool:
        return bool(self.row.result.get("clash"))


def proposal_shown(row: Computation, session: TrainingSession, actor: Actor) -> ProposalShown:
    """Work the page out of a row. Four queries while it waits, two for the plans of the best."""
    wish, result = wish_from(row.request), row.result
    top = result.get("session")
    return ProposalShown(
        row=row,
        wish=wish,
        is_open=is_open(row),
        is_quiet=is_quiet(row),
        turn=turn_of(row),
        best=_session(0, top, wish, session, _places(top["parts"], actor)) if top else None,
        others=[
            _session(at, each, wish, session, {})
            for at, each in enumerate(result.get("alternatives", []), start=1)
        ],
        reasons=[reason_from(each) for each in result.get("reasons", [])],
        gap=None if result.get("gap") is None else round(PERCENT * result["gap"], 1),
        replaces=_replaced(wish, session),
    )


def _replaced(wish: Wish, session: TrainingSession) -> list[str]:
    stay = {part.kept.part for part in wish.parts if part.kept is not None}
    return [part.title for part in outline_of(session) if part.is_more_than_a_place and part.id not in stay]


def _places(parts: list[Mapping[str, Any]], actor: Actor) -> dict[str, Proposed]:
    """By part, its stations with the numbers and grids that were kept."""
    asked = {
        f"{part['number']}{'k' if place else ''}": each
        for part in parts
        if not stays(part)
        for place, each in enumerate(stations_kept(part))
    }
    found = documents_of(actor, {each["drill"] for each in asked.values()})
    return {key: _proposed(each, found.get(each["drill"]), f"q{key}-") for key, each in asked.items()}


def _proposed(station: Mapping[str, Any], drill: StationDrill | None, prefix: str) -> Proposed:
    kept = promised(station, drill)
    if drill is None or kept.setup is None:
        return Proposed(None, None, kept.lost)
    return Proposed(kept.setup.setup, picture_of_run(kept.tonight(drill, station["rung"]), prefix))


def _session(
    which: int,
    facts: Mapping[str, Any],
    wish: Wish,
    session: TrainingSession,
    places: Mapping[str, Proposed],
) -> SessionShown:
    zone = ZoneInfo(club.club_settings().time_zone)
    starts = session.period.lower.astimezone(zone)
    parts = []
    for part in facts["parts"]:
        begins = starts + timedelta(minutes=part["starts_min"])
        ends = begins + timedelta(minutes=part["minutes"])
        parts.append(
            PartShown(
                facts=part,
                clock=f"{clock_text(begins)}–{clock_text(ends)}",
                kind=str(PartKind(part["kind"]).label),
                reasons=[reason_from(each) for each in part["reasons"]],
                place=places.get(part["number"]),
                keepers_place=places.get(f"{part['number']}k"),
            )
        )
    played = sum(part["minutes"] for part in facts["parts"])
    in_play = sum(part["minutes"] * part["playing_share"] for part in facts["parts"])
    return SessionShown(
        which=which,
        facts=facts,
        parts=parts,
        large=_picture(which, facts, wish, "large"),
        phone=_picture(which, facts, wish, "phone"),
        in_play=round(PERCENT * in_play / played) if played else 0,
    )


def _picture(which: int, facts: Mapping[str, Any], wish: Wish, size: Any) -> SafeString:
    plan = SessionPlan(
        minutes=wish.minutes,
        clear_minutes=wish.clear_minutes,
        parts=tuple(
            PlannedPart(
                key=part["number"],
                minutes=part["minutes"],
                cr10=part["effort"],
                title=part["title"],
                changeover_s=part["changeover_minutes"] * 60,
            )
            for part in facts["parts"]
        ),
    )
    drawn = plan_and_section(
        plan,
        budget_au=wish.load_au if wish.by_load else None,
        k=wish.k,
        hardest_cr10=wish.hardest,
        size=size,
        prefix=f"{size[0]}{which}-",
        translate=_,
        plural=ngettext,
    )
    return mark_safe(drawn)

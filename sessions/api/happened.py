"""What was recorded of a session, and what an emergency at it needs, as JSON."""

from typing import Annotated
from uuid import UUID

import msgspec
from msgspec import Meta

from club.api_described import Moment, one_of, shaped
from club.queries.vetting import NotCounted
from sessions.api.reasons import ReasonOut, reasons
from sessions.pages.emergency import Emergency
from sessions.pages.happened import PartRun, PlayerThere, WhatHappened
from sessions.planning.fold.bodies import AgainAnswer
from sessions.planning.rotation.as_run import WhoPlayed


class HeatOut(msgspec.Struct, frozen=True, kw_only=True):
    """What was typed at the pitch, and what is estimated from it. Advice, never a permit."""

    at: Moment
    temperature_c: float
    humidity_pct: float
    wbgt_c: Annotated[float, Meta(description="Estimated wet-bulb globe temperature.")]
    band: Annotated[str, Meta(description="Of the guideline that the club chose.")]
    advice: str
    play: Annotated[bool, Meta(description="Whether the guideline's band still speaks of playing.")]
    based_on: str
    caution: str
    deferring: str


class ThunderOut(msgspec.Struct, frozen=True, kw_only=True):
    """The last thunder, and when play may be thought of again at the earliest. Advice, never a permit."""

    at: Moment
    resume_at: Moment
    wait: Annotated[bool, Meta(description="Whether the clock still runs.")]
    text: str
    based_on: str
    deferring: str


class WordOfPhoneOut(msgspec.Struct, frozen=True, kw_only=True):
    """The last word of one phone about a player."""

    at: Moment
    state: str
    by: Annotated[str, Meta(description="Whose tap it was; empty where the account was erased.")]
    counts: bool


class PlayerThereOut(msgspec.Struct, frozen=True, kw_only=True):
    id: UUID
    name: str
    state: str
    came_at: Moment | None
    left_at: Moment | None
    minutes: float
    limited: bool
    guest: bool
    minutes_in_play: Annotated[float, Meta(description="In the rounds of which it is known who played.")]
    minutes_known: Annotated[float, Meta(description="There in those rounds.")]
    share_in_play: Annotated[
        float | None, Meta(description="The one by the other; null where it is not known.")
    ]
    apart: Annotated[
        list[WordOfPhoneOut],
        Meta(
            description="Where phones said otherwise of the player and nobody settled it: what each said last."
        ),
    ]


class PartRunOut(msgspec.Struct, frozen=True, kw_only=True):
    id: UUID
    title: str
    how: Annotated[
        str,
        one_of(("clock", "said", "skipped", "not_run")),
        Meta(
            description="clock: by its own start and end. said: nobody tapped, so the plan is taken for it."
        ),
    ]
    started_at: Moment | None
    ended_at: Moment | None
    minutes: float
    bouts: int
    load_au: float | None
    headers: Annotated[int, Meta(description="Of one player who was there for all of it.")]
    who_played: Annotated[
        WhoPlayed | None,
        Meta(description="How it is known who was in play; null for a part that was not run."),
    ]
    effort: float | None
    again: Annotated[
        AgainAnswer | None,
        Meta(description="Whether it is worth running again; null where nobody said."),
    ]


class NoteOut(msgspec.Struct, frozen=True, kw_only=True):
    at: Moment
    text: str
    part: str


class HappenedOut(msgspec.Struct, frozen=True, kw_only=True):
    """What was recorded; names only for the staff of the age group."""

    came: int
    expected: int
    trialists: int
    minutes: float
    effort: Annotated[float | None, Meta(description="CR10 of the session.")]
    load_au: float | None
    expected_au: float | None
    estimated: bool
    outcome: str
    headers: int
    planned_headers: int
    share_in_play: Annotated[
        float | None, Meta(description="Of all players together; null where it is not known.")
    ]
    players: list[PlayerThereOut]
    parts: list[PartRunOut]
    notes: list[NoteOut]
    register_confirmed_at: Annotated[
        Moment | None,
        Meta(description="When the register was read through; null where it was not, or was tapped since."),
    ]
    next_time: Annotated[str, Meta(description="A line for the team's next session.")]
    reasons: list[ReasonOut]


class UncountedOut(msgspec.Struct, frozen=True, kw_only=True):
    """Somebody who is down for it and does not count as an adult on the day."""

    id: UUID
    name: str
    why: NotCounted


class EmergencyPlaceOut(msgspec.Struct, frozen=True, kw_only=True):
    """A pitch that the session holds; what nobody has entered is empty."""

    pitch: str
    address: str
    ambulance_gate: str
    defibrillator: str


class EmergencyOut(msgspec.Struct, frozen=True, kw_only=True):
    """What an emergency at the session needs, as it stands on its pages and sheets."""

    number: str
    welfare_phone: str
    places: list[EmergencyPlaceOut]
    before_the_start: str
    last_child_collected: Moment | None
    collected_said_by: str | None


def happened(done: WhatHappened) -> HappenedOut:
    """What was recorded of a session that is done; players by name only for who may see them."""
    return shaped(
        HappenedOut,
        done,
        expected_au=None if done.load_au is None else round(done.expected_au, 1),
        share_in_play=rounded(done.in_play.share),
        register_confirmed_at=done.confirmed_at,
        players=[_there(each) for each in done.players],
        parts=[_run(each, with_au=done.load_au is not None) for each in done.parts],
        reasons=reasons([*done.reasons, *filter(None, (done.why_load, done.who_played))]),
    )


def _there(player: PlayerThere) -> PlayerThereOut:
    played = player.in_play
    return shaped(
        PlayerThereOut,
        player,
        minutes_in_play=played.minutes,
        minutes_known=played.known_min,
        share_in_play=rounded(played.share),
        apart=[shaped(WordOfPhoneOut, each) for each in player.apart],
    )


def rounded(share: float | None) -> float | None:
    """A share of minutes in play, as every answer says it: to three places, null where it is not known."""
    return None if share is None else round(share, 3)


def _run(part: PartRun, *, with_au: bool) -> PartRunOut:
    run = part.account
    return shaped(
        PartRunOut,
        part,
        id=part.key,
        how=run.how,
        minutes=round(run.minutes, 1),
        bouts=run.bouts,
        load_au=round(run.load_au, 1) if with_au else None,
        headers=run.headers,
    )


def emergency(block: Emergency) -> EmergencyOut:
    """What stands on the session's pages and sheets."""
    collected = block.collected
    return shaped(
        EmergencyOut,
        block,
        before_the_start=block.bag,
        last_child_collected=collected.at if collected else None,
        collected_said_by=collected.by if collected else None,
    )

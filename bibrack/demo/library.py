"""The demo library: drills, one document a file, and ready sessions, one file a theme, through the same checks as any other."""

import math
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

import msgspec

from bibrack.demo import board
from bibrack.demo.words import THEMES
from club import actions as club_actions
from club import queries as club
from club.actor import Actor
from club.models import User
from drills import actions
from drills.choices import DrillState
from drills.game.document import DrillDocument, decode
from drills.game.variations import played
from drills.models import Drill
from sessions import actions as training
from sessions.actions.parts import PartInput, StationInput
from sessions.choices import PartKind

HERE = Path(__file__).parent
FOLDER, READY = HERE / "drills", HERE / "ready"
DRAFTS = ("first-pass-from-home",)
FOR_REVIEW = ("show-them-the-line", "bite-back")
CHANGEOVER_S = 120
CHANGEOVER_FROM_U10_S = 180  # with a drink
CALM_STARTS = (PartKind.ARRIVAL, PartKind.WARM_UP)  # nothing comes before them


class ReadyPart(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A part of an evening: so many rounds of a drill, each as long as the drill says, and the rests between them, so
    they alone decide the minutes.
    """

    kind: PartKind
    drill: str
    rounds: int
    variation: str = ""
    changeover_s: int | None = None  # into it, where laying it takes longer than usual


class ReadySession(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A ready session: what it is called, why in this order, whom it is for, minutes of all of it, and its parts.

    Ages, numbers and order are a coach's judgement (common practice, no source); tests hold them against Fit, minutes and
    load of each age.
    """

    name: str
    about: str
    under_from: int
    under_to: int
    players_from: int
    players_to: int
    minutes: int
    parts: tuple[ReadyPart, ...]


def documents() -> Iterator[tuple[str, DrillDocument]]:
    """Slug and document of each demo drill, in order of slugs."""
    for path in sorted(FOLDER.glob("*.json")):
        yield path.stem, decode(path.read_bytes())


def ready_sessions() -> Iterator[tuple[str, ReadySession]]:
    """Theme and session of each ready session, in order of themes, for the youngest first."""
    for theme, _title, _moment in THEMES:
        data = (READY / f"{theme}.json").read_bytes()
        for each in msgspec.json.decode(data, type=tuple[ReadySession, ...]):
            yield theme, each


def add_drills(
    writers: Sequence[Actor], director: Actor, *, drafts: Sequence[str] = (), for_review: Sequence[str] = ()
) -> dict[str, Drill]:
    """The library of coaches, taken in turn: the club's standard, but for those that are still on their way."""
    made = {}
    for index, (slug, document) in enumerate(documents()):
        writer = writers[index % len(writers)]
        drill = actions.create_drill(actor=writer, document=document)
        if slug not in drafts:
            drill = actions.send_for_review(actor=writer, public_id=drill.public_id)
        if slug not in (*drafts, *for_review):
            drill = actions.approve_drill(actor=director, public_id=drill.public_id)
        if slug == board.SLUG:
            board.add_board(director, drill, document)
        made[slug] = drill
    return made


def add_drills_of_director(director: Actor) -> dict[str, Drill]:
    """The library as a director's own, the club's standard. Where each drill can be played is left to the job."""
    standard = DrillState.CLUB_STANDARD
    return {
        slug: actions.create_drill(actor=director, document=document, state=standard, derived_later=True)
        for slug, document in documents()
    }


def demo_drills(staff: Mapping[str, User]) -> dict[str, Drill]:
    """The demo club's: three coaches wrote them, and some are drafts or wait for review."""
    writers = ("coach@demo.example", "coach.fourteens@demo.example", "coach.nines@demo.example")
    return add_drills(
        [club.actor_of(staff[email]) for email in writers],
        club.actor_of(staff["director@demo.example"]),
        drafts=DRAFTS,
        for_review=FOR_REVIEW,
    )


def add_themes() -> None:
    """Our themes, those alone that the club does not have."""
    club_actions.add_themes(themes=THEMES)


def add_ready_sessions(actor: Actor, drills: Mapping[str, Drill]) -> int:
    """The ready sessions of these drills, by slug, under the club's themes; how many. A template of the club that has the
    name already stays as it is.
    """
    themes = {each.key: each.pk for each in club.themes()}
    made = dict(documents())
    new = {}
    for theme, each in ready_sessions():
        between = CHANGEOVER_S if each.under_from < 10 else CHANGEOVER_FROM_U10_S
        parts = [part_of(part, made[part.drill], drills[part.drill], between) for part in each.parts]
        new[each.name] = parts, _for_whom(each, themes[theme])
    return training.add_ready(actor=actor, new=new)


def _for_whom(ready: ReadySession, theme_id: int) -> training.ForWhom:
    return training.ForWhom(
        minutes=ready.minutes,
        under_from=ready.under_from,
        under_to=ready.under_to,
        players_from=ready.players_from,
        players_to=ready.players_to,
        theme_id=theme_id,
        about=ready.about,
    )


def part_of(planned: ReadyPart, document: DrillDocument, drill: Drill, between_s: int) -> PartInput:
    """So many of the drill's own rounds and rests, in whole minutes; `between_s` is the usual changeover."""
    work = played(document, planned.variation).work
    seconds = planned.rounds * work.bout_s + (planned.rounds - 1) * work.rest_s
    return PartInput(
        kind=planned.kind,
        minutes=math.ceil(seconds / 60),
        bouts=planned.rounds,
        bout_s=work.bout_s,
        rest_s=work.rest_s if planned.rounds > 1 else 0,
        changeover_s=0 if planned.kind in CALM_STARTS else planned.changeover_s or between_s,
        effort=work.effort,
        stations=(StationInput(drill_id=drill.public_id, variation_key=planned.variation),),
    )

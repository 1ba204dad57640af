"""A proposal becomes the session's parts, each with the set-up that it was proposed with."""

import contextlib
from collections.abc import Iterator, Mapping
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from club.actions import action
from club.actor import Actor
from club.errors import Refused
from drills import queries as drills
from drills.game.variations import played
from sessions.actions.booking import lock
from sessions.actions.parts import PartInput, StationInput, parts_as_input, replace_parts
from sessions.actions.setups import put_setup
from sessions.choices import ComputationState, PartKind
from sessions.models import Computation, Station, TrainingSession
from sessions.planning.rounds import on_the_clock
from sessions.proposals.queries import stations_of, stays
from sessions.proposals.queries.request import kept_rung
from sessions.proposals.wish import Wish, wish_from


@action
def take_proposal(
    *, actor: Actor, session: TrainingSession, version: int, computation: Computation, which: int = 0
) -> TrainingSession:
    """Put a proposal's parts into its session; `which` is 0 for the best, 1 and 2 for the others.

    Parts that were kept stay as they are, set-ups among them. Raises Refused where a drill has gone meanwhile, and
    Stale where somebody else has changed the session.
    """
    chosen = _chosen(computation, session, which)
    wish = wish_from(computation.request)
    locked = lock(session, version)
    saved = {kept_rung(str(part.public_id)): part for part in parts_as_input(session)}
    works = _works(actor, chosen)
    parts = [_part(each, saved, works) for each in chosen["parts"]]
    replace_parts(actor=actor, locked=locked, parts=parts)
    _put_setups(locked, wish, chosen["parts"])
    if locked.players_expected != wish.players:
        locked.players_expected = wish.players
    locked.save(update_fields=["version", "players_expected"])
    return locked


def _chosen(computation: Computation, session: TrainingSession, which: int) -> dict[str, Any]:
    if computation.session_id != session.pk:
        raise Refused("This proposal was made for another session.")
    if computation.state != ComputationState.DONE:
        raise Refused("This proposal is not ready.")
    best = computation.result.get("session")
    every = [*([best] if best else []), *computation.result.get("alternatives", [])]
    if not 0 <= which < len(every):
        raise Refused("There is no such proposal.", "which")
    found: dict[str, Any] = every[which]
    return found


def _works(actor: Actor, chosen: Mapping[str, Any]) -> dict[str, Any]:
    """By offer, how each proposed rung is usually run: its bouts and rests. Raises Refused for a drill that has gone."""
    new = [part for part in chosen["parts"] if not stays(part)]
    stations = [*new, *(part["keepers"] for part in new if part.get("keepers"))]
    current = drills.current_revisions({UUID(each["drill"]) for each in stations}, actor)
    documents = drills.documents(current.values())
    found = {}
    for each in stations:
        revision = current.get(UUID(each["drill"]))
        if revision is None:
            raise Refused(_("“{title}” is not in the library any more. Propose again.").format(**each))
        document = documents[revision].document
        if each["rung"] and each["rung"] not in {one.key for one in document.variations}:
            raise Refused(_("“{title}” is not a rung of its drill any more. Propose again.").format(**each))
        if "key" in each:
            found[each["key"]] = played(document, each["rung"]).work
    return found


def _part(part: Mapping[str, Any], saved: Mapping[str, PartInput], works: Mapping[str, Any]) -> PartInput:
    changeover_s = part["changeover_minutes"] * 60
    if stays(part):
        if part["rung"] not in saved:
            raise Refused(_("“{title}” is not in this session any more. Propose again.").format(**part))
        kept = saved[part["rung"]]
        return PartInput(**{**_fields(kept), "changeover_s": changeover_s})
    work = works[part["key"]]
    rounds = on_the_clock(part["minutes"], work.bout_s, work.rest_s)
    return PartInput(
        kind=PartKind(part["kind"]),
        minutes=part["minutes"],
        bouts=rounds.bouts,
        bout_s=rounds.bout_s,
        rest_s=rounds.rest_s,
        changeover_s=changeover_s,
        effort=part["effort"],
        stations=tuple(_stations(part)),
    )


def _stations(part: Mapping[str, Any]) -> Iterator[StationInput]:
    """What everybody plays, and beside it what keepers who are apart do: they keep to it."""
    yield StationInput(drill_id=UUID(part["drill"]), variation_key=part["rung"])
    if keepers := part.get("keepers"):
        yield StationInput(
            drill_id=UUID(keepers["drill"]), variation_key=keepers["rung"], group=_("keepers"), stays=True
        )


def _fields(part: PartInput) -> dict[str, Any]:
    return {name: getattr(part, name) for name in part.__dataclass_fields__}


def _put_setups(locked: TrainingSession, wish: Wish, parts: list[dict[str, Any]]) -> None:
    """Accept the numbers that were proposed; where they don't work any more, the drill is played as written."""
    rows = Station.objects.filter(part__session=locked).select_related("part")
    by_place = {(row.part.position, row.position): row for row in rows}
    for at, part in enumerate(parts):
        if stays(part):
            continue
        for place, (station, evening) in enumerate(stations_of(part, wish)):
            if row := by_place.get((at, place)):
                with contextlib.suppress(Refused):
                    put_setup(row, evening, numbers=station["numbers"], grids=station["grids"])

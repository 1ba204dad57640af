"""A proposal becomes the session's parts, each with the set-up that it was proposed with."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from club.actions import action
from club.actor import Actor
from club.errors import Refused
from sessions.actions.booking import lock
from sessions.actions.parts import PartInput, StationInput, parts_as_input, replace_parts
from sessions.choices import ComputationState, PartKind
from sessions.models import Computation, Station, TrainingSession
from sessions.proposals.queries import documents_of, has_rung, promised, stations_kept, stays
from sessions.proposals.queries.promised import KEPT, Promised
from sessions.proposals.queries.request import kept_rung
from sessions.proposals.wish import wish_from
from sessions.queries import expected_of, squad_out_of


@action
def apply_proposal(
    *, actor: Actor, session: TrainingSession, version: int, computation: Computation, which: int = 0
) -> TrainingSession:
    """Put a proposal's parts into its session; `which` is 0 for the best, 1 and 2 for the others.

    Parts that were kept stay as they are, set-ups among them. Raises Refused where a drill has gone or was changed
    meanwhile or a set-up was kept by a version that is not known here, and Stale where somebody else has changed the session.
    """
    chosen = _chosen(computation, session, which)
    wish = wish_from(computation.request)
    locked = lock(session, version)
    saved = {kept_rung(str(part.public_id)): part for part in parts_as_input(session)}
    _refuse_what_is_gone(actor, chosen)
    parts = [_part(each, saved) for each in chosen["parts"]]
    replace_parts(actor=actor, locked=locked, parts=parts)
    _put_setups(actor, locked, chosen["parts"])
    if expected_of(locked) != wish.players:
        locked.players_expected = wish.players + squad_out_of(locked)  # who is out comes off again
    locked.save(update_fields=["version", "players_expected"])
    return locked


def _chosen(computation: Computation, session: TrainingSession, which: int) -> dict[str, Any]:
    if computation.session_id != session.pk:
        raise Refused(_("This suggestion was made for another session."))
    if computation.state != ComputationState.DONE:
        raise Refused(_("This suggestion is not ready."))
    best = computation.result.get("session")
    every = [*([best] if best else []), *computation.result.get("alternatives", [])]
    if not 0 <= which < len(every):
        raise Refused(_("There is no such suggestion."), "which")
    found: dict[str, Any] = every[which]
    return found


def _refuse_what_is_gone(actor: Actor, chosen: Mapping[str, Any]) -> None:
    """Raise Refused for a drill, or a rung of it, that was there when it was proposed."""
    new = [part for part in chosen["parts"] if not stays(part)]
    stations = [each for part in new for each in stations_kept(part)]
    found = documents_of(actor, {each["drill"] for each in stations})
    for each in stations:
        drill = found.get(each["drill"])
        if drill is None:
            raise Refused(_("“{title}” is not in the library any more. Suggest again.").format(**each))
        if not has_rung(drill, each["rung"]):
            raise Refused(
                _("“{title}” is not a variation of its drill any more. Suggest again.").format(**each)
            )


def _part(part: Mapping[str, Any], saved: Mapping[str, PartInput]) -> PartInput:
    changeover_s = part["changeover_minutes"] * 60
    if stays(part):
        if part["rung"] not in saved:
            raise Refused(_("“{title}” is not in this session any more. Suggest again.").format(**part))
        return replace(saved[part["rung"]], changeover_s=changeover_s)
    return PartInput(
        kind=PartKind(part["kind"]),
        minutes=part["minutes"],
        **part["rounds"],
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


def _put_setups(actor: Actor, locked: TrainingSession, parts: list[dict[str, Any]]) -> None:
    """Each station gets the set-up that was proposed, as it was kept. Raises Refused where that can't be had: the page showed it."""
    rows = Station.objects.filter(part__session=locked).select_related("part")
    by_place = {(row.part.position, row.position): row for row in rows}
    new = [(at, part) for at, part in enumerate(parts) if not stays(part)]
    found = documents_of(actor, {each["drill"] for _at, part in new for each in stations_kept(part)})
    for at, part in new:
        for place, station in enumerate(stations_kept(part)):
            _refuse_what_is_lost(station, promised(station, found.get(station["drill"])))
            row, whole = by_place[at, place], station[KEPT]
            row.setup, row.evening = whole["setup"], whole["evening"]
            row.save(update_fields=["setup", "evening"])


def _refuse_what_is_lost(station: Mapping[str, Any], found: Promised) -> None:
    if found.lost:
        text = _(
            "“{title}” was suggested by another version of this app, so its set-up can't be read. Suggest again."
        )
        raise Refused(text.format(**station))
    if found.setup is None:
        text = _("“{title}” was changed, and doesn't work as {numbers} any more. Suggest again.")
        raise Refused(text.format(**station))

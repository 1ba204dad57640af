"""The solver's answer as plain data, as it is kept with the computation and shown by page and API."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from sessions.planning.assemble import Apart, Offer, Proposal, ProposedPart, Request, Session, Way
from sessions.planning.assemble.request import PIN
from sessions.planning.reasons import Reason, reason
from sessions.proposals.queries.request import kept_rung


def kept_answer(proposal: Proposal, request: Request, offers: Sequence[Offer]) -> dict[str, Any]:
    """A proposal as plain data; `offers` are those that were chosen from."""
    titles = {offer.key: offer.title for offer in offers}
    known = {offer.drill for offer in offers}
    return {
        "session": _session(proposal.session, titles) if proposal.session else None,
        "alternatives": [_session(each, titles) for each in proposal.alternatives],
        "proven": proposal.proven,
        "gap": proposal.gap,
        "clash": list(proposal.clash),
        "clash_smallest": proposal.clash_smallest,
        "let_go": list(proposal.let_go),
        "reasons": [kept_reason(each) for each in _without_gone(proposal, request, known)],
    }


def _without_gone(proposal: Proposal, request: Request, known: set[str]) -> list[Reason]:
    """A part that keeps what is not there any more says so, in place of "is kept"."""
    gone = {pin.part for pin in request.pins if pin.drill is not None and pin.drill not in known}
    named = {name.removeprefix(PIN) for name in proposal.clash if name.startswith(PIN)}
    return [
        replace(reason("clash_pin_gone", each.part, part_key=each.part), clears=each.clears)
        if each.code == "clash_pin" and each.part in gone & named
        else each
        for each in proposal.reasons
    ]


def _session(session: Session, titles: dict[str, str]) -> dict[str, Any]:
    return {
        "parts": [_part(part, titles) for part in session.parts],
        "objective": session.objective,
        "minutes": session.minutes,
        "load_au": session.load_au,
        "headers": session.headers,
        "set_up_minutes": session.set_up_minutes,
    }


def _part(part: ProposedPart, titles: dict[str, str]) -> dict[str, Any]:
    offer, way = part.offer, part.way
    return {
        "number": part.key,
        "kind": part.kind,
        "key": offer.key,
        "drill": offer.drill,
        "rung": offer.variation,
        "title": offer.title,
        "effort": offer.effort_cr10,
        "minutes": part.minutes,
        "starts_min": part.starts_min,
        "changeover_minutes": part.changeover_minutes,
        "load_au": part.load_au,
        "pinned": part.pinned,
        **_run(way.apart.others if way.apart else way),
        "keepers": _keepers(way.apart) if way.apart else None,
        "playing_share": way.playing_share,
        "kit": dict(way.kit),
        "reasons": [kept_reason(each) for each in part.reasons],
        "instead": [titles[key] for key in part.instead],
    }


def _run(way: Way) -> dict[str, Any]:
    return {"numbers": way.format, "grids": way.grids, "length_m": way.length_m, "width_m": way.width_m}


def _keepers(stations: Apart) -> dict[str, Any]:
    """The keepers' station of a part, and the ground that each station was fitted on."""
    return {
        "drill": stations.drill,
        "rung": stations.variation,
        "title": stations.title,
        "players": stations.keepers.players,
        **_run(stations.keepers),
        "ground_m": list(stations.keepers_ground_m),
        "others_ground_m": list(stations.others_ground_m),
    }


def stays(part: Mapping[str, Any]) -> bool:
    """Whether a proposed part is one of the session's own that stays as it is."""
    return str(part["rung"]).startswith(kept_rung(""))


def kept_reason(each: Reason) -> dict[str, Any]:
    """A reason as plain data."""
    return {
        "code": each.code,
        "values": [list(pair) for pair in each.values],
        "part": each.part,
        "clears": [kept_reason(other) for other in each.clears],
    }


def reason_from(kept: dict[str, Any]) -> Reason:
    """The reason that `kept_reason` kept."""
    return Reason(
        kept["code"],
        tuple((name, value) for name, value in kept["values"]),
        kept["part"],
        tuple(reason_from(each) for each in kept["clears"]),
    )

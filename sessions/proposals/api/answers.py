"""Proposals as the shapes that their endpoints answer with."""

from typing import Any

import msgspec

from sessions.api.reasons import ReasonOut, reasons
from sessions.planning.reasons import reason_from
from sessions.proposals import queries
from sessions.proposals.api import shapes
from sessions.proposals.wish import wish_from


def proposal(row: Any) -> shapes.ProposalOut:
    """How far it is, and what came out."""
    result, turn = row.result, queries.turn_of(row)
    by_load = wish_from(row.request).by_load
    return shapes.ProposalOut(
        id=row.public_id,
        session=row.session.public_id if row.session else None,
        state=row.state,
        before=turn.before if turn else None,
        wait_s=turn.wait_s if turn else None,
        so_far=msgspec.convert(row.progress.get("so_far", []), list[shapes.PartSoFarOut]),
        best=_session(result["session"], by_load) if result.get("session") else None,
        alternatives=[_session(each, by_load) for each in result.get("alternatives", [])],
        proven=result.get("proven", False),
        gap=result.get("gap"),
        clash=result.get("clash", []),
        reasons=_reasons(result.get("reasons", [])),
    )


def _session(kept: dict[str, Any], by_load: bool) -> shapes.ProposedSessionOut:
    parts = [_part(part, by_load) for part in kept["parts"]]
    return msgspec.convert(
        {**kept, **_without_load(by_load), "parts": parts},
        shapes.ProposedSessionOut,
    )


def _without_load(by_load: bool) -> dict[str, None]:
    """What stands in place of the load of an age group that does not go by AU."""
    return {} if by_load else {"load_au": None}


def _part(kept: dict[str, Any], by_load: bool) -> dict[str, Any]:
    """A part as it was kept, and what is told of it: which are the session's own, and why."""
    stays = queries.stays(kept)
    own = {"drill": "", "rung": ""} if stays else {}
    return {
        "rounds": None,
        "keepers": None,
        **kept,
        **own,
        **_without_load(by_load),
        "kept": stays or kept["pinned"],
        "reasons": _reasons(kept["reasons"]),
    }


def _reasons(kept: list[dict[str, Any]]) -> list[ReasonOut]:
    """As everywhere, save that parts are named by number in the text: they have no id yet."""
    return reasons([reason_from(one) for one in kept], with_parts=False)

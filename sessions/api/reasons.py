"""A reason as JSON: its words, the part that it stands beside, and what would clear it."""

from collections.abc import Iterable
from uuid import UUID

import msgspec

from sessions.planning.reasons import PlanningReason


class ReasonOut(msgspec.Struct, frozen=True, kw_only=True):
    code: str
    text: str
    part: UUID | None
    clears: list[str]


def reasons(found: Iterable[PlanningReason], *, with_parts: bool = True) -> list[ReasonOut]:
    """Reasons with their words. `with_parts` false: their parts are named in the text alone, since they have no id yet."""
    return [
        ReasonOut(
            code=each.code,
            text=each.text,
            part=UUID(each.part) if with_parts and each.part else None,
            clears=[change.text for change in each.clears],
        )
        for each in found
    ]

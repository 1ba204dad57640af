"""One change that takes load off a week, done: rounds, minutes, an easier variation or the last part of a session, or the
session left out.
"""

from dataclasses import replace
from uuid import UUID

from django.utils.translation import gettext as _

from club.actions import action
from club.actor import Actor
from club.errors import Refused
from sessions.actions.booking import cancel_session
from sessions.actions.parts import PartInput, parts_as_input, save_parts
from sessions.choices import WhyCancelled
from sessions.models import Part, TrainingSession
from sessions.planning.trim import FEWEST_MINUTES_LEFT, FEWEST_PARTS_LEFT
from sessions.queries.whole_week import easier_rung

SECONDS = 60


@action
def lighten(
    *, actor: Actor, session: TrainingSession, version: int, kind: str, size: int, part: UUID | None = None
) -> TrainingSession:
    """Do one offered change (`sessions.planning.trim.TrimChange`) to a session that is still to come.

    Raises Stale where somebody saved since it was offered, Refused where it can't be done to what is planned.
    """
    if kind == "session":
        return cancel_session(session=session, version=version, why=WhyCancelled.REST)
    parts = parts_as_input(session)
    index = next((i for i, each in enumerate(parts) if part is not None and each.public_id == part), None)
    if index is None:
        raise Refused(_("This part is not in the session any more; look at the week again."))
    if kind == "part":
        if len(parts) <= FEWEST_PARTS_LEFT or index != len(parts) - 1:
            raise Refused(_("Only the last part can be left out here, as long as two remain."))
        del parts[index]
    elif kind == "rung":
        parts[index] = _easier(parts[index], session.parts.all()[index])
    else:
        parts[index] = _lighter(parts[index], kind, size)
    return save_parts(actor=actor, session=session, version=version, parts=parts)


def _easier(part: PartInput, row: Part) -> PartInput:
    """The part in its drill's next easier variation, with the effort that was offered. A set-up goes as everywhere that the
    variation changes: it answered the other one.
    """
    easier = easier_rung(row)
    if easier is None or easier[1] >= part.effort:
        raise Refused(_("There is no easier variation of this part any more; look at the week again."))
    key, effort = easier
    return replace(part, effort=effort, stations=(replace(part.stations[0], variation_key=key),))


def _lighter(part: PartInput, kind: str, size: int) -> PartInput:
    if kind == "bouts" and 1 <= size < part.bouts:
        minutes = min(size * (part.bout_s + part.rest_s) // SECONDS, part.minutes - 1)
        return replace(part, bouts=part.bouts - size, minutes=part.minutes - minutes)
    if kind == "shorter" and part.bouts == 1 and 0 < size <= part.minutes - FEWEST_MINUTES_LEFT:
        minutes = part.minutes - size
        return replace(part, minutes=minutes, bout_s=min(part.bout_s, minutes * SECONDS))
    raise Refused(_("This part has changed since; look at the week again."))

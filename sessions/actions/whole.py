"""A session's frame and its parts saved together, as the API sends them."""

from collections.abc import Sequence
from typing import Any

from club.actions import action
from club.actor import Actor
from sessions.actions.beginning import begin_session
from sessions.actions.booking import change_session
from sessions.actions.parts import PartInput, replace_parts, save_parts
from sessions.models import TrainingSession


@action
def plan_whole(*, actor: Actor, parts: Sequence[PartInput] | None, **frame: Any) -> TrainingSession:
    """A new session with its parts; nothing is kept when any of it is refused."""
    session = begin_session(actor=actor, **frame)
    if not parts:
        return session
    return save_parts(actor=actor, session=session, version=session.version, parts=parts)


@action
def save_whole(
    *, actor: Actor, session: TrainingSession, version: int, parts: Sequence[PartInput] | None, **frame: Any
) -> TrainingSession:
    """Frame and parts in one step; parts that aren't sent stay as they are."""
    saved = change_session(session=session, version=version, **frame)
    if parts is not None:
        replace_parts(actor=actor, locked=saved, parts=parts)
    return saved

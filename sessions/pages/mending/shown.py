"""What the pages of a lost pitch and of a coach who is away have in common: changes in words, and all that belongs to one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Protocol, TypeVar

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club.letters import isolated
from sessions.queries.rows import expected_of

if TYPE_CHECKING:
    from sessions.models import TrainingSession


class MendingStep(Protocol):
    """One change of one session; `beside` are those whose changes come with it."""

    @property
    def session(self) -> TrainingSession: ...
    @property
    def code(self) -> str: ...
    @property
    def lost_minutes(self) -> int: ...
    @property
    def beside(self) -> tuple[TrainingSession, ...]: ...
    @property
    def is_off(self) -> bool: ...


Step = TypeVar("Step", bound=MendingStep)


@dataclass(frozen=True)
class ChangeShown:
    """One change in words. `can` says whether it can be done from here, `first` names teams whose change is done with it."""

    session: TrainingSession
    team: str
    was: str
    becomes: str
    is_off: bool
    lost_minutes: int
    first: list[str]
    may: bool
    can: bool = True
    notes: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class ChangesShown:
    """All changes; `seen` stands for these very ones: what is done is what was shown. `left` are teams without an answer."""

    hit: int
    steps: list[ChangeShown]
    summary: list[str]
    is_best: bool
    left: list[str]
    chat: str  # if all of it is done
    seen: str

    @property
    def may_all(self) -> bool:
        return len(self.steps) > 1 and all(each.may and each.can for each in self.steps)


def team_of(row: TrainingSession) -> str:
    return f"{row.age_group.label} {isolated(row.squad.name)}"


def day_words(day: Any) -> str:
    return date_format(day, "D j M")


def needed_by(step: Step, steps: Sequence[Step]) -> list[Step]:
    """All that is done with a change, in the order of doing, itself left out."""
    by_pk = {each.session.pk: each for each in steps}
    found: set[int] = set()
    left = [row.pk for row in step.beside]
    while left:
        pk = left.pop()
        if pk not in found and pk in by_pk:
            found.add(pk)
            left += [row.pk for row in by_pk[pk].beside]
    return [each for each in steps if each.session.pk in found and each is not step]


def asked_of(steps: Sequence[Step], session: str) -> list[Step]:
    """The change of one session, by its outer id, with those that it needs, in the order of doing; all of them for none."""
    if not session:
        return list(steps)
    mine = next((each for each in steps if str(each.session.public_id) == session), None)
    if mine is None:
        return []
    wanted = [*needed_by(mine, steps), mine]
    return [each for each in steps if any(each is other for other in wanted)]


def told(steps: Iterable[Step], words: Callable[[Step], str]) -> str:
    """For the parents' chat, a line for each team."""
    return "\n".join(filter(None, map(words, steps)))


def players_words(steps: Sequence[MendingStep]) -> list[str]:
    """How many players it means, the worst first."""

    def players(code: str) -> int:
        return sum(expected_of(each.session) for each in steps if each.code == code)

    off, moved = players("off"), players("moved")
    lost = sum(each.lost_minutes for each in steps if not each.is_off)
    found = [
        ngettext("%(n)d player has no session.", "%(n)d players have no session.", off) % {"n": off}
        if off
        else _("Everybody trains.")
    ]
    if moved:
        words = ngettext("%(n)d player comes on another day.", "%(n)d players come on another day.", moved)
        found.append(words % {"n": moved})
    if lost:
        found.append(_("{n} minutes of sessions are lost.").format(n=lost))
    return found

"""Conditions: a rule that shapes play, as a limit, as when → then, or as free text that is not understood."""

from __future__ import annotations

from typing import Annotated

import msgspec

from drills.game.document.choices import LimitKind, ThenKind, WhenKind
from drills.game.document.content import Key, Line, Shape


class Scope(Shape, frozen=True, kw_only=True):
    """To whom, where and when a limit applies. Everything empty means everyone, everywhere, always."""

    group: Key | None = None  # key of a group, or of a side: "A"
    role: Line | None = None
    zone: Key | None = None
    phase: Key | None = None


class Limit(Shape, frozen=True, kw_only=True, tag="limit"):
    """What is allowed, for whom. `number` is touches, seconds, players or metres, as the kind says."""

    key: Key
    kind: LimitKind
    scope: Scope = Scope()
    number: Annotated[float, msgspec.Meta(ge=0, le=200)] | None = None
    zone: Key | None = None  # the zone that is entered, stayed in or counted
    other: Key | None = None  # the other group, where two are named
    word: Line | None = None  # "forward", "below the knee"


class When(Shape, frozen=True, kw_only=True):
    """What has to happen. `number` is passes, seconds or goals, as the kind says."""

    kind: WhenKind
    number: Annotated[int, msgspec.Meta(ge=1, le=200)] | None = None
    group: Key | None = None
    place: Key | None = None  # a gate or zone


class Then(Shape, frozen=True, kw_only=True):
    """What follows. One when may have several thens."""

    kind: ThenKind
    goals: tuple[Key, ...] = ()
    phase: Key | None = None
    group: Key | None = None
    zone: Key | None = None
    limit: Key | None = None
    number: Annotated[float, msgspec.Meta(ge=0, le=200)] | None = None
    source: Line | None = None  # where a new ball or a player comes from


class WhenThen(Shape, frozen=True, kw_only=True, tag="when"):
    key: Key
    when: When
    then: Annotated[tuple[Then, ...], msgspec.Meta(min_length=1, max_length=6)]
    scope: Scope = Scope()


class FreeText(Shape, frozen=True, kw_only=True, tag="free"):
    """A rule in the coach's own words. Kept and shown, but marked: nothing is computed from it."""

    key: Key
    text: Annotated[str, msgspec.Meta(min_length=1, max_length=300)]


Condition = Limit | WhenThen | FreeText

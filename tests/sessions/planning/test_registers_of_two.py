"""Registers of several phones become one: any order of arrival, one state, and nobody's word is lost unseen.

The oracle says what stands as a definition over all taps at once; the folds go through them one by one.
"""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from sessions.planning.fold import DeliveryState, Event, fold
from tests.sessions.planning.folding_alike import PLAN, SIX

PHONES = ("p", "q", "r")
SAYS = {"arrived": "here", "late": "late", "left": "left", "absent": "absent", "watching": "here"}
# Both may be true: she was there and then left; she was not there and then came.
CAN_BOTH_BE = [("here", "left"), ("late", "left"), ("absent", "late")]


@st.composite
def evenings(draw: Any) -> list[Event]:
    """Taps of two or three phones about two players, some made knowing of others; confirmations; some undone."""
    count = draw(st.integers(1, 14))
    events: list[Event] = []
    for number in range(count):
        kind = draw(st.sampled_from([*SAYS, "confirmed", "confirmed", "undone"]))
        earlier = [each.id for each in events]
        body: dict[str, Any] = {}
        if kind in SAYS:
            over = draw(st.lists(st.sampled_from(earlier), max_size=3, unique=True)) if earlier else []
            body = {"player": draw(st.sampled_from(["ada", "bo"])), "over": over}
        elif kind == "confirmed" and draw(st.booleans()):
            body = {"taps": draw(st.integers(0, count))}
        elif kind == "undone":
            body = {"event": draw(st.sampled_from(earlier or ["nothing"]))}
        skew = draw(st.sampled_from([0, 0, 3_600_000, -90_000]))
        at = SIX + timedelta(minutes=draw(st.integers(0, 20)), milliseconds=skew)
        events.append(
            Event(id=f"e{number:02}", kind=kind, at=at, skew_ms=skew, body=body, device=draw(st.sampled_from(PHONES)))
        )  # fmt: skip
    return events


@given(evenings(), st.data())
def test_any_order_of_arrival_leaves_one_state(events: list[Event], data: Any) -> None:
    """Also where a phone sends again what it had sent."""
    again = data.draw(st.lists(st.sampled_from(events), max_size=4))
    assert fold(PLAN, data.draw(st.permutations([*events, *again]))) == fold(PLAN, events)


@given(evenings())
def test_what_stands_apart_is_what_the_rule_says(events: list[Event]) -> None:
    state = fold(PLAN, events)
    done = _done(events)
    taps = [each for each in done if each.kind in SAYS]
    confirmed = [
        each
        for each in done
        if each.kind == "confirmed"
        and each.body.get("taps") in (None, sum(_key(tap) < _key(each) for tap in taps))
    ]
    standing = [each for each in confirmed if all(_key(tap) < _key(each) for tap in taps)]
    assert state.confirmed_at == max((each.corrected_at for each in standing), default=None)
    for player in {each.body["player"] for each in taps}:
        about = [each for each in taps if each.body["player"] == player]
        line = state.register[player]
        last = max(about, key=_key)
        kept = [each for each in about if each is not last and not _over(each, about, confirmed)]
        apart = [each for each in kept if not _both(each, last, line.state, line.taking)]
        assert [each.event for each in line.others] == [each.id for each in sorted(apart, key=_key)]
        assert (line.said.event if line.said else None) == (last.id if apart else None)


@given(evenings())
def test_without_other_phones_nothing_stands_apart(events: list[Event]) -> None:
    one = [replace(each, device="p") for each in events]
    assert _lines(fold(PLAN, one)) == _lines(fold(PLAN, events))
    assert not any(line.others for line in fold(PLAN, one).register.values())


def _lines(state: DeliveryState) -> dict[str, tuple[str, str]]:
    """What counts is the same whoever said it."""
    return {player: (line.state, line.taking) for player, line in state.register.items()}


def _key(event: Event) -> tuple[datetime, str]:
    return event.corrected_at.astimezone(UTC), event.id


def _done(events: Sequence[Event]) -> list[Event]:
    """In order of time, without what was undone; the latest undoing first, since it may undo another."""
    ordered = sorted(events, key=_key)
    gone: set[str] = set()
    for each in reversed(ordered):
        if each.kind == "undone" and each.id not in gone:
            gone.add(each.body["event"])
    return [each for each in ordered if each.id not in gone]


def _over(word: Event, about: Sequence[Event], confirmed: Sequence[Event]) -> bool:
    """Whether somebody who knew of a word has spoken since: its own phone, one that named it, who read the register."""
    later = [each for each in about if _key(each) > _key(word)]
    return any(each.device == word.device or word.id in each.body["over"] for each in later) or any(
        _key(each) > _key(word) for each in confirmed
    )


def _both(word: Event, last: Event, state: str, taking: str) -> bool:
    if SAYS[word.kind] != state and (SAYS[word.kind], state) not in CAN_BOTH_BE:
        return False
    return word.kind != "watching" or taking == "watching"

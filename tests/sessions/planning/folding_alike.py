"""A folded state in the few words in which the server's fold and the phone's are held against each other.

Times are minutes after six o'clock; what stands at its beginning is left out.
"""

import json
import random
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from sessions.planning.fold import DeliveryState, Event, RegisterLine, RegisterWord, fold, parse_event
from sessions.planning.plan import PlannedPart, SessionPlan

SIX = datetime(2026, 3, 3, 18, 0, tzinfo=UTC)
KEYS = ("warm", "game")
PLAN = SessionPlan(60, (PlannedPart("warm", 10, 3), PlannedPart("game", 40, 6)), starts_at=SIX)
CASES: list[dict[str, Any]] = json.loads((Path(__file__).parent / "fold_cases.json").read_text())

# The phone's state in the same words; run by the browser on what fold.js answers.
IN_THE_SAME_WORDS = """
(state, six, playing, counted) => {
  const minute = (ms) => ms === null ? undefined : (ms - six) / 60000;
  const parts = {};
  for (const [key, part] of state.parts) parts[key] = {
    started: minute(part.started), ended: minute(part.ended), held: part.held ? part.held / 60000 : undefined,
    extra: part.extras.length ? part.extras.reduce((sum, each) => sum + each.s / 60, 0) : undefined,
    rung: part.rung ?? undefined, setup: part.setup ?? undefined, skipped: part.skipped || undefined,
    dropped: part.dropped || undefined, swap: part.swap?.drill, again: part.again ?? undefined,
  };
  const word = ({ device, id, ms, state, taking, limits, most }) => ({ device, event: id, at: minute(ms), state, taking, limits, most });
  const lines = Object.fromEntries([...state.register].map(([player, { others, said, ...line }]) => [
    player, others ? { ...line, others: others.map(word), said: word(said) } : line,
  ]));
  return {
    status: state.status, minutes: state.minutes ?? undefined, effort: state.effort ?? undefined,
    register: lines, confirmed: minute(state.confirmed), next_time: state.nextTime?.text, guests: [...state.guests].sort(), trialists: [...state.trialists.keys()].sort((a, b) => a - b),
    undone: [...state.undone].sort(), thunder: minute(state.thunder), collected: minute(state.collected), parts,
    heat: state.heat ? [state.heat.temperature, state.heat.humidity] : undefined, playing: playing(state),
    heads: state.heads ?? undefined, counted: counted(state),
  };
}
"""


def as_sent(events: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Events of a case as phones send them; which phone, is said of a batch."""
    plain = [{name: value for name, value in each.items() if name not in ("m", "device")} for each in events]
    return [{**each, "at": _at(event["m"]).isoformat()} for each, event in zip(plain, events, strict=True)]


def as_shown(events: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Events of a case as a phone is told them."""
    plain = [{name: value for name, value in each.items() if name != "m"} for each in events]
    return [
        {**each, "ms": _at(event["m"]).timestamp() * 1000} for each, event in zip(plain, events, strict=True)
    ]


def by_server(events: list[dict[str, Any]]) -> dict[str, Any]:
    """What the server's fold leaves behind, in words that both share."""
    return plain_words(fold(PLAN, as_taken(events)))


def as_taken(events: list[dict[str, Any]]) -> list[Event]:
    """Events of a case as the server's fold takes them."""
    return [
        replace(parse_event(sent), device=each.get("device", ""))
        for sent, each in zip(as_sent(events), events, strict=True)
    ]


def plain_words(state: DeliveryState) -> dict[str, Any]:
    found: dict[str, Any] = {
        "status": state.status,
        "minutes": state.minutes_delivered if state.minutes_said else None,
        "effort": state.effort(),
        "register": {
            key: {
                "state": line.state,
                "taking": line.taking,
                "limits": list(line.limits),
                "most": line.at_most_min,
                **_apart(line),
            }
            for key, line in state.register.items()
        },
        "guests": sorted(each.player for each in state.guests),
        "trialists": list(state.trialists),
        "undone": list(state.undone),
        "thunder": _minute(state.thunder_at),
        "collected": _minute(state.collected_at),
        "confirmed": _minute(state.confirmed_at),
        "next_time": state.next_time.text if state.next_time else None,
        "parts": {each.key: _part(each) for each in state.parts},
        "heat": [state.heat.temperature_c, state.heat.humidity_pct] if state.heat else None,
        "playing": state.playing,
        "heads": state.heads,
        "counted": state.counted,
    }
    return {name: value for name, value in found.items() if value is not None}


def _apart(line: RegisterLine) -> dict[str, Any]:
    if line.said is None:
        return {}
    return {"others": [_word(each) for each in line.others], "said": _word(line.said)}


def _word(word: RegisterWord) -> dict[str, Any]:
    return {
        "device": word.device,
        "event": word.event,
        "at": _minute(word.at),
        "state": word.state,
        "taking": word.taking,
        "limits": list(word.limits),
        "most": word.at_most_min,
    }


def _part(part: Any) -> dict[str, Any]:
    found = {
        "started": _minute(part.started_at),
        "ended": _minute(part.ended_at),
        "held": part.held_s / 60 or None,
        "extra": part.extra_minutes or None,
        "rung": part.variation,
        "setup": part.setup,
        "skipped": part.skipped or None,
        "dropped": part.dropped_bouts or None,
        "swap": part.swap.drill if part.swap else None,
        "again": part.again,
    }
    return {name: value for name, value in found.items() if value is not None}


def _at(minute: float) -> datetime:
    return SIX + timedelta(minutes=minute)


def _minute(at: datetime | None) -> float | None:
    return None if at is None else (at - SIX).total_seconds() / 60


def made_up(seed: int) -> list[dict[str, Any]]:
    """A random evening: any kinds, players and parts in any order, ids that sort otherwise than the times."""
    chance = random.Random(seed)
    bodies: list[dict[str, Any]] = [
        *({"kind": kind, "player": who} for kind in ("arrived", "late", "left", "watching", "absent", "out", "guest") for who in ("ada", "bo")),
        *({"kind": kind, "part": part} for kind in ("part_started", "next_part", "part_ended", "part_skipped", "bout_held", "bout_resumed", "minute_more", "bout_dropped") for part in KEYS),
        {"kind": "limited", "player": "ada", "limits": ["outside_only", "no_contact"]},
        {"kind": "limited", "player": "ada", "limits": []},
        *({"kind": kind, "part": "game", "to": to} for kind, to in (("easier", ""), ("harder", "two"))),
        {"kind": "fit_accepted", "part": "game", "setup": {"numbers": "4v4"}, "rung": "two"},
        {"kind": "fit_accepted", "part": "game", "setup": {"numbers": "3v3"}, "station": "second"},
        {"kind": "part_swapped", "part": "warm", "drill": "d", "revision": 1},
        *[{"kind": "trialist", "number": 1}, {"kind": "trialist", "number": 1, "here": False}] * 2, {"kind": "trialist", "number": 2},
        {"kind": "heat", "temperature_c": 31, "humidity_pct": 55}, {"kind": "thunder"},
        {"kind": "heads", "count": 14}, {"kind": "heads", "count": 9},
        {"kind": "collected"}, {"kind": "effort", "cr10": 5},
        {"kind": "delivered"}, {"kind": "shortened", "minutes": 30}, {"kind": "cancelled", "reason": "pitch"}, {"kind": "as_planned"},
        *({"kind": "again", "part": "game", "answer": answer} for answer in ("yes", "no")),
        {"kind": "confirmed"}, *({"kind": "confirmed", "taps": taps} for taps in (1, 2, 3)), {"kind": "next_time", "text": "Wider."},
    ]  # fmt: skip
    events = [
        {**chance.choice(bodies), "id": f"e{chance.randint(0, 999):03}", "m": chance.randint(0, 30), "device": chance.choice(["p", "q", ""])}
        for _ in range(25)
    ]  # fmt: skip
    unique = list({each["id"]: each for each in events}.values())
    for each in unique:
        if each["kind"] in ("arrived", "late", "absent", "limited") and chance.random() < 0.5:
            each["over"] = [chance.choice(unique)["id"] for _ in range(chance.randint(1, 3))]
    joined = [each["id"] for each in unique if each["kind"] == "trialist" and each.get("here", True)]
    for each in unique:
        if each["kind"] == "trialist" and joined and not each.get("here", True) and chance.random() < 0.5:
            each["joined"] = chance.choice(joined)
    undoing = [
        {"kind": "undone", "event": chance.choice(unique)["id"], "id": f"u{n}", "m": chance.randint(0, 40)}
        for n in range(3)
    ]
    return [*unique, *undoing, {"kind": "undone", "event": "u0", "id": "u9", "m": chance.randint(0, 40)}]

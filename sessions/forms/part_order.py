"""The rows of the editor of parts in another order, and where a drill goes: rows are plain text, valid or not."""

from collections.abc import Sequence
from uuid import UUID

from club import reading
from sessions.forms.fields import seconds_of, seconds_text
from sessions.planning import order
from sessions.planning.order import Place, usual_changeover_s
from sessions.planning.rounds import on_the_clock
from sessions.validators import MOST_PART_MINUTES, MOST_STATIONS

RowText = dict[str, str]
END = "end"


def reordered(rows: Sequence[RowText], do: str) -> list[RowText]:
    """The rows after `up:2`, `down:2`, `remove:2`, `move:2:0` or `alone:2:0` (the first drill that was put beside part 2
    is taken off); anything else leaves them as they are.
    """
    what, _colon, where = do.partition(":")
    first, _colon, second = where.partition(":")
    at, number = _row_number(rows, first), reading.whole(second)
    if at is None:
        return list(rows)
    if what == "remove":
        return _placed(rows, order.removed(len(rows), at))
    if what == "alone" and number is not None:
        return _without_beside(rows, at, number)
    to = {"up": at - 1, "down": at + 1, "move": number}.get(what)
    if to is None or not 0 <= to < len(rows):
        return list(rows)
    return _placed(rows, order.moved([row["kind"] for row in rows], at, to))


def with_part(rows: Sequence[RowText], made: RowText, where: str, between_s: int) -> list[RowText]:
    """A new part where `where` says: `before:2`, anything else is at the end. `between_s` is the club's changeover."""
    what, _colon, number = where.partition(":")
    at = _row_number(rows, number) if what == "before" else None
    return _placed(rows, order.inserted(len(rows), len(rows) if at is None else at), made, between_s)


def with_drill(rows: Sequence[RowText], made: RowText, where: str, between_s: int) -> list[RowText]:
    """A drill where `where` says: `before:2`, `end`, or `into:2` (it fills that part where it waits for a drill, else it
    is a station beside the others). Else it fills a part that waits (one of the same kind first), and comes at the end
    where none does.

    A part that waits keeps its kind, its minutes and its changeover: they are the session's, not the drill's.
    """
    what, _colon, number = where.partition(":")
    at = _row_number(rows, number) if what == "into" else None
    if at is None and what not in ("before", END):
        at = order.filled_by([row["kind"] for row in rows], [waits(row) for row in rows], made["kind"])
    if at is None:
        return with_part(rows, made, where, between_s)
    return [*rows[:at], _with_drill(rows[at], made), *rows[at + 1 :]]


def waits(row: RowText) -> bool:
    """Whether a part has neither a drill nor a name yet."""
    return not row["drill"] and not row["title"].strip()


def beside_of(text: str) -> list[tuple[UUID, str]]:
    """The drills that were put beside a part's first one, each with its rung: `id:rung id:rung`. What is no id is left out."""
    pairs = [each.partition(":")[::2] for each in text.split()]
    return [(found, rung) for drill, rung in pairs if (found := reading.outer_id(drill))][:MOST_STATIONS]


def _with_drill(row: RowText, made: RowText) -> RowText:
    if not row["drill"]:
        kept = {name: row[name] for name in ("id", "kind", "title", "minutes", "changeover")}
        return {**made, **kept, **_rounds_within(kept["minutes"], made)}
    beside = [*beside_of(row["also"]), *beside_of(f"{made['drill']}:{made['rung']}")]
    return {**row, "also": _beside_text(beside)}


def _without_beside(rows: Sequence[RowText], at: int, number: int) -> list[RowText]:
    left = [each for index, each in enumerate(beside_of(rows[at]["also"])) if index != number]
    return [*rows[:at], {**rows[at], "also": _beside_text(left)}, *rows[at + 1 :]]


def _beside_text(beside: Sequence[tuple[UUID, str]]) -> str:
    return " ".join(f"{drill}:{rung}" for drill, rung in beside)


def _rounds_within(minutes: str, made: RowText) -> RowText:
    """The drill's rounds in the minutes of a part that waited for it; the round itself is left to be shared out."""
    found = reading.whole(minutes, 1, MOST_PART_MINUTES)
    bout_s, rest_s = seconds_of(made["bout"]), seconds_of(made["rest"])
    if not found or not bout_s or rest_s is None:
        return {"bout": ""}
    rounds = on_the_clock(found, bout_s, rest_s)
    return {"bouts": str(rounds.bouts), "bout": "", "rest": seconds_text(rounds.rest_s)}


def _placed(
    rows: Sequence[RowText], places: Sequence[Place], made: RowText | None = None, between_s: int = 0
) -> list[RowText]:
    """The rows in a new order; `made` is the new one among them."""
    found = []
    for position, place in enumerate(places):
        row = dict(made or {}) if place.part is None else dict(rows[place.part])
        if place.kind is not None:
            row["kind"] = rows[place.kind]["kind"]
        usual = seconds_text(usual_changeover_s(position, between_s))
        row["changeover"] = usual if place.changeover is None else rows[place.changeover]["changeover"]
        found.append(row)
    return found


def _row_number(rows: Sequence[RowText], text: str) -> int | None:
    return reading.whole(text, 0, len(rows) - 1)

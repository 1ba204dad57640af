"""How many drills there are of each activity, theme and state, beside the first of those that match.

The shelf is walked in the list's order and only until enough is found: what is cheap to tell is asked of each drill first,
its rungs last.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Protocol

from django.db import connection
from django.db.models import QuerySet
from django.db.models.expressions import RawSQL

from drills.models import Variation

MOST_COUNTED = 1000
# So many rungs are looked up at once; where more will do, each drill is asked for its own, and few are asked in vain.
FEW_RUNGS = 3000
LAST_AS_TYPED = 1  # the stretches after it are of words spelt alike


class Chosen(Protocol):
    """What is chosen in the facets."""

    @property
    def activity(self) -> str: ...
    @property
    def theme(self) -> str: ...
    @property
    def state(self) -> str: ...


@dataclass(frozen=True)
class Rungs:
    """Rungs that will do: `each` finds those of one drill fast, `parts` all of them, together; none: `each` is asked alone."""

    each: QuerySet[Variation]
    parts: Sequence[QuerySet[Variation]]


@dataclass(frozen=True)
class Facets:
    """Counts by value. `capped`: more drills match than are counted, so each count is the least there are."""

    activities: Counter[str] = field(default_factory=Counter)
    themes: Counter[str] = field(default_factory=Counter)
    states: Counter[str] = field(default_factory=Counter)
    chosen: list[int] = field(
        default_factory=list
    )  # ids of those that match all three choices, in their order
    capped: bool = False
    more: bool = False  # more match all three choices than are listed
    as_typed: int | None = None  # so many of the listed say the words as they were typed; None where all do
    beside: Mapping[str, list[tuple[str, Any]]] = field(default_factory=dict)  # pairs that were read along


def count_facets(
    stretches: Sequence[QuerySet[Any]],
    chosen: Chosen,
    *,
    enough: int = 0,
    given: Mapping[str, RawSQL] | None = None,
    rungs: Rungs | None = None,
    beside: Mapping[str, QuerySet[Any, Any]] | None = None,
) -> Facets:
    """Each facet is counted under the choices in the two others. One query, whose answer is one row.

    The list is its stretches one after another, each with its `sort_key`, before anything is chosen. `rungs`: one of a
    drill's rungs has to be among these. Where the first two stretches have `enough` between them, there are no others. `given` are tables that both may name; `beside` has lists of pairs by name, which
    are read along.
    """
    statement, beside = _Statement(stretches, rungs, chosen, enough), beside or {}
    for name, table in (given or {}).items():
        statement.add(name, table.sql, table.params)
    if rungs is not None and rungs.parts:
        statement.few(rungs)
    sql, params = statement.whole(beside)
    with connection.cursor() as cursor:
        cursor.execute(sql, params)
        ids, capped, groups, as_typed, *pairs = cursor.fetchone()
    read = {name: [(one, two) for one, two in found or []] for name, found in zip(beside, pairs, strict=True)}
    counts = _counted(groups or [], chosen)
    all_typed = as_typed is None or as_typed >= min(len(ids), MOST_COUNTED)
    more = len(ids) > MOST_COUNTED
    return Facets(*counts, ids[:MOST_COUNTED], capped, more, None if all_typed else as_typed, read)


def _counted(
    groups: Iterable[tuple[str, str, list[str], int]], chosen: Chosen
) -> tuple[Counter[str], Counter[str], Counter[str]]:
    """By activity, theme and state, each under the two other choices; `groups` has how many are alike in all three."""
    activities, themes, states = Counter[str](), Counter[str](), Counter[str]()
    for activity, state, keys, count in groups:
        by_activity, by_state = chosen.activity in ("", activity), chosen.state in ("", state)
        by_theme = chosen.theme in ("", *keys)
        if by_state and by_theme:
            activities[activity] += count
        if by_activity and by_theme:
            states[state] += count
        if by_activity and by_state:
            for key in keys:
                themes[key] += count
    return activities, themes, states


class _Statement:
    """The one statement, put together from the stretches of a list: its parts in order, and what they are asked with."""

    def __init__(
        self, stretches: Sequence[QuerySet[Any]], rungs: Rungs | None, chosen: Chosen, enough: int
    ) -> None:
        columns = ("id", "activity", "state", "theme_keys", "sort_key")
        self.stretches = [each.values_list(*columns).query.sql_with_params() for each in stretches]
        self.own_rung = None if rungs is None else _own_rung(rungs)
        self.parts: list[str] = []
        self.params: list[Any] = []
        self.choices, self.choice_params = _choices(chosen)
        self.enough = enough

    def add(self, name: str, sql: str, params: Iterable[Any] = ()) -> None:
        self.parts.append(f"{name} AS MATERIALIZED ({sql})")
        self.params += params

    def whole(self, beside: Mapping[str, QuerySet[Any, Any]]) -> tuple[str, list[Any]]:
        """All parts, then a row of what was found, counted and read along."""
        ids = "SELECT id FROM wide ORDER BY place"
        self.walk("wide", f"{MOST_COUNTED + 1}")
        self.add("capped", f"SELECT count(*) > {MOST_COUNTED} AS yes FROM wide")
        if self.choices:
            self.add("chosen", f"SELECT id, place FROM wide WHERE {self.choices}", self.choice_params)
            self.add("seen", "SELECT stretch, sort_key, id FROM wide ORDER BY place DESC LIMIT 1")
            left = f"{MOST_COUNTED + 1} - (SELECT count(*) FROM chosen)"
            self.walk("further", f"CASE WHEN (SELECT yes FROM capped) THEN {left} ELSE 0 END", beyond="seen")
            ids = "(SELECT id FROM chosen ORDER BY place) UNION ALL (SELECT id FROM further ORDER BY place)"
        columns = [f"ARRAY({ids})", "(SELECT yes FROM capped)", _GROUPS.format(counted=MOST_COUNTED)]
        columns.append(self.as_typed())
        for rows in beside.values():
            sql, params = rows.query.sql_with_params()
            columns.append(f"(SELECT json_agg(json_build_array(one, two)) FROM ({sql}) AS each (one, two))")
            self.params += params
        # It begins as a read does: what does not, the history of changes takes for a write and marks.
        parts = ",\n".join(self.parts)
        return f"SELECT * FROM (\nWITH {parts}\nSELECT {', '.join(columns)}\n) AS counts", self.params

    def walk(self, name: str, most: str, beyond: str = "") -> None:
        """The first so many of the list; a stretch is begun where those before it were not enough.

        With `beyond`, of what is chosen and comes after the place in the list that this names.
        """
        found = "0"
        for number, (sql, params) in enumerate(self.stretches):
            asked, all_params = [], list(params)
            if beyond:
                key = "sort_key, id" if len(self.stretches) == 1 else "stretch, sort_key, id"
                asked.append(f"({key.replace('stretch', str(number))}) > (SELECT {key} FROM {beyond})")
                asked.append(self.choices)
                all_params += self.choice_params
            if self.own_rung is not None:
                asked.append(self.own_rung[0])
                all_params += self.own_rung[1]
            where = f"WHERE {' AND '.join(asked)}" if asked else ""
            wanted = f"{most} - ({found})"
            if number > LAST_AS_TYPED:
                wanted = f"CASE WHEN (SELECT yes FROM too_few) THEN {wanted} ELSE 0 END"
            self.add(
                f"{name}_{number}",
                f"SELECT found.*, {number} AS stretch, {found} + row_number() OVER (ORDER BY sort_key, id) AS place"
                f" FROM (SELECT * FROM ({sql}) AS each (id, activity, state, theme_keys, sort_key) {where}"
                f" ORDER BY sort_key, id LIMIT {wanted}) AS found",
                all_params,
            )
            found += f" + (SELECT count(*) FROM {name}_{number})"
            if number == LAST_AS_TYPED and not beyond:
                self.add("too_few", f"SELECT {found} < {self.enough} AS yes")
        union = " UNION ALL ".join(f"SELECT * FROM {name}_{number}" for number in range(len(self.stretches)))
        self.parts.append(f"{name} AS NOT MATERIALIZED ({union})")

    def as_typed(self) -> str:
        """How many of those that match were found before the words had to be bent; too many say nothing of it."""
        if len(self.stretches) <= LAST_AS_TYPED + 1:
            return "NULL"
        source = "chosen JOIN wide USING (id, place)" if self.choices else "wide"
        return f"(SELECT count(*) FROM {source} WHERE stretch <= {LAST_AS_TYPED})"

    def few(self, rungs: Rungs) -> None:
        """A part of the rungs that will do; where it is all of them, it answers for every drill."""
        parts = [each.order_by().values_list("drill_id").query.sql_with_params() for each in rungs.parts]
        union = " UNION ALL ".join(f"({sql})" for sql, _ in parts)
        params = [each for _, some in parts for each in some]
        self.add("few", f"SELECT * FROM ({union}) AS each (drill) LIMIT {FEW_RUNGS}", params)
        self.add("all_of_few", f"SELECT count(*) < {FEW_RUNGS} AS yes FROM few")


def _choices(chosen: Chosen) -> tuple[str, list[Any]]:
    asked = {
        "activity = %s": chosen.activity,
        "state = %s": chosen.state,
        "%s = ANY(theme_keys)": chosen.theme,
    }
    said = {text: value for text, value in asked.items() if value}
    return " AND ".join(said), list(said.values())


def _own_rung(rungs: Rungs) -> tuple[str, list[Any]]:
    """Whether one of these is a drill's own."""
    own = rungs.each.order_by().filter(drill_id=RawSQL("each.id", ())).values_list("drill_id")[:1]
    sql, params = own.query.sql_with_params()
    if not rungs.parts:
        return f"({sql}) IS NOT NULL", list(params)
    few = "(SELECT yes FROM all_of_few) THEN each.id IN (SELECT drill FROM few)"
    return f"CASE WHEN {few} ELSE ({sql}) IS NOT NULL END", list(params)


# How many there are of those that are alike in all that is counted.
_GROUPS = """
  (SELECT json_agg(json_build_array(activity, state, theme_keys, n))
   FROM (SELECT activity, state, theme_keys, count(*) AS n FROM wide WHERE place <= {counted}
         GROUP BY activity, state, theme_keys) AS each)
"""


def with_counts(
    choices: Iterable[tuple[str, Any]], counts: Counter[str], capped: bool
) -> list[tuple[str, str, str]]:
    """Choices with how many there are: `3`, `40+` where not all were counted."""
    return [(key, str(title), f"{counts[key]}{'+' if capped else ''}") for key, title in choices]

"""What a document says: the words that its keys stand for, its conditions, restarts, ends, phases and grids, as sentences."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from drills.game.bibs import Wear
from drills.game.document import operations as op
from drills.game.document.choices import EndsKind, LimitKind, ThenKind, WhenKind
from drills.game.document.conditions import Condition, FreeText, Limit, Then, When
from drills.game.document.content import Ends, Entry, Gate, Grid, Phase, Restart
from drills.game.document.drill import DrillDocument
from drills.game.wording.rendering import Translate, as_written, number, spoken, text_of
from drills.game.wording.shapes import Part, Sentence

EVERYONE = Sentence("everyone")
THE_GRID = Sentence("the_grid")


@dataclass(frozen=True)
class Names:
    """What everything is called in this document, and the language in which it is said."""

    groups: dict[str, str] = field(default_factory=dict)
    zones: dict[str, Part] = field(default_factory=dict)
    goals: dict[str, str] = field(default_factory=dict)
    phases: dict[str, str] = field(default_factory=dict)
    limits: dict[str, Limit] = field(default_factory=dict)
    stand_ins: dict[str, Part] = field(default_factory=dict)  # for groups that a rule speaks of together
    translate: Translate = as_written

    @classmethod
    def of(
        cls, document: DrillDocument, translate: Translate = as_written, wear: Wear | None = None
    ) -> Names:
        """The names used in this document. `wear`: its colours as they are worn; the names of goals are keys, which stay."""
        return cls(
            groups={each.key: each.name for each in document.groups},
            zones={
                **{each.key: gate_name(each) for each in document.gates},
                **{each.key: each.name for each in document.zones},
            },
            goals={each.key: goal_name(each.key, wear) for each in document.goals},
            phases={each.key: each.name for each in document.phases},
            limits={each.key: each for each in document.conditions if isinstance(each, Limit)},
            translate=translate,
        )

    def group(self, key: str | None) -> Part:
        """A group as part of a sentence; everyone where none is named."""
        return self.stand_ins.get(key) or self.groups.get(key, key) if key else EVERYONE

    def who_as_part(self, key: str | None) -> str | Sentence:
        """A group as one of several in a list."""
        return self.groups.get(key, key) if key else EVERYONE

    def place(self, key: str | None) -> Part:
        """A zone or gate as part of a sentence; the grid where none is named."""
        return self.zones.get(key, key) if key else THE_GRID

    def who(self, key: str | None) -> str:
        """A group as a text of its own, in the reader's language; everyone where none is named."""
        return self.text(self.group(key))

    def where(self, key: str | None) -> str:
        """A zone or gate as a text of its own, in the reader's language; the grid where none is named."""
        return self.text(self.place(key))

    def text(self, part: Part) -> str:
        """A part alone, in this language."""
        return spoken(part, self.translate)


def goal_name(key: str, wear: Wear | None = None) -> str:
    """What a goal is called in a sentence: its key with spaces, the colours of players as they are worn."""
    words = key.replace("-", " ").replace("_", " ")
    return " ".join((wear or {}).get(word, word) for word in words.split(" "))


def gate_name(gate: Gate) -> Part:
    """What a gate is called in a sentence: its key, which may say already that it is one."""
    return gate.key if gate.key.startswith("gate") else Sentence("gate_called", {"name": gate.key})


def amount(value: float | None) -> Part:
    """A number of any unit as part of a sentence; "?" where the document has none yet."""
    return number(None) if value is None else value


# Limits whose wording names the place itself.
_NAMES_PLACE = frozenset(
    {
        LimitKind.MOST_IN_ZONE,
        LimitKind.FEWEST_IN_ZONE,
        LimitKind.STAY_IN,
        LimitKind.MAY_NOT_ENTER,
        LimitKind.MAY_ENTER,
    }
)
# Limits of which can be said shortly what may be done once they are lifted.
_SHORTLY_LIFTED = frozenset(
    {
        LimitKind.STAY_IN,
        LimitKind.MAY_NOT_ENTER,
        LimitKind.MAY_NOT_TACKLE,
        LimitKind.MAY_NOT_SCORE,
        LimitKind.TOUCHES,
        LimitKind.NO_PASS_TO_EACH_OTHER,
    }
)
_RULES = {
    WhenKind.EVERYONE_TOUCHED: "rule_once",
    WhenKind.INTO_ZONE: "rule_once",
    WhenKind.BALL_OUT: "rule_when",
    WhenKind.REGAIN: "rule_when",
    WhenKind.THIRD_PLAYER: "rule_when",
    WhenKind.CALL: "rule_on",
}


def say(condition: Condition, names: Names) -> str:
    """One condition as one sentence without its full stop's capital; use `sentence()` to finish it."""
    return text_of(condition_said(condition, names), names.translate)


def condition_said(condition: Condition, names: Names) -> Sentence:
    """One condition, to be said."""
    if isinstance(condition, FreeText):
        return Sentence("own_words", {"text": condition.text})
    if isinstance(condition, Limit):
        return _limit(condition, names)
    thens = tuple(_then(each, names) for each in condition.then)
    rule = _RULES.get(condition.when.kind, "rule_after")
    said = Sentence(rule, {"when": _when(condition.when, names), "thens": thens})
    place = condition.scope.zone
    return Sentence("rule_in", {"place": names.place(place), "text": said}) if place else said


def lifted(limit: Limit, names: Names) -> Sentence:
    """What holds once this limit no longer does: `reds may enter the harbour`."""
    if limit.kind not in _SHORTLY_LIFTED or limit.scope.phase or limit.other:
        return Sentence("no_longer_holds", {"limit": _limit(limit, names)})
    return Sentence(
        f"lifted_{limit.kind.name.lower()}",
        {"who": _who(limit, names), "place": names.place(limit.zone or limit.scope.zone)},
    )


def _who(limit: Limit, names: Names) -> Part:
    return limit.scope.role or names.group(limit.scope.group)


def _limit(limit: Limit, names: Names) -> Sentence:
    key = f"limit_{limit.kind.name.lower()}"
    if limit.kind is LimitKind.NO_PASS_TO_EACH_OTHER and limit.other:
        key = "no_pass_to"
    said = Sentence(
        key,
        {
            "who": _who(limit, names),
            "n": amount(limit.number),
            "place": names.place(limit.zone or limit.scope.zone),
            "word": limit.word or "",
            "other": names.group(limit.other),
        },
    )
    if limit.scope.zone and limit.scope.zone != limit.zone and limit.zone:
        said = Sentence("holds_while_in", {"text": said, "place": names.place(limit.scope.zone)})
    elif limit.scope.zone and limit.kind not in _NAMES_PLACE:
        said = Sentence("holds_in", {"text": said, "place": names.place(limit.scope.zone)})
    if limit.scope.phase:
        phase = names.phases.get(limit.scope.phase, limit.scope.phase)
        said = Sentence("holds_during", {"text": said, "phase": phase})
    return said


def _when(when: When, names: Names) -> Sentence:
    if when.kind is WhenKind.EVERYONE_TOUCHED and when.group:
        return Sentence("all_of_them_touched", {"who": names.group(when.group)})
    key = f"when_{when.kind.name.lower()}"
    if when.kind is WhenKind.THROUGH_GATE and not when.place:
        key = "through_any_gate"
    said = Sentence(key, {"n": amount(when.number), "place": names.place(when.place)})
    return Sentence("done_by", {"text": said, "who": names.group(when.group)}) if when.group else said


def _then(then: Then, names: Names) -> Sentence:
    key, count = f"then_{then.kind.name.lower()}", amount(then.number)
    points = Sentence("so_many_points", {"n": count})
    if then.kind is ThenKind.POINTS and not then.group:
        return points
    if then.kind in (ThenKind.PLAYER_ENTERS, ThenKind.PLAYER_LEAVES) and then.number is None:
        count = Sentence("all")
    if then.kind is ThenKind.POINTS_TIMES and then.number == 2:
        key = "next_counts_double"
    held = names.limits.get(then.limit or "")
    goals = tuple(Sentence("the_goal", {"goal": names.goals.get(each, each)}) for each in then.goals)
    return Sentence(
        key,
        {
            "goals": goals or Sentence("the_goals"),
            "count": len(goals),
            "phase": names.phases.get(then.phase or "", then.phase or ""),
            "who": names.group(then.group),
            "place": names.place(then.zone),
            "limit": lifted(held, names) if held else then.limit or "",
            "points": points,
            "n": count,
            "source": Sentence("from_source", {"source": then.source}) if then.source else "",
        },
    )


def say_restart(restart: Restart, names: Names) -> str:
    """`Out at the side: reds pass it in.`"""
    return text_of(restart_said(restart, names), names.translate)


def restart_said(restart: Restart, names: Names) -> Sentence:
    """The sentence of `say_restart`, before it is put into words."""
    after, how = restart.after.name.lower(), restart.how.name.lower()
    return Sentence(
        "restart",
        {
            "after": Sentence(f"after_{after}"),
            "who": names.group(restart.who),
            "how": Sentence(f"how_{how}"),
        },
    )


def say_ends(ends: Ends, names: Names) -> str:
    """How the bout ends."""
    return text_of(ends_said(ends), names.translate)


def ends_said(ends: Ends) -> Sentence:
    """The sentence of `say_ends`, before it is put into words."""
    fallback = Sentence("ends_goals" if ends.kind is EndsKind.FIRST_TO else "ends_goes")
    return Sentence(
        f"ends_{ends.kind.name.lower()}", {"n": amount(ends.number), "what": ends.what or fallback}
    )


def say_phase(phase: Phase, names: Names) -> str:
    """A phase: its format, who comes in from where, how it ends and what follows."""
    return text_of(phase_said(phase, names), names.translate)


def phase_said(phase: Phase, names: Names) -> Sentence:
    """The sentences of `say_phase`, before they are put into words."""
    finished = tuple(Sentence("finished", {"text": each}) for each in _phase(phase, names))
    return Sentence("one_after_another", {"sentences": finished})


def _phase(phase: Phase, names: Names) -> Iterator[Part]:
    yield Sentence("phase_is", {"name": phase.name, "format": phase.format})
    if phase.starts:
        yield phase.starts
    yield from (_entry(each, names) for each in phase.entries)
    ends = Sentence("it_ends_with", {"ends": phase.ends})
    if phase.within_s:
        ends = Sentence("at_most_seconds", {"ends": ends, "n": phase.within_s})
    yield ends
    if phase.then:
        yield phase.then


def _entry(entry: Entry, names: Names) -> Sentence:
    who, count = names.group(entry.group), entry.count or 0
    if count:
        who = Sentence("so_many_of", {"n": count, "who": who})
    said = Sentence("comes_in", {"who": who, "n": count, "source": entry.source})
    return Sentence("so_much_later", {"text": said, "n": entry.delay_s}) if entry.delay_s else said


def say_grid(grid: Grid | op.SetGrid) -> str:
    """`25 × 20 m`."""
    return text_of(grid_said(grid))


def grid_said(grid: Grid | op.SetGrid) -> Sentence:
    """The sentence of `say_grid`, length and width in metres, before it is put into words."""
    return Sentence("grid_size", {"length": grid.length_m, "width": grid.width_m})

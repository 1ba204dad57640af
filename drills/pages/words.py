"""The words that pages use for the document's fields and closed lists."""

from collections.abc import Sequence
from typing import Any

import msgspec
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drills.game.document.choices import (
    Direction,
    GoalSize,
    GroupHome,
    Heading,
    Indoors,
    PlaysFor,
    QuestionMoment,
    Rung,
    StopWay,
)
from drills.game.document.content import Balls, Group, OnWinning, Queue, Scoring, Start, Work
from drills.game.leaves import Leaf
from drills.game.wording import number
from drills.game.wording.catalogue import CATALOGUE

PLACES = {
    GroupHome.INSIDE: gettext_lazy("inside"),
    GroupHome.TOUCHLINE: gettext_lazy("on the touchlines"),
    GroupHome.END_LINE: gettext_lazy("on the bylines"),
    GroupHome.EVERY_SIDE: gettext_lazy("outside, on every side"),
    GroupHome.ZONE: gettext_lazy("in a zone"),
    GroupHome.QUEUE: gettext_lazy("in a queue"),
    GroupHome.GOAL: gettext_lazy("in goal"),
}
PLAYS_FOR = {
    PlaysFor.BALL: gettext_lazy("plays for whoever has the ball"),
    PlaysFor.ITSELF: gettext_lazy("each for themselves"),
    PlaysFor.NOBODY: gettext_lazy("plays for nobody"),
}
MOMENTS_OF_QUESTIONS = {
    QuestionMoment.BEFORE: gettext_lazy("before the round"),
    QuestionMoment.BETWEEN: gettext_lazy("between rounds"),
    QuestionMoment.BALL_OUT: gettext_lazy("when the ball is out"),
    QuestionMoment.ON_THE_RUN: gettext_lazy("on the run"),
    QuestionMoment.ONE_TO_ONE: gettext_lazy("one to one"),
    QuestionMoment.FREEZE: gettext_lazy("freeze"),
    QuestionMoment.AFTER: gettext_lazy("at the end"),
}
STOPS = {
    StopWay.BETWEEN_BOUTS: gettext_lazy("between rounds"),
    StopWay.BALL_OUT: gettext_lazy("when the ball is out"),
    StopWay.ON_THE_RUN: gettext_lazy("on the run"),
    StopWay.ONE_TO_ONE: gettext_lazy("one to one"),
    StopWay.FREEZE: gettext_lazy("freeze (rarely)"),
}
DIRECTIONS = {
    Direction.NONE: gettext_lazy("no direction"),
    Direction.ONE_WAY: gettext_lazy("one way"),
    Direction.TWO_WAYS: gettext_lazy("two ways"),
    Direction.SEVERAL_GOALS: gettext_lazy("to several goals"),
}
HEADINGS = {each: gettext_lazy(CATALOGUE[f"heading_{each.name.lower()}"].text) for each in Heading}
INDOORS = {
    Indoors.YES: gettext_lazy("indoors too"),
    Indoors.WITH_CHANGES: gettext_lazy("indoors with changes"),
    Indoors.NO: gettext_lazy("outdoors only"),
}
GOAL_SIZES = {
    GoalSize.MINI: gettext_lazy("mini goal"),
    GoalSize.SMALL: gettext_lazy("small goal"),
    GoalSize.AGE_GROUP: gettext_lazy("age group's goal"),
    GoalSize.FULL: gettext_lazy("full-size goal"),
}
RUNG_WORDS = {
    Rung.EASIER: gettext_lazy("easier"),
    Rung.HARDER: gettext_lazy("harder"),
    Rung.SIDEWAYS: gettext_lazy("another theme"),
}


def count_words(least: int, most: int | None) -> str:
    """`4`, `2–4`."""
    return f"{least}" if most in (None, least) else f"{least}–{most}"


def group_heads(group: Group) -> tuple[str, str, str]:
    """Its name, its bib and how many."""
    return group.name, group.bib or "", count_words(group.least, group.most)


def group_words(group: Group, sides: dict[str, str]) -> str:
    """Where a group is and whom it plays for; `sides` are the sides that have a name (`side_names`)."""
    words = [str(PLACES[group.place])]
    if group.role:
        words.append(group.role)
    if group.plays_for in PLAYS_FOR:
        words.append(str(PLAYS_FOR[group.plays_for]))
    elif group.plays_for.value in sides and group.key != group.plays_for.value:
        words.append(_("plays for {side}").format(side=sides[group.plays_for.value]))
    return ", ".join(words)


def side_names(groups: Sequence[Group]) -> dict[str, str]:
    """What each side is called, where there is more than one side and a group stands for the whole of it."""
    if len({each.plays_for for each in groups if each.plays_for not in PLAYS_FOR}) < 2:
        return {}
    return {each.key: each.name for each in groups if each.key == each.plays_for.value}


def bib_counts(groups: Sequence[Group]) -> list[tuple[str, str]]:
    """How many bibs of each colour: [("red", "6"), ("blue", "2–4")], groups of one colour counted together."""
    totals: dict[str, tuple[int, int]] = {}
    for each in groups:
        if each.bib:
            least, most = totals.get(each.bib, (0, 0))
            totals[each.bib] = (least + each.least, most + (each.most or each.least))
    return [(bib, count_words(*counts)) for bib, counts in totals.items()]


def start_lines(start: Start | None, who: dict[str, str]) -> list[str]:
    """How it starts, a sentence each."""
    if start is None:
        return []
    lines = [_ended(start.trigger)]
    if start.source:
        lines.append(_("The ball comes from {source}.").format(source=start.source))
    for entry in start.delays:
        name = who.get(entry.group, entry.group)
        text = _("{who} come from {source}").format(who=name, source=entry.source)
        lines.append(_ended(text + (_(", {n:g} s later").format(n=entry.delay_s) if entry.delay_s else "")))
    return lines


def winning_line(winning: OnWinning | None) -> str:
    """What the winners of the ball do, and how quickly."""
    if winning is None:
        return ""
    text = _("On winning it: {task}").format(task=winning.task.rstrip("."))
    return _ended(text + (_(", within {n:g} s").format(n=winning.within_s) if winning.within_s else ""))


def scoring_line(scoring: Scoring, who: dict[str, str]) -> str:
    """`A goal in either gate: 1 point.`"""
    points = _("1 point") if scoring.points == 1 else _("{n} points").format(n=scoring.points)
    name = f" ({who.get(scoring.group, scoring.group)})" if scoring.group else ""
    return _ended(f"{scoring.what}: {points}{name}")


def queue_lines(queue: Queue | None) -> list[str]:
    """Planned work and waiting, who goes next, how roles go round."""
    if queue is None:
        return []
    lines = [
        _("Work {work} s, wait {wait} s: planned.").format(work=queue.work_s, wait=queue.wait_s),
        _ended(queue.next),
    ]
    if queue.cycle:
        lines.append(_("Roles go round: {cycle}.").format(cycle=" → ".join(queue.cycle)))
    return lines


def balls_line(balls: Balls) -> str:
    """How many balls, and where the spare ones lie."""
    text = _("a ball each") if balls.each else f"{balls.number}"
    if balls.spare:
        text += _(" + {n} spare").format(n=balls.spare)
    return text + (f" ({balls.supply})" if balls.supply else "")


def work_words(work: Work) -> str:
    """`4 × 3 min, 45 s rest`."""
    minutes, seconds = divmod(work.bout_s, 60)
    length = (
        f"{minutes} min" if not seconds else f"{minutes}:{seconds:02d} min" if minutes else f"{seconds} s"
    )
    rest = _(", {n} s rest").format(n=work.rest_s) if work.rest_s and work.bouts > 1 else ""
    return f"{work.bouts} × {length}{rest}"


# The published anchors of the CR10 scale that coaches are asked in (`reference-values`): from so much effort on, the word.
EFFORT_WORDS: tuple[tuple[float, Any], ...] = (
    (0.0, gettext_lazy("easy")),
    (3.0, gettext_lazy("moderate")),
    (4.0, gettext_lazy("somewhat hard")),
    (5.0, gettext_lazy("hard")),
    (7.0, gettext_lazy("very hard")),
)


def effort_words(effort: float) -> str:
    """How hard it is, in the words that coaches are asked in: `hard` for CR10 5 to 6.9."""
    return str([word for least, word in EFFORT_WORDS if effort >= least][-1])


def _ended(text: str) -> str:
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")


LABELS = {
    "title": gettext_lazy("Title"),
    "purpose": gettext_lazy("What it is for"),
    "activity": gettext_lazy("Activity"),
    "moment": gettext_lazy("Moment of the game"),
    "themes": gettext_lazy("Themes"),
    "under_from": gettext_lazy("From under"),
    "under_to": gettext_lazy("To under"),
    "format": gettext_lazy("Format"),
    "numbers": gettext_lazy("Numbers"),
    "direction": gettext_lazy("Direction"),
    "groups": gettext_lazy("Groups"),
    "adults": gettext_lazy("Adults needed"),
    "grids": gettext_lazy("Grids"),
    "zones": gettext_lazy("Zones"),
    "gates": gettext_lazy("Gates"),
    "goals": gettext_lazy("Goals"),
    "balls": gettext_lazy("Balls"),
    "kit": gettext_lazy("Kit"),
    "indoors": gettext_lazy("Indoors"),
    "setup_minutes": gettext_lazy("Minutes to set up"),
    "shot_towards": gettext_lazy("Where it is shot towards"),
    "start": gettext_lazy("Start"),
    "restarts": gettext_lazy("Restarts"),
    "on_winning": gettext_lazy("On winning it"),
    "scoring": gettext_lazy("Scoring"),
    "ends": gettext_lazy("How it ends"),
    "queue": gettext_lazy("Planned waiting"),
    "conditions": gettext_lazy("Conditions"),
    "phases": gettext_lazy("Phases"),
    "work": gettext_lazy("Rounds and effort"),
    "heading": gettext_lazy("Heading"),
    "headers_per_player": gettext_lazy("Headers per player"),
    "variations": gettext_lazy("Variations"),
    "challenges": gettext_lazy("Challenges for one player"),
    "say_this": gettext_lazy("Say this"),
    "points": gettext_lazy("Coaching points"),
    "faults": gettext_lazy("Usual faults"),
    "questions": gettext_lazy("Questions"),
    "praise": gettext_lazy("Praise"),
    "coach_place": gettext_lazy("Where you stand"),
    "stops": gettext_lazy("How it may be stopped"),
    "safety": gettext_lazy("Safety"),
    "notes": gettext_lazy("Notes"),
    "scene": gettext_lazy("Drawn plan"),
}
# Fields inside those, where their own name with spaces would say little or the wrong thing.
_INSIDE = {
    "across": gettext_lazy("passed up and down"),
    "along": gettext_lazy("along the edge"),
    "along_m": gettext_lazy("along the edge"),
    "ask": gettext_lazy("question"),
    "bout_s": gettext_lazy("round, s"),
    "changes": gettext_lazy("change"),
    "delay_s": gettext_lazy("later by, s"),
    "delays": gettext_lazy("coming in"),
    "entries": gettext_lazy("coming in"),
    "faces": gettext_lazy("shot at from"),
    "harder": gettext_lazy("makes it harder"),
    "key": gettext_lazy("short name"),
    "least": gettext_lazy("at least"),
    "length_m": gettext_lazy("length, m"),
    "most": gettext_lazy("at most"),
    "open_at_start": gettext_lazy("open at the start"),
    "rest_s": gettext_lazy("rest, s"),
    "rung": gettext_lazy("makes it"),
    "wait_s": gettext_lazy("wait, s"),
    "what": gettext_lazy("of what"),
    "width_m": gettext_lazy("width, m"),
    "within_s": gettext_lazy("within, s"),
    "work_s": gettext_lazy("work, s"),
    "x": gettext_lazy("along the length"),
    "x_m": gettext_lazy("from the left, m"),
    "y": gettext_lazy("across the width"),
    "y_m": gettext_lazy("from the bottom, m"),
}


def label_of(field: str) -> str:
    """What a field of the document is called."""
    return str(LABELS[field]) if field in LABELS else label_inside(field).capitalize()


def label_inside(name: str) -> str:
    """What a field of a piece is called: `setup_minutes` is “setup minutes” where it has no words of its own."""
    if name in _INSIDE:
        return str(_INSIDE[name])
    stem, _line, unit = name.rpartition("_")
    words = f"{stem}, {unit}" if stem and unit in ("m", "s") else name
    return words.replace("_", " ")


def told(leaf: Leaf, value: Any) -> str:
    """One side of a value that differs: `with a keeper: yes`."""
    where = " ".join(label_inside(name) for name in leaf.path)
    return f"{where}: {plain_words(value)}" if where else plain_words(value)


def plain_words(value: Any) -> str:
    """Any value of a document in words: numbers, texts, yes and no, and of a piece all that it says, in order."""
    if value is None or value in ("", ()):
        return _("nothing")
    if isinstance(value, bool):  # before the numbers: Python takes it for one
        return _("yes") if value else _("no")
    if isinstance(value, float | int):
        return number(value)
    if isinstance(value, str):
        return str(getattr(value, "value", value))
    if isinstance(value, tuple):
        return ", ".join(plain_words(each) for each in value)
    return " · ".join(_of_piece(value))


def _of_piece(piece: msgspec.Struct) -> list[str]:
    tag = piece.__struct_config__.tag
    words = [str(tag).replace("_", " ")] if tag else []
    for name in piece.__struct_fields__:
        value = getattr(piece, name)
        if isinstance(value, bool):
            words += [label_inside(name)] if value else []
        elif name != "key" and value not in (None, "", ()):
            words.append(plain_words(value))
    return words

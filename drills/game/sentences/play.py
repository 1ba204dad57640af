"""Restarts, ends, phases and grids as sentences."""

from __future__ import annotations

from drills.game.document import operations as op
from drills.game.document.choices import EndsKind, RestartAfter, RestartHow
from drills.game.document.content import Ends, Grid, Phase, Restart
from drills.game.sentences.words import Names, gettext_noop, number, sentence

_AFTER: dict[RestartAfter, str] = {
    RestartAfter.START: gettext_noop("To start"),
    RestartAfter.SIDE_OUT: gettext_noop("Out at the side"),
    RestartAfter.END_OUT: gettext_noop("Out at the end"),
    RestartAfter.GOAL: gettext_noop("After a goal"),
    RestartAfter.SAVE: gettext_noop("After a save"),
    RestartAfter.BALL_WON: gettext_noop("When the ball is won"),
    RestartAfter.ANY_STOP: gettext_noop("After any stop"),
}
_HOW: dict[RestartHow, str] = {
    RestartHow.PASS_IN: gettext_noop("pass it in"),
    RestartHow.DRIBBLE_IN: gettext_noop("dribble it in"),
    RestartHow.THROW_IN: gettext_noop("throw it in"),
    RestartHow.COACH_SERVES: gettext_noop("the coach serves"),
    RestartHow.KEEPER_STARTS: gettext_noop("the keeper starts"),
    RestartHow.NEXT_BALL: gettext_noop("next ball from the supply"),
    RestartHow.PLAY_ON: gettext_noop("play on"),
    RestartHow.NEXT_GROUP: gettext_noop("the next group starts"),
    RestartHow.SWAP_ROLES: gettext_noop("roles are swapped"),
}


def say_restart(restart: Restart, names: Names) -> str:
    """`Out at the side: reds pass it in.`"""
    after = names.translate(_AFTER[restart.after])
    return f"{after}: {names.who(restart.who)} – {names.translate(_HOW[restart.how])}."


def say_ends(ends: Ends, names: Names) -> str:
    """How the bout ends."""
    if ends.kind is EndsKind.TIME:
        return names.translate(gettext_noop("Ends with the time of the bout."))
    template = {
        EndsKind.FIRST_TO: gettext_noop("First to {n} {what}."),
        EndsKind.REPETITIONS: gettext_noop("{n} {what} each."),
    }[ends.kind]
    fallback = gettext_noop("goals") if ends.kind is EndsKind.FIRST_TO else gettext_noop("goes")
    return names.fill(template, n=number(ends.number), what=ends.what or names.translate(fallback))


def say_phase(phase: Phase, names: Names) -> str:
    """A phase: its format, who comes in from where, how it ends and what follows."""
    parts = [sentence(names.fill(gettext_noop("{name} is {format}"), name=phase.name, format=phase.format))]
    if phase.starts:
        parts.append(sentence(phase.starts))
    for entry in phase.entries:
        who = names.who(entry.group)
        if entry.count:
            who = names.fill(gettext_noop("{n} of {who}"), n=entry.count, who=who)
        one = entry.count == 1
        template = (
            gettext_noop("{who} comes in from {source}")
            if one
            else gettext_noop("{who} come in from {source}")
        )
        text = names.fill(template, who=who, source=entry.source)
        if entry.delay_s:
            text = names.fill(gettext_noop("{text}, {n} s later"), text=text, n=number(entry.delay_s))
        parts.append(sentence(text))
    ends = names.fill(gettext_noop("It ends with {ends}"), ends=phase.ends)
    if phase.within_s:
        ends = names.fill(gettext_noop("{ends}, at most {n} s"), ends=ends, n=phase.within_s)
    parts.append(sentence(ends))
    if phase.then:
        parts.append(sentence(phase.then))
    return " ".join(parts)


def say_grid(grid: Grid | op.SetGrid) -> str:
    """`25 × 20 m`."""
    return f"{number(grid.length_m)} × {number(grid.width_m)} m"

"""Restarts, ends, phases and grids as sentences."""

from __future__ import annotations

from collections.abc import Iterator

from drills.game.document import operations as op
from drills.game.document.choices import EndsKind
from drills.game.document.content import Ends, Entry, Grid, Phase, Restart
from drills.game.sentences.names import Names, amount
from drills.game.wording.rendering import text_of
from drills.game.wording.shapes import Part, Sentence


def say_restart(restart: Restart, names: Names) -> str:
    """`Out at the side: reds pass it in.`"""
    return text_of(restart_said(restart, names), names.translate)


def restart_said(restart: Restart, names: Names) -> Sentence:
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
    fallback = Sentence("ends_goals" if ends.kind is EndsKind.FIRST_TO else "ends_goes")
    return Sentence(
        f"ends_{ends.kind.name.lower()}", {"n": amount(ends.number), "what": ends.what or fallback}
    )


def say_phase(phase: Phase, names: Names) -> str:
    """A phase: its format, who comes in from where, how it ends and what follows."""
    return text_of(phase_said(phase, names), names.translate)


def phase_said(phase: Phase, names: Names) -> Sentence:
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
    return Sentence("grid_size", {"length": grid.length_m, "width": grid.width_m})

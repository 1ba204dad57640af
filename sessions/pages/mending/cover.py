"""A coach is away, on one page: what is hit, who could take it over or whom it could join, and what to tell the parents."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from club.actor import Actor
from club.letters import isolated
from sessions.pages.mending.shown import (
    ChangeShown,
    ChangesShown,
    asked_of,
    day_words,
    needed_by,
    players_words,
    team_of,
    told,
)
from sessions.queries.mending.cover import SessionCover, cover_for
from sessions.queries.mending.lost import Lost
from sessions.queries.rows import place_words


@dataclass(frozen=True)
class CoachAwayPage:
    lost: Lost
    changes: ChangesShown


def coach_away_page(actor: Actor, lost: Lost) -> CoachAwayPage:
    """The queries of `cover_for`."""
    found = cover_for(lost)
    changed = {each.session.pk for each in found.steps}
    asked = sum(len(each.helpers) + (each.code == "neighbour") for each in found.steps)
    summary = players_words(found.steps)
    if asked:
        words = ngettext("%(n)d person has to be asked.", "%(n)d people have to be asked.", asked)
        summary.append(words % {"n": asked})
    changes = ChangesShown(
        hit=len(found.hit),
        steps=[_shown(actor, each, found.steps) for each in found.steps],
        summary=summary,
        is_best=found.found.proven,
        left=[team_of(each) for each in found.hit if each.pk not in changed],
        chat=cover_told(found.steps),
        seen=_seen(found.steps),
    )
    return CoachAwayPage(lost, changes)


def cover_steps(lost: Lost, session: str, seen: str) -> list[SessionCover]:
    """What is done for one session, or for all (`session` empty); nothing where the changes are others than were seen."""
    steps = cover_for(lost).steps
    return asked_of(steps, session) if _seen(steps) == seen else []


def cover_told(steps: Sequence[SessionCover]) -> str:
    """A line for each team for which anything is new. No names of people."""
    return told(steps, _told)


def _seen(steps: Sequence[SessionCover]) -> str:
    facts = [
        (
            *(each.session.pk, each.session.version, each.code, each.starts, each.ends, each.people),
            each.host and (each.host.pk, each.host.version),
        )
        for each in steps
    ]
    return sha256(repr(facts).encode()).hexdigest()


def _shown(actor: Actor, step: SessionCover, steps: Sequence[SessionCover]) -> ChangeShown:
    row = step.session
    needed = needed_by(step, steps)
    touched = [each.session for each in (step, *needed)] + [
        each.host for each in (step, *needed) if each.host
    ]
    return ChangeShown(
        session=row,
        team=team_of(row),
        was=f"{day_words(row.day)}, {row.starts:%H:%M}–{row.ends:%H:%M}, {place_words(row)}",
        becomes=_becomes(step),
        is_off=step.is_off,
        lost_minutes=step.lost_minutes,
        first=[team_of(each.session) for each in needed],
        may=all(actor.plans_for(each.age_group_id) for each in touched),
        notes=_notes(step),
    )


def _notes(step: SessionCover) -> list[str]:
    asked = [step.leads] if step.code == "neighbour" else []
    return [_("ask {name} first").format(name=isolated(each.name)) for each in (*asked, *step.helpers)]


def _becomes(step: SessionCover) -> str:
    name = isolated(step.leads.name) if step.leads else ""
    times = f"{step.starts:%H:%M}–{step.ends:%H:%M}"
    if step.is_off:
        return _("is off: nobody was found who could lead it, nor a team to join")
    if step.host is not None:
        return _("joins {team}, {times}").format(team=team_of(step.host), times=times)
    if step.code == "shorter":
        return _("is shorter: {times}, led by {name}").format(times=times, name=name)
    if step.code in ("assistant", "neighbour"):
        return _("{name} leads").format(name=name)
    if step.helpers:
        return _("as planned, with {names} helping").format(
            names=", ".join(isolated(each.name) for each in step.helpers)
        )
    return _("as planned: enough adults are left")


def _told(step: SessionCover) -> str:
    row = step.session
    words = {
        "team": team_of(row),
        "day": day_words(row.day),
        "time": f"{row.starts:%H:%M}",
        "times": f"{step.starts:%H:%M}–{step.ends:%H:%M}",
        "host": team_of(step.host) if step.host else "",
    }
    if step.is_off:
        return _("{team}: no training on {day} ({time}), a coach can’t come.").format(**words)
    if step.host is not None:
        return _("{team}: training on {day} is together with {host}, {times}.").format(**words)
    if step.code == "shorter":
        return _("{team}: training on {day} is shorter, {times}.").format(**words)
    return ""

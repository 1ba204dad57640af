"""A session gathered for paper: its frame, what a volunteer reads first, its parts, and safety with its source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.utils.formats import date_format
from django.utils.translation import get_language, ngettext
from django.utils.translation import gettext as _

from club import queries as club
from sessions.pages.emergency import emergency_of
from sessions.pages.ground import SessionGround, session_ground
from sessions.pages.happened import what_happened
from sessions.pages.laying import goals_caution, goals_size, kit_lines, part_laying
from sessions.pages.sheet.parts import parts_on_sheet
from sessions.pictures.section import plan_and_section
from sessions.planning.clock import clock_text
from sessions.planning.headers import HeaderRule
from sessions.queries.guides import header_rule
from sessions.queries.plan import SessionView, session_view
from sessions.queries.rows import place_words, staff_rows_of
from sessions.sheet import IfTooEasyOrHard, Picture, Sheet, SheetPart, SheetStart, SheetStation

if TYPE_CHECKING:
    from sessions.models import TrainingSession

MOST_SAFETY = 7


def session_sheet(
    session: TrainingSession, *, link: str, by_code: bool = True, without_colour: bool = False
) -> Sheet:
    """The sheet of a session whose rows are at hand; `link` is the address that its code holds, `by_code` whether it opens
    without an account.


    Adults are named, players never.
    """
    view = session_view(session)
    ground = session_ground(view)
    parts = parts_on_sheet(view, part_laying(view), without_colour=without_colour)
    return Sheet(
        lang=(get_language() or "en").split("-")[0],
        club=club.club_settings().name,
        title=str(session),
        squad=f"{session.age_group.label} {session.squad.name}",
        when=_when(session),
        place=place_words(session),
        people=_people(session),
        facts=_facts(view),
        start=_start(view, parts, _pace(ground)),
        parts=tuple(parts),
        safety=tuple(_safety(view)),
        link=link,
        stamp=int(view.timetable.starts_at.timestamp()),
        labels=labels(by_code=by_code),
        emergency=emergency_of(session).lines,
        section=_section(view),
        ground=_ground(ground),
        happened=tuple(_happened(view)),
    )


def _happened(view: SessionView) -> list[str]:
    """What was recorded of a session that is done: numbers and parts, never a name."""
    done = what_happened(view, with_names=False)
    if done is None:
        return []
    otherwise = {each.code: each.said(_, ngettext) for each in done.changes}
    first = [
        otherwise.get("came_otherwise") or _("{came} came.").format(came=done.came),
        otherwise.get("took_minutes") or _("{minutes:.0f} min.").format(minutes=done.minutes),
        _("Effort {cr10:g} of 10.").format(cr10=done.effort) if done.effort is not None else "",
    ]
    parts = [(part, " ".join(each.said(_, ngettext) for each in part.changes)) for part in done.parts]
    share = done.in_play.share
    play = _("{percent:.0f} % in play.").format(percent=share * 100) if share is not None else ""
    return [
        " ".join(each for each in (*first, play) if each),
        *(each.said(_, ngettext) for each in done.told),
        *([done.who_played.said(_, ngettext)] if done.who_played else []),
        *(f"{part.number} {part.title}: {text}" for part, text in parts if text),
        *(note.text for note in done.notes),
    ]


def _when(session: TrainingSession) -> str:
    return f"{date_format(session.day, 'D j M Y')}, {session.starts:%H:%M}–{session.ends:%H:%M}"


def _people(session: TrainingSession) -> str:
    theme = [_("Theme: {theme}").format(theme=session.theme.title)] if session.theme else []
    staff = [
        _("{name} leads").format(name=each["name"]) if each["part"] == "leads" else str(each["name"])
        for each in staff_rows_of(session)
    ]
    return " · ".join([*theme, *([", ".join(staff)] if staff else [])])


def _facts(view: SessionView) -> tuple[tuple[str, str], ...]:
    times = view.timetable
    return (
        (_("Set up from"), f"{clock_text(times.set_up_from)} ({view.set_up_minutes} min)"),
        (_("Start"), clock_text(times.starts_at)),
        (_("Clear from"), clock_text(times.clear_from)),
        (_("Off the pitch"), clock_text(times.clear_by)),
        (_("Players"), str(view.players)),
        (
            _("Adults"),
            _("{there} of {needed}").format(there=view.adults.number, needed=view.adults_needed),
        ),
    )


def _pace(ground: SessionGround | None) -> list[str]:
    """Where to pace from; and what has no place, so that nobody finds out on the grass."""
    if ground is None:
        return []
    missing = [f"{each.number}" for each in ground.parts if each.reasons and not each.grids]
    if not missing:
        return ground.pace
    text = ngettext(
        "Part {parts} does not fit on what is booked: set it up for the space first.",
        "Parts {parts} do not fit on what is booked: set them up for the space first.",
        len(missing),
    )
    return [*ground.pace, text.format(parts=", ".join(missing))]


def _ground(ground: SessionGround | None) -> tuple[Picture, ...]:
    if ground is None:
        return ()
    return tuple(
        Picture(each.picture, _("{space}: where the grids stand").format(space=each.space.key))
        for each in ground.plans
        if any(grid.placed.space == each.space.key for part in ground.parts for grid in part.grids)
    )


def _start(view: SessionView, parts: list[SheetPart], pace: list[str]) -> SheetStart:
    """The first page of somebody who has five minutes: the kit, and the part that the evening is about."""
    heart, clock = _heart(view, parts)
    return SheetStart(
        kit=tuple(kit_lines(view.kit, goals_size(view))),
        pace=tuple(pace),
        of=f"{heart.title}, {clock}" if heart else "",
        say=heart.say if heart else (),
        praise=heart.praise if heart else "",
        ladder=heart.ladder if heart else IfTooEasyOrHard(),
    )


def _heart(view: SessionView, parts: list[SheetPart]) -> tuple[SheetStation | None, str]:
    """The part with the most load has the most to it; the first where two are alike."""
    with_drill = [(view.parts[index].load_au, -index) for index, part in enumerate(parts) if part.stations]
    if not with_drill:
        return None, ""
    part = parts[-max(with_drill)[1]]
    return part.stations[0], part.clock


def _safety(view: SessionView) -> list[tuple[str, str]]:
    """Advice with its source: the adults, heading, then what the drills say of themselves."""
    found = [_adults(view)]
    if caution := goals_caution(view):
        found.append((caution, _("common practice, no source")))
    heading = view.headers
    rule = header_rule(view.guidelines)
    if heading and rule is not None:
        says = _heading_says(rule)
        text = _("Heading is planned ({n} a player). The guideline for this age: {says}.")
        found.append((text.format(n=heading, says=says), rule.source))
    seen = set()
    for part in view.parts:
        for station in part.stations:
            for line in station.document.safety if station.document else ():
                if line not in seen:
                    seen.add(line)
                    found.append((line, _("the drill {title}").format(title=station.title)))
    return found[:MOST_SAFETY]


def _heading_says(rule: HeaderRule) -> str:
    """What the figures in force say of heading, as far as one evening goes."""
    if rule.none:
        return _("none in training")
    if rule.per_session is None:
        return _("see the guidelines for the week")
    return _("at most {n} a session").format(n=rule.per_session)


def _adults(view: SessionView) -> tuple[str, str]:
    needed, players = view.adults_needed, view.looked_after
    text = ngettext(
        "{players} player: {needed} adults at least, one of them free to go with a child who is hurt.",
        "{players} players: {needed} adults at least, one of them free to go with a child who is hurt.",
        players,
    )
    if not needed:
        return _("Know who brings the phone and the first-aid bag."), _("common practice, no source")
    source = view.adult_rule.source if view.adult_rule else ""
    return text.format(players=players, needed=needed), _("{source}; local rules come first").format(
        source=source
    )


def _section(view: SessionView) -> Picture | None:
    if not view.parts:
        return None
    drawn = plan_and_section(
        view.plan,
        budget_au=view.budget.load_au,
        k=view.k,
        hardest_cr10=view.budget.hardest_cr10,
        size="phone",
        name=str(view.row),
        prefix="s-",
        translate=_,
        plural=ngettext,
    )
    text = _(
        "Below the tape: as wide as its minutes, as deep as its effort. Dashed: as much as the session may take."
    )
    return Picture(drawn, text)


def labels(*, by_code: bool = True) -> dict[str, str]:
    """Every word that the template prints by itself."""
    scan = _("Scan for the session and its clock: no account, no names. The coach tells you a number.")
    return {
        "sheet": _("Sheet"),
        "code": scan if by_code else _("Scan for the session. Sign in first; the code holds no names."),
        "evening": _("The evening by the clock"),
        "kit": _("Carry"),
        "pace": _("Pace it out"),
        "heart": _("Main part:"),
        "say": _("Say this"),
        "praise": _("Praise one thing"),
        "easy": _("Too easy?"),
        "hard": _("Too hard?"),
        "chaos": _("Chaos?"),
        "safety": _("Safety"),
        "happened": _("What happened"),
        "emergency": _("In an emergency"),
        "collected": _("Last child collected at"),
        "clock": _("By the clock"),
        "inside": _("inside"),
        "outside": _("outside"),
        "resting": _("resting"),
        "bout": _("Round"),
        "numbers": _("Numbers"),
        "rotation": _("Rotation"),
        "rule": _("Rules"),
        "start": _("Start"),
        "look": _("Look for"),
        "ask": _("Ask"),
        "listen": _("Listen for:"),
    }

"""How players change places in a set-up, in plain words."""

from __future__ import annotations

from drills.game.design import Design
from drills.game.fit.distance import rotates_as_teams
from drills.game.fit.search import Found
from drills.game.format import Format
from drills.game.reasons import in_words, joined, plural, sentence

IN_TURN = " in turn: change after every bout."


def rotation(design: Design, found: Found) -> str:
    """One or two sentences for the coach; several grids that rotate alike are said once."""
    waiting = found.split.waiting
    each = {fmt: _one_grid(design, fmt, waiting) for fmt in found.formats}
    said = dict.fromkeys(text for text in each.values() if text)
    if len(said) == 1 or len(found.formats) == 1:
        text = " ".join(said)
    else:
        text = " ".join(f"{fmt}: {words}" for fmt, words in each.items() if words)
    rest = _rest(design, found)
    return " ".join(part for part in (text, rest) if part)


def _rest(design: Design, found: Found) -> str:
    waiting = found.split.waiting
    if not waiting:
        return ""
    if design.planned_waiting or design.waiting_kind == "queue":
        return "Join the queue after each go."
    if rotates_as_teams(found.formats[0], waiting) and len(found.formats) == 1:
        return ""
    if any("resting" in _one_grid(design, fmt, waiting) for fmt in found.formats):
        return ""
    who = "One rests" if waiting == 1 else f"{sentence(in_words(waiting))[:-1]} rest"
    return f"{who}{IN_TURN}"


def _one_grid(design: Design, fmt: Format, waiting: int) -> str:
    if not fmt.has_opponents:
        return ""
    team = fmt.sides[0].outfield
    if rotates_as_teams(fmt, waiting):
        return _whole_teams(fmt, waiting, team)
    if fmt.is_even and fmt.sides[0].outside:
        return "Inside and outside change places within each side after every bout."
    if (
        fmt.neutrals
        and fmt.is_even
        and abs(fmt.neutrals - team) == 1
        and len(fmt.sides) == 2
        and fmt.neutrals > 1
    ):
        return _loaned(fmt, team)
    if fmt.neutrals and waiting and not design.planned_waiting:
        return f"{sentence(plural(fmt.neutrals, 'neutral'))[:-1]} and {in_words(waiting)} resting{IN_TURN}"
    if fmt.neutrals:
        return f"{sentence(plural(fmt.neutrals, 'neutral'))[:-1]}{IN_TURN}"
    return _without_neutrals(design, fmt)


def _whole_teams(fmt: Format, waiting: int, team: int) -> str:
    outside, resting = fmt.neutrals // team, waiting // team
    if not outside and not resting:
        if fmt.sides[0].outside:
            return "Inside and outside change places within each side after every bout."
        return ""
    teams = len(fmt.sides) + outside + resting
    parts = [f"{in_words(len(fmt.sides))} play"]
    parts += [f"{in_words(outside)} {'is' if outside == 1 else 'are'} neutral"] if outside else []
    parts += [f"{in_words(resting)} {'rests' if resting == 1 else 'rest'}"] if resting else []
    who = f"{in_words(teams)} teams of {in_words(team)}" if team > 1 else plural(teams, "player")
    return sentence(f"{who}: {', '.join(parts)}; change after every bout")


def _loaned(fmt: Format, team: int) -> str:
    """Uneven threes: when the odd team comes in or goes out, one player is on loan so that both sides stay equal."""
    teams = sorted((team, team, fmt.neutrals), reverse=True)
    names = joined([in_words(number) for number in teams])
    if fmt.neutrals < team:
        loan = f"when the {in_words(fmt.neutrals)} come in, one of those going out stays in with them on loan"
    else:
        loan = f"when the {in_words(fmt.neutrals)} come in, one of them stays outside on loan"
    return f"Teams of {names}: change after every bout; {loan}."


def _without_neutrals(design: Design, fmt: Format) -> str:
    if design.format.is_even and not fmt.is_even:
        return "The side that is a player up changes after every bout."
    if not fmt.is_even:
        return "Change roles after every bout, so that everyone has each of them."
    return ""

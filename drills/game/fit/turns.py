"""How players change places in a set-up, in plain words."""

from __future__ import annotations

from drills.game.design import Design
from drills.game.fit.distance import rotates_as_teams
from drills.game.fit.search import FoundSetUp
from drills.game.format import Format
from drills.game.wording.shapes import Sentence

RESTING_TOO = "neutrals_and_resting"


def rotation(design: Design, found: FoundSetUp) -> Sentence:
    """One or two sentences for the coach, or none; several grids that rotate alike are said once."""
    each = {fmt: _one_grid(design, fmt, found.split.waiting) for fmt in found.formats}
    said = list(dict.fromkeys(turns for turns in each.values() if turns))
    if len(said) > 1:
        said = [
            Sentence("turns_in", {"format": str(fmt), "turns": turns}) for fmt, turns in each.items() if turns
        ]
    rest = _rest(design, found, any(turns and turns.key == RESTING_TOO for turns in each.values()))
    return Sentence("one_after_another", {"sentences": (*said, rest) if rest else tuple(said)})


def _rest(design: Design, found: FoundSetUp, told: bool) -> Sentence | None:
    """`told`: a grid's own turns say already who rests."""
    waiting = found.split.waiting
    if not waiting:
        return None
    if design.planned_waiting or design.waiting_kind == "queue":
        return Sentence("join_queue")
    if told or (rotates_as_teams(found.formats[0], waiting) and len(found.formats) == 1):
        return None
    return Sentence("rest_in_turn", {"waiting": waiting})


def _one_grid(design: Design, fmt: Format, waiting: int) -> Sentence | None:
    if not fmt.has_opponents:
        return None
    team = fmt.sides[0].outfield
    if rotates_as_teams(fmt, waiting):
        return _whole_teams(fmt, waiting, team)
    if fmt.is_even and fmt.sides[0].outside:
        return Sentence("inside_and_outside")
    if (
        fmt.neutrals
        and fmt.is_even
        and abs(fmt.neutrals - team) == 1
        and len(fmt.sides) == 2
        and fmt.neutrals > 1
    ):
        return _loaned(fmt, team)
    if fmt.neutrals and waiting and not design.planned_waiting:
        return Sentence(RESTING_TOO, {"neutrals": fmt.neutrals, "waiting": waiting})
    if fmt.neutrals:
        return Sentence("neutrals_in_turn", {"neutrals": fmt.neutrals})
    return _without_neutrals(design, fmt)


def _whole_teams(fmt: Format, waiting: int, team: int) -> Sentence | None:
    outside, resting = fmt.neutrals // team, waiting // team
    if not outside and not resting:
        return Sentence("inside_and_outside") if fmt.sides[0].outside else None
    teams = len(fmt.sides) + outside + resting
    shares = [Sentence("play", {"n": len(fmt.sides)})]
    shares += [Sentence("are_neutral", {"n": outside})] if outside else []
    shares += [Sentence("rest", {"n": resting})] if resting else []
    who = Sentence("teams_of", {"teams": teams, "players": team})
    if team == 1:
        who = Sentence("players", {"n": teams})
    return Sentence("whole_teams", {"who": who, "shares": tuple(shares)})


def _loaned(fmt: Format, team: int) -> Sentence:
    """Uneven threes: when the odd team comes in or goes out, one player is on loan so that both sides stay equal."""
    teams = tuple(sorted((team, team, fmt.neutrals), reverse=True))
    return Sentence(
        "loan_in" if fmt.neutrals < team else "loan_out", {"teams": teams, "neutrals": fmt.neutrals}
    )


def _without_neutrals(design: Design, fmt: Format) -> Sentence | None:
    if design.format.is_even and not fmt.is_even:
        return Sentence("side_up_changes")
    return None if fmt.is_even else Sentence("roles_change")

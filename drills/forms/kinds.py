"""What conditions can say, as the choices of selects, and which blanks each kind of condition has."""

from django.utils.translation import gettext_lazy as _

from drills.game.document.choices import LimitKind, ThenKind, WhenKind

WHO = [
    ("A", _("first side")),
    ("B", _("second side")),
    ("N", _("floaters")),
    ("C", _("third side")),
    ("D", _("fourth side")),
]
LIMITS = [
    (LimitKind.TOUCHES.value, _("at most so many touches")),
    (LimitKind.SECONDS_ON_BALL.value, _("at most so many seconds on the ball")),
    (LimitKind.SECONDS_TO_FINISH.value, _("so many seconds to finish")),
    (LimitKind.NO_PASS_TO_EACH_OTHER.value, _("may not pass to each other")),
    (LimitKind.MAY_NOT_TACKLE.value, _("may not tackle")),
    (LimitKind.MAY_TACKLE.value, _("only they may tackle")),
    (LimitKind.MAY_NOT_SCORE.value, _("may not score")),
    (LimitKind.MAY_SCORE.value, _("only they may score")),
    (LimitKind.WEAKER_FOOT.value, _("weaker foot")),
    (LimitKind.DIRECTION.value, _("play one way only (say which)")),
    (LimitKind.OFFSIDE.value, _("offside counts (say from where)")),
    (LimitKind.BALL_HEIGHT.value, _("height of the ball (say which)")),
    (LimitKind.WALKING.value, _("walking, nobody runs")),
    (LimitKind.STAY_IN.value, _("stay in a zone")),
    (LimitKind.MAY_NOT_ENTER.value, _("may not enter a zone")),
    (LimitKind.MAY_ENTER.value, _("only they may enter a zone")),
    (LimitKind.MOST_IN_ZONE.value, _("at most so many in a zone")),
    (LimitKind.FEWEST_IN_ZONE.value, _("at least so many in a zone")),
]
WHENS = [
    (WhenKind.PASSES.value, _("so many passes in a row")),
    (WhenKind.SWITCH.value, _("a switch of side")),
    (WhenKind.THIRD_PLAYER.value, _("a third player is found")),
    (WhenKind.EVERYONE_TOUCHED.value, _("everyone has touched it")),
    (WhenKind.REGAIN.value, _("the ball is won")),
    (WhenKind.GOAL.value, _("a goal")),
    (WhenKind.SHOT.value, _("a shot")),
    (WhenKind.BALL_OUT.value, _("the ball goes out")),
    (WhenKind.WALL_PASS.value, _("a wall pass")),
    (WhenKind.TAGGED.value, _("a tag")),
    (WhenKind.TIME.value, _("so many seconds")),
    (WhenKind.CALL.value, _("the coach's call")),
    (WhenKind.THROUGH_GATE.value, _("a pass through a gate")),
    (WhenKind.INTO_ZONE.value, _("the ball comes into a zone")),
]
THENS = [
    (ThenKind.GOALS_OPEN.value, _("goals open")),
    (ThenKind.PHASE.value, _("a phase starts")),
    (ThenKind.POINTS.value, _("so many points")),
    (ThenKind.POINTS_TIMES.value, _("the next goal counts so many times")),
    (ThenKind.SECONDS_TO_SCORE.value, _("so many seconds to score")),
    (ThenKind.NEW_BALL.value, _("a new ball")),
    (ThenKind.SWAP_ROLES.value, _("roles are swapped")),
    (ThenKind.PLAYER_ENTERS.value, _("players come in")),
    (ThenKind.PLAYER_LEAVES.value, _("players step out")),
    (ThenKind.REJOIN.value, _("they join in again")),
    (ThenKind.LIMIT_LIFTED.value, _("a limit no longer holds")),
    (ThenKind.ZONE_OPENS.value, _("a zone opens")),
    (ThenKind.ZONE_LOCKS.value, _("a zone is locked")),
]
WHICH_GOALS = [
    ("left", _("those on the left end")),
    ("right", _("those on the right end")),
    ("top", _("those on the top side")),
    ("bottom", _("those on the bottom side")),
]
WHICH_PHASE = [("#1", _("the first phase")), ("#2", _("the second phase")), ("#3", _("the third phase"))]
WHICH_ZONE = [("#1", _("the first zone")), ("#2", _("the second zone")), ("#3", _("the third zone"))]
WHICH_GATE = [("gate#1", _("the first gate")), ("gate#2", _("the second gate"))]

# Field → the kinds that it completes; the blanks of all other kinds are not asked for.
_ZONED = {
    LimitKind.STAY_IN, LimitKind.MAY_NOT_ENTER, LimitKind.MAY_ENTER, LimitKind.MOST_IN_ZONE, LimitKind.FEWEST_IN_ZONE
}  # fmt: skip
_COUNTED = {
    LimitKind.TOUCHES, LimitKind.SECONDS_ON_BALL, LimitKind.SECONDS_TO_FINISH, LimitKind.MOST_IN_ZONE,
    LimitKind.FEWEST_IN_ZONE,
}  # fmt: skip
LIMIT_BLANKS = {
    "number": _COUNTED,
    "word": {LimitKind.DIRECTION, LimitKind.OFFSIDE, LimitKind.BALL_HEIGHT},
    "zone": _ZONED,
    "group": set(LimitKind),
}
WHEN_BLANKS = {
    "when_number": {WhenKind.PASSES, WhenKind.TIME},
    "when_group": set(WhenKind) - {WhenKind.BALL_OUT, WhenKind.TIME, WhenKind.CALL},
    "when_place": {WhenKind.THROUGH_GATE, WhenKind.INTO_ZONE},
}
_PEOPLE = {ThenKind.PLAYER_ENTERS, ThenKind.PLAYER_LEAVES}
THEN_BLANKS = {
    "then_number": {ThenKind.POINTS, ThenKind.POINTS_TIMES, ThenKind.SECONDS_TO_SCORE, *_PEOPLE},
    "then_group": {ThenKind.POINTS, ThenKind.REJOIN, *_PEOPLE},
    "goals": {ThenKind.GOALS_OPEN},
    "phase": {ThenKind.PHASE},
    "then_zone": {ThenKind.ZONE_OPENS, ThenKind.ZONE_LOCKS},
    "then_limit": {ThenKind.LIMIT_LIFTED},
    "then_source": {ThenKind.NEW_BALL, ThenKind.PLAYER_ENTERS, ThenKind.REJOIN},
}

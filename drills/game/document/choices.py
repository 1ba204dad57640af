"""The closed lists of the drill document. Values are the trade's words; they are stored, so they never change."""

from enum import StrEnum


class Activity(StrEnum):
    """What kind of thing is being played or practised."""

    ARRIVAL = "arrival"
    WARM_UP = "warm-up"
    RONDO = "rondo"
    POSSESSION = "possession"
    DIRECTIONAL = "directional game"
    WAVES = "waves"
    FINISHING = "finishing"
    PATTERN = "pattern"
    TECHNIQUE = "technique"
    DUEL = "duel"
    SET_PIECE = "set piece"
    FUN_GAME = "fun game"
    MATCH = "match"
    KEEPER = "keeper"


class Moment(StrEnum):
    """The moment of the game that the theme belongs to."""

    IN_POSSESSION = "in possession"
    OUT_OF_POSSESSION = "out of possession"
    WINNING_IT = "winning it"
    LOSING_IT = "losing it"
    SET_PIECE = "set piece"


class Direction(StrEnum):
    NONE = "none"
    ONE_WAY = "one way"
    TWO_WAYS = "two ways"
    SEVERAL_GOALS = "several goals"


class Indoors(StrEnum):
    YES = "yes"
    WITH_CHANGES = "with changes"
    NO = "no"


class Heading(StrEnum):
    NONE = "none"
    LIKELY = "likely"
    PLANNED = "planned"


class NumbersKind(StrEnum):
    EXACT = "exact"
    RANGE = "range"
    ANYONE = "anyone"


class PlaysFor(StrEnum):
    """Whom a group plays for. In and out of possession are states, not sides."""

    A = "A"
    B = "B"
    C = "C"
    D = "D"
    BALL = "whoever has the ball"
    ITSELF = "itself"
    NOBODY = "nobody"


class GroupHome(StrEnum):
    INSIDE = "inside"
    TOUCHLINE = "touchline"
    END_LINE = "end line"
    EVERY_SIDE = "every side"
    ZONE = "zone"
    QUEUE = "queue"
    GOAL = "goal"


class Edge(StrEnum):
    """An edge of the grid as drawn: length runs left to right, width bottom to top."""

    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"
    FREE = "free"


class GoalSize(StrEnum):
    MINI = "mini"
    SMALL = "small"
    AGE_GROUP = "age group"
    FULL = "full"


class Rung(StrEnum):
    """Where a variation stands on the ladder."""

    EASIER = "easier"
    HARDER = "harder"
    SIDEWAYS = "sideways"


class ChangeClass(StrEnum):
    SPACE = "space"
    TASK = "task"
    EQUIPMENT = "equipment"
    PEOPLE = "people"


class QuestionMoment(StrEnum):
    BEFORE = "before the bout"
    BETWEEN = "between bouts"
    BALL_OUT = "when the ball is out"
    ON_THE_RUN = "on the run"
    ONE_TO_ONE = "one to one"
    FREEZE = "freeze"
    AFTER = "at the end"


class StopWay(StrEnum):
    """How play may be stopped to coach, the rarest last."""

    BETWEEN_BOUTS = "between bouts"
    BALL_OUT = "when the ball is out"
    ON_THE_RUN = "on the run"
    ONE_TO_ONE = "one to one"
    FREEZE = "freeze"


class RestartAfter(StrEnum):
    START = "start"
    SIDE_OUT = "side-out"
    END_OUT = "end-out"
    GOAL = "goal"
    SAVE = "save"
    BALL_WON = "ball won"
    ANY_STOP = "any stop"


class RestartHow(StrEnum):
    PASS_IN = "pass in"
    DRIBBLE_IN = "dribble in"
    THROW_IN = "throw in"
    COACH_SERVES = "coach serves"
    KEEPER_STARTS = "keeper starts"
    NEXT_BALL = "next ball from the supply"
    PLAY_ON = "play on"
    NEXT_GROUP = "next group starts"
    SWAP_ROLES = "swap roles"


class EndsKind(StrEnum):
    TIME = "time"
    FIRST_TO = "first to"
    REPETITIONS = "repetitions"


class LimitKind(StrEnum):
    TOUCHES = "touches"
    SECONDS_ON_BALL = "seconds on the ball"
    MOST_IN_ZONE = "most in a zone"
    FEWEST_IN_ZONE = "fewest in a zone"
    STAY_IN = "stay in"
    MAY_NOT_ENTER = "may not enter"
    MAY_ENTER = "may enter"
    MAY_NOT_TACKLE = "may not tackle"
    MAY_TACKLE = "may tackle"
    MAY_NOT_SCORE = "may not score"
    MAY_SCORE = "may score"
    NO_PASS_TO_EACH_OTHER = "may not pass to each other"
    WEAKER_FOOT = "weaker foot"
    DIRECTION = "direction"
    OFFSIDE = "offside"
    BALL_HEIGHT = "height of the ball"
    WALKING = "walking"
    SECONDS_TO_FINISH = "seconds to finish"


class WhenKind(StrEnum):
    PASSES = "passes"
    SWITCH = "switch of side"
    THROUGH_GATE = "through a gate"
    INTO_ZONE = "into a zone"
    EVERYONE_TOUCHED = "everyone has touched it"
    THIRD_PLAYER = "third player"
    REGAIN = "regain"
    GOAL = "goal"
    BALL_OUT = "ball out"
    TIME = "time"
    CALL = "call"
    TAGGED = "tagged"
    WALL_PASS = "wall pass"
    SHOT = "shot"


class ThenKind(StrEnum):
    GOALS_OPEN = "goals open"
    PHASE = "phase"
    PLAYER_ENTERS = "player enters"
    PLAYER_LEAVES = "player leaves"
    ZONE_OPENS = "zone opens"
    ZONE_LOCKS = "zone locks"
    POINTS = "points"
    POINTS_TIMES = "points times"
    LIMIT_LIFTED = "limit lifted"
    NEW_BALL = "new ball"
    SWAP_ROLES = "roles swap"
    SECONDS_TO_SCORE = "seconds to score"
    REJOIN = "rejoin"

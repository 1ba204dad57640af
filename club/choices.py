"""The club's closed lists."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class Role(models.TextChoices):
    """What somebody may do in the club. A coach and a helper belong to named age groups."""

    DIRECTOR = "director", _("Director")
    COACH = "coach", _("Coach")
    HELPER = "helper", _("Helper")
    READER = "reader", _("Reader")


ROLES_OF_AN_AGE_GROUP = (Role.COACH, Role.HELPER)


class Units(models.TextChoices):
    METRES = "m", _("Metres")
    YARDS = "yd", _("Yards")


class HeatGuideline(models.TextChoices):
    """Whose bands a heat estimate is held against; the names are those of `sessions.planning.weather.BANDS`."""

    FIFPRO = "fifpro", _("FIFPRO: breaks from 28 °C WBGT, above 32 °C another time")
    US_SOCCER_3 = "us_soccer_3", _("US Soccer category 3, for hot regions: five bands")


class Surface(models.TextChoices):
    GRASS = "grass", _("Grass")
    ARTIFICIAL = "artificial", _("Artificial grass")
    HALL = "hall", _("Hall floor")
    HARD = "hard", _("Hard court")


class AtEdge(models.TextChoices):
    """What stands at an edge of a zone: `Stands` of a piece of ground. A ball stops at a fence, and a child can run into it."""

    OPEN = "open", _("open ground")
    FENCE = "fence", _("a fence, wall or hedge")
    GROUP = "group", _("another group")


class FixedGoalKind(models.TextChoices):
    """How large a goal is that can't be moved: the sizes of goals in a drill document."""

    MINI = "mini", _("mini goal")
    SMALL = "small", _("small goal")
    AGE_GROUP = "age group", _("age group's goal")
    FULL = "full", _("full-size goal")


# The edges of a zone seen along its length: left and right are its ends, bottom and top its sides. Length runs from
# left to right, width from bottom to top.
EDGES = ("left", "right", "bottom", "top")


class MomentOfGame(models.TextChoices):
    """The same words as in a drill document."""

    IN_POSSESSION = "in possession", _("In possession")
    OUT_OF_POSSESSION = "out of possession", _("Out of possession")
    WINNING_IT = "winning it", _("Winning it")
    LOSING_IT = "losing it", _("Losing it")
    SET_PIECE = "set piece", _("Set piece")


class Rule(models.TextChoices):
    """What a guideline row speaks of. Values are plain numbers; their unit follows from the rule."""

    HEADING_SESSIONS_WEEK = "heading sessions a week", _("Sessions with heading, a week")
    HEADING_SESSIONS_MONTH = "heading sessions a month", _("Sessions with heading, a month")
    HEADERS_PER_SESSION = "headers per session", _("Headers per player, a session")
    HEADERS_WEEK = "headers a week", _("Headers per player, a week")
    HEADING_MINUTES_WEEK = "heading minutes a week", _("Minutes of heading, a week")
    PLAYING_MINUTES_DAY = "playing minutes a day", _("Match minutes per player, a day")
    PLAYING_MINUTES_HALF = "playing minutes a half", _("Minutes of a half")
    PLAYING_MINUTES_TOURNAMENT = "playing minutes a tournament day", _("Match minutes, a tournament day")
    ORGANISED_HOURS_WEEK = "organised hours a week", _("Organised hours, a week")
    REST_DAYS_WEEK = "rest days a week", _("Rest days, a week")
    CHILDREN_PER_ADULT = "children per adult", _("Children per adult")
    LEAST_ADULTS = "least adults", _("Adults, at least")
    BALL_SIZE = "ball size", _("Ball size")
    PLAYERS_A_SIDE = "players a side", _("Players a side in matches")
    MATCH_LENGTH_M = "match pitch length", _("Match pitch, length in metres")
    MATCH_WIDTH_M = "match pitch width", _("Match pitch, width in metres")
    MATCH_LENGTH_MOST_M = "match pitch most length", _("Match pitch, length at most, in metres")
    MATCH_WIDTH_MOST_M = "match pitch most width", _("Match pitch, width at most, in metres")


# These belong to a match format, so their rows say for how many a side.
OF_A_PITCH = (
    Rule.MATCH_LENGTH_M,
    Rule.MATCH_WIDTH_M,
    Rule.MATCH_LENGTH_MOST_M,
    Rule.MATCH_WIDTH_MOST_M,
)
# Of the year groups in an age group the oldest decides; of every other rule the strictest row holds.
OF_THE_OLDEST = (Rule.BALL_SIZE, Rule.PLAYERS_A_SIDE, *OF_A_PITCH)
# These look after children: a group of adults is not asked.
OF_CHILDREN = (Rule.CHILDREN_PER_ADULT, Rule.LEAST_ADULTS)
# The least and the most that a figure of each rule may say: below and above it is a slip, or no limit at all. Wide on
# purpose, no source: an association may say anything in between. 0 headers or sessions forbid heading; 0 children for an adult says nothing.
BOUNDS: dict[str, tuple[int, int]] = {
    Rule.HEADING_SESSIONS_WEEK: (0, 7),
    Rule.HEADING_SESSIONS_MONTH: (0, 31),
    Rule.HEADERS_PER_SESSION: (0, 100),
    Rule.HEADERS_WEEK: (0, 500),
    Rule.HEADING_MINUTES_WEEK: (0, 600),
    Rule.PLAYING_MINUTES_DAY: (5, 300),
    Rule.PLAYING_MINUTES_HALF: (5, 60),
    Rule.PLAYING_MINUTES_TOURNAMENT: (5, 300),
    Rule.ORGANISED_HOURS_WEEK: (1, 60),
    Rule.REST_DAYS_WEEK: (0, 7),
    Rule.CHILDREN_PER_ADULT: (1, 30),
    Rule.LEAST_ADULTS: (1, 10),
    Rule.BALL_SIZE: (1, 5),
    Rule.PLAYERS_A_SIDE: (3, 11),
    Rule.MATCH_LENGTH_M: (5, 130),
    Rule.MATCH_WIDTH_M: (5, 100),
    Rule.MATCH_LENGTH_MOST_M: (5, 130),
    Rule.MATCH_WIDTH_MOST_M: (5, 100),
}
# Of these a fraction says something; the others are counted.
MEASURED = (Rule.ORGANISED_HOURS_WEEK, *OF_A_PITCH)
# Stricter is more; of the others it is less.
AT_LEAST = (Rule.REST_DAYS_WEEK, Rule.LEAST_ADULTS)


# The names of colours that drawings know.
BIB_COLOURS = (
    ("red", _("red")),
    ("orange", _("orange")),
    ("yellow", _("yellow")),
    ("green", _("green")),
    ("light blue", _("light blue")),
    ("blue", _("blue")),
    ("purple", _("purple")),
    ("pink", _("pink")),
    ("white", _("white")),
    ("grey", _("grey")),
    ("black", _("black")),
)


def bib_word(bib: str) -> str:
    """A bib in the reader's language: a colour, or the second team in one (`red 2`); as it stands where it is no colour."""
    words = dict(BIB_COLOURS)
    colour, space, number = (bib, "", "") if bib in words else bib.rpartition(" ")
    return f"{words[colour]}{space}{number}" if colour in words else bib


# For so long the club can see who has read players' names.
READS_KEPT_DAYS = 180


class NamesOn(models.TextChoices):
    """Where players' names stand, as the note of who read them says it."""

    SQUAD = "squad", _("The team's list")
    PLAYER = "player", _("A player's page")
    PITCH = "pitch", _("At the pitch")
    GUESTS = "guests", _("Players of other teams, at the pitch")
    TURNS = "turns", _("Who plays when")
    SESSION = "session", _("A session that is done")
    API = "api players", _("The list, read by a program")
    ATTENDANCE = "attendance", _("Who came, over the weeks")
    ATTENDANCE_API = "api attendance", _("Who came, read by a program")
    ATTENDANCE_FILE = "attendance file", _("Who came, as a file")


class LinkKind(models.TextChoices):
    """What a one-time link lets its holder do."""

    SIGN_IN = "sign in", _("Sign in")
    INVITATION = "invitation", _("Invitation")
    SET_UP = "set up", _("First administrator")

"""What the words mean: each term of the trade and of ours that pages use, with an anchor that pages link to.

Figures come from where they are computed with; a published one names its source, another says that it has none.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.text import format_lazy
from django.utils.translation import gettext_lazy as _

from drills.game import margins

Words = str | Promise
FOSTER = "Foster et al. 2001, J Strength Cond Res 15(1):109–115"
PRACTICE = _("Common practice, no source.")


@dataclass(frozen=True)
class Meaning:
    """A term, what it means in a sentence or two, and where a figure in it comes from. `key` is its anchor."""

    key: str
    term: Words
    means: Words
    source: Words = ""


@dataclass(frozen=True)
class Chapter:
    title: Words
    meanings: tuple[Meaning, ...]


NUMBERS = (
    Meaning(
        "format",
        _("Format"),
        _(
            "The numbers of a game as coaches write them. 5v5+2 is five against five with two floaters outside;"
            " +2in puts them inside. GK+6v6+GK has a keeper on each side, 4(+2)v4(+2) two outside players for each side."
        ),
    ),
    Meaning("numbers", _("Numbers"), _("How many players came, or are expected.")),
    Meaning(
        "side", _("Side"), _("Players in one colour of bibs. In and out of possession change; sides do not.")
    ),
    Meaning("floater", _("Floater"), _("Plays for whichever side has the ball.")),
    Meaning("bounce-player", _("Bounce player"), _("Outside the grid: takes a pass and plays it back in.")),
    Meaning(
        "target", _("Target"), _("Somebody to be found with a pass, mostly at the end that is attacked.")
    ),
    Meaning(
        "set-up",
        _("Set up for your numbers"),
        _(
            "The drill for the players who came and the space you have: sides, floaters, grid, and who is off."
            " It says what it changes; nothing is saved until you use it."
        ),
    ),
    Meaning(
        "off",
        _("Off, waiting"),
        _(
            "Off: out of play for a round by plan, in turns. Waiting: out of play without a plan,"
            " because there is no place for one more."
        ),
    ),
    Meaning(
        "share-in-play",
        _("Share in play"),
        _("A player's minutes in play, inside or outside the grid, out of the minutes that they were there."),
    ),
)
SPACE = (
    Meaning(
        "space",
        _("Space"),
        _("What a team books: a pitch, a half, a third, a hall. “Your space” is tonight's."),
    ),
    Meaning("grid", _("Grid"), _("The marked rectangle that is played in, length × width.")),
    Meaning("zone", _("Zone"), _("A part of the grid that the drill names, such as an end zone.")),
    Meaning(
        "area-per-player",
        _("Area per player"),
        _(
            "The grid's area shared out among its players, in m² each. It always says which players are counted."
        ),
    ),
    Meaning(
        "run-off",
        _("Run-off"),
        format_lazy(
            _(
                "Free room from a grid to a fence, a wall or a fixed goal: {wished} m is wished for, {least} m the least."
            ),
            wished=margins.RUN_OFF_WISHED_M,
            least=margins.RUN_OFF_LEAST_M,
        ),
        PRACTICE,
    ),
    Meaning(
        "open-lane",
        _("Open lane"),
        _(
            "A straight pass that no defender on the plan cuts: by running to it, by lunging or by standing in its way."
            " Any other pass is closed."
        ),
    ),
    Meaning(
        "margin",
        _("Margin"),
        _(
            "By how many seconds an open pass is ahead of the nearest defender, at running speeds for the age."
        ),
    ),
)
DRILL = (
    Meaning("drill", _("Drill"), _("One exercise or game in the library.")),
    Meaning(
        "condition",
        _("Condition"),
        _(
            "A rule that shapes the play: touches, passes before a goal counts, which goals are open, who may enter a zone."
        ),
    ),
    Meaning("phase", _("Phase"), _("What the game becomes when a condition opens it, with its own numbers.")),
    Meaning("restart", _("Restart"), _("How play goes on after a goal, or after the ball went out.")),
    Meaning(
        "variation",
        _("Variation: easier and harder"),
        _(
            "A named set of changes to a drill: of its space, task, equipment or people. Easier below, harder above."
        ),
    ),
    Meaning(
        "coaching-question",
        _("Coaching question"),
        _("What to ask, whom, and when, with what you hope to hear."),
    ),
    Meaning(
        "freeze",
        _("Freeze"),
        _(
            "Play stops where everybody stands, to ask or to show. Short, and the rarest way to coach:"
            " between rounds, when the ball is out, on the run and one to one come first."
        ),
        PRACTICE,
    ),
)
SESSION = (
    Meaning(
        "slot",
        _("Slot"),
        _("A weekly time and space that a team has. A session fills it; until then it is empty."),
    ),
    Meaning("session", _("Session"), _("One training of a team on one day: parts in order.")),
    Meaning(
        "part", _("Part"), _("So many minutes of a session, with one station, or several at the same time.")
    ),
    Meaning(
        "station", _("Station"), _("One drill in one variation, in one space, with one group and one adult.")
    ),
    Meaning("round", _("Round"), _("A spell of play inside a part, with a rest before the next one.")),
    Meaning("changeover", _("Changeover"), _("The time before a part: to clear, to set up and to drink.")),
    Meaning(
        "plan-and-section",
        _("Plan and section"),
        _(
            "A session on the tape of its minutes. Above it the plans of its parts, each as wide as its minutes;"
            " below it each part as deep as its effort, so that its area is its load. The dashed level is the budget."
        ),
    ),
    Meaning(
        "session-template",
        _("Session template"),
        _("What comes after what, and how long, without the drills: new sessions can begin with it."),
    ),
)
LOAD = (
    Meaning(
        "effort",
        _("Effort, CR10"),
        _(
            "How hard it was, from 0, rest, to 10, as hard as can be: 2 easy, 3 moderate, 4 somewhat hard, 5 hard,"
            " 7 very hard."
        ),
        FOSTER,
    ),
    Meaning(
        "load",
        _("Load, AU"),
        _("Effort × minutes, in arbitrary units (AU). Up to U10 the minutes and the days count instead."),
        FOSTER,
    ),
    Meaning(
        "expected-load",
        _("Expected load"),
        _("The planned load, corrected by how this team's last sessions were rated against their plans."),
    ),
    Meaning(
        "budget",
        _("Budget"),
        _(
            "What an age group plans at most in a session and in a week: load or minutes, and headers."
            " The club sets it."
        ),
    ),
    Meaning(
        "headers",
        _("Headers"),
        _("How often one player heads the ball in a part, a session or a week, as planned."),
    ),
)
PEOPLE = (
    Meaning(
        "under-n",
        _("Under 12, U12"),
        _(
            "Children who are under 12 at midnight on your association's reference date: 11 that day, 12 in the season."
            " A group may hold more than one year."
        ),
    ),
    Meaning(
        "register",
        _("Register"),
        _("Who is here, late, off early, watching or not here, taken at the pitch."),
    ),
    Meaning("guest", _("Guest"), _("A player of another team who joins in for one session.")),
    Meaning("trialist", _("Trialist"), _("Somebody who comes to try: counted by a number, without a name.")),
    Meaning(
        "out-until-lifted",
        _("Out until lifted"),
        _("Takes part nowhere until a coach of theirs lifts it. No reason is asked. Watching is fine."),
    ),
)
CHAPTERS = (
    Chapter(_("Numbers"), NUMBERS),
    Chapter(_("Space"), SPACE),
    Chapter(_("A drill"), DRILL),
    Chapter(_("A session"), SESSION),
    Chapter(_("Effort and load"), LOAD),
    Chapter(_("People"), PEOPLE),
)


def meanings() -> Iterator[Meaning]:
    """Every term, in the page's order."""
    for chapter in CHAPTERS:
        yield from chapter.meanings

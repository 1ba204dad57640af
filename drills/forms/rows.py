"""The repeated rows of a drill: grids, groups, goals, restarts, phases, points, faults, questions, kit."""

from django import forms
from django.utils.translation import gettext_lazy as _

from club.choices import BIB_COLOURS
from drills.forms.base import Offered, Plain, RowForm, choice, number, text
from drills.game.document.choices import Edge, GoalSize, GroupHome, PlaysFor, RestartAfter, RestartHow
from drills.game.validate import LONGEST_GRID_M, SMALLEST_GRID_M, WIDEST_GRID_M
from drills.pages import words

SIDES = [
    (PlaysFor.A.value, _("first side")),
    (PlaysFor.B.value, _("second side")),
    (PlaysFor.BALL.value, _("whoever has the ball")),
    (PlaysFor.C.value, _("third side")),
    (PlaysFor.D.value, _("fourth side")),
    (PlaysFor.ITSELF.value, _("each for themselves")),
    (PlaysFor.NOBODY.value, _("nobody (serves, helps)")),
]
EDGES = [
    (Edge.LEFT.value, _("left end")),
    (Edge.RIGHT.value, _("right end")),
    (Edge.TOP.value, _("top side")),
    (Edge.BOTTOM.value, _("bottom side")),
    (Edge.FREE.value, _("inside the grid")),
]
AFTER = [
    (RestartAfter.SIDE_OUT.value, _("out at the side")),
    (RestartAfter.END_OUT.value, _("out at the end")),
    (RestartAfter.GOAL.value, _("after a goal")),
    (RestartAfter.SAVE.value, _("after a save")),
    (RestartAfter.BALL_WON.value, _("when the ball is won")),
    (RestartAfter.ANY_STOP.value, _("after any stop")),
    (RestartAfter.START.value, _("to start")),
]
HOW = [
    (RestartHow.PASS_IN.value, _("pass it in")),
    (RestartHow.DRIBBLE_IN.value, _("dribble it in")),
    (RestartHow.THROW_IN.value, _("throw it in")),
    (RestartHow.COACH_SERVES.value, _("the coach serves")),
    (RestartHow.KEEPER_STARTS.value, _("the keeper starts")),
    (RestartHow.NEXT_BALL.value, _("next ball from the supply")),
    (RestartHow.PLAY_ON.value, _("play on")),
    (RestartHow.NEXT_GROUP.value, _("the next group starts")),
    (RestartHow.SWAP_ROLES.value, _("roles are swapped")),
]
MOMENTS = [(moment.value, label) for moment, label in words.MOMENTS_OF_QUESTIONS.items()]


class GridRowForm(RowForm):
    field = "grids"
    needed = ("length_m", "width_m", "purpose")
    length_m = number(_("Length, m"), SMALLEST_GRID_M, LONGEST_GRID_M, whole=False)
    width_m = number(_("Width, m"), SMALLEST_GRID_M, WIDEST_GRID_M, whole=False)
    purpose = text(_("What this size is for"))


class GroupRowForm(RowForm):
    field = "groups"
    needed = ("name", "least")
    name = text(_("Name, as you call them"), help_text=_("reds, the yellows outside, taggers"))
    bib = choice(_("Bib"), BIB_COLOURS, empty=_("none"))
    least = number(_("How many"), 0, 60)
    most = number(_("at most"), 0, 60)
    plays_for = choice(_("Plays for"), SIDES)
    place = choice(_("Where"), [(place.value, label) for place, label in words.PLACES.items()])
    role = text(_("Role"))

    def offer(self, offered: Offered) -> None:
        self.add_choices("bib", offered.bibs)

    def fill(self, item: Plain) -> Plain:
        made = super().fill(item)
        made.setdefault("plays_for", PlaysFor.A.value)
        made.setdefault("place", GroupHome.INSIDE.value)
        return made


class GoalRow(RowForm):
    field = "goals"
    needed = ("edge",)
    edge = choice(_("On which edge"), EDGES, empty=_("no goal"))
    along = number(_("Along it, %"), 0, 100, whole=False, help_text=_("50 is the middle"))
    size = choice(_("Size"), [(size.value, label) for size, label in words.GOAL_SIZES.items()])
    keeper = forms.BooleanField(label=_("with a keeper"), required=False)
    shut = forms.BooleanField(label=_("closed to start"), required=False)

    @classmethod
    def read(cls, item: Plain) -> Plain:
        shown = super().read(item)
        shown["along"] = f"{100 * item.get('along', 0.5):g}"
        shown["shut"] = not item.get("open_at_start", True)
        return shown

    def fill(self, item: Plain) -> Plain:
        made = super().fill(item)
        along = self.cleaned_data.get("along")
        made["along"] = 0.5 if along is None else along / 100
        made["open_at_start"] = not made.pop("shut", False)
        made.setdefault("size", GoalSize.MINI.value)
        return made


class RestartRow(RowForm):
    field = "restarts"
    needed = ("after", "who", "how")
    after = choice(_("After"), AFTER, empty=_("choose"))
    who = text(_("Who"), help_text=_("the other side, the yellows, the coach"))
    how = choice(_("How"), HOW, empty=_("choose"))


class ScoringRow(RowForm):
    field = "scoring"
    needed = ("what",)
    what = text(_("What counts"))
    points = number(_("Points"), 0, 20)


class PhaseRow(RowForm):
    field = "phases"
    needed = ("name", "format")
    name = text(_("Name"), help_text=_("the counter, the finish"))
    format = text(_("Format"), 60, help_text=_("4v2, 3v3+1"))
    starts = text(_("How it starts"))
    ends = text(_("How it ends"))
    within_s = number(_("At most, s"), 1, 300)
    then = text(_("What follows"))


class PointRow(RowForm):
    field = "points"
    needed = ("role", "looks_like")
    role = text(_("Who"))
    looks_like = text(_("What it looks like when it is right"), 300, long=True)
    moment = choice(_("When"), MOMENTS, empty=_("any time"))


class FaultRow(RowForm):
    field = "faults"
    needed = ("fault", "fix")
    fault = text(_("What goes wrong"), 300)
    fix = text(_("What to do"), 300)


class QuestionRow(RowForm):
    field = "questions"
    needed = ("role", "moment", "ask", "listen_for")
    role = text(_("Of whom"))
    moment = choice(_("When"), MOMENTS, empty=_("choose"))
    ask = text(_("Ask"), 300, long=True)
    listen_for = text(_("Listen for"), 300, long=True)


class KitRow(RowForm):
    field = "kit"
    needed = ("kind", "count")
    kind = text(_("What"), help_text=_("marker cones, poles"))
    count = number(_("How many"), 1, 200)


class ChallengeRow(RowForm):
    field = "challenges"
    needed = ("text",)
    text = text(_("For one player"), 300)
    easier = forms.BooleanField(label=_("makes it easier"), required=False)

    @classmethod
    def read(cls, item: Plain) -> Plain:
        return {"text": item.get("text", ""), "easier": not item.get("harder", True)}

    def fill(self, item: Plain) -> Plain:
        return {**item, "text": self.cleaned_data["text"], "harder": not self.cleaned_data.get("easier")}

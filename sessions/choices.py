"""Training's closed lists."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class State(models.TextChoices):
    """Where a session stands. Coverage and load count delivered minutes only."""

    PLANNED = "planned", _("Planned")
    DELIVERED = "delivered", _("Done")
    SHORTENED = "shortened", _("Shortened")
    MOVED = "moved", _("Moved")
    CANCELLED = "cancelled", _("Cancelled")


TOOK_PLACE = (State.DELIVERED, State.SHORTENED)
STILL_TO_COME = (State.PLANNED, State.MOVED)  # moved: still to come, at another time than its slot says


class WhyCancelled(models.TextChoices):
    WEATHER = "weather", _("Weather")
    PITCH = "pitch", _("Pitch")
    STAFF = "staff", _("Staff")
    TOO_FEW = "too few", _("Too few players")
    REST = "rest", _("Rest in a heavy week")


class Kind(models.TextChoices):
    TRAINING = "training", _("Training")
    MATCH = "match", _("Match")
    TOURNAMENT = "tournament", _("Tournament")
    ELSEWHERE = "elsewhere", _("Training elsewhere")


class Reach(models.TextChoices):
    """Whose days stand in a calendar."""

    PERSON = "person", _("Your own sessions")
    TEAM = "team", _("A team")
    PITCH = "pitch", _("A pitch")
    CLUB = "club", _("The whole club")


class PartKind(models.TextChoices):
    """The place of a part in a session's order."""

    ARRIVAL = "arrival", _("Arrival")
    WARM_UP = "warm-up", _("Warm-up")
    PRACTICE = "practice", _("Practice")
    GAME = "game", _("Game")
    COOL_DOWN = "cool-down", _("Cool-down")


KIND_OF_ACTIVITY = {
    "arrival": PartKind.ARRIVAL,
    "warm-up": PartKind.WARM_UP,
    "match": PartKind.GAME,
    "directional game": PartKind.GAME,
    "fun game": PartKind.GAME,
}


def kind_of_activity(activity: str) -> PartKind:
    """The kind of a part that plays a drill of this activity, where nobody says otherwise."""
    return KIND_OF_ACTIVITY.get(activity, PartKind.PRACTICE)


class HowMuch(models.TextChoices):
    """How much a wish counts when a session is put together: words, since nobody has a feeling for points."""

    NONE = "none", _("not at all")
    LITTLE = "little", _("a little")
    USUAL = "usual", _("as usual")
    LOT = "lot", _("a lot")


class Attendance(models.TextChoices):
    HERE = "here", _("Here")
    LATE = "late", _("Late")
    LEFT = "left", _("Left early")
    WATCHING = "watching", _("Watching")
    ABSENT = "absent", _("Not here")


class StaffPart(models.TextChoices):
    LEADS = "leads", _("Leads")
    HELPS = "helps", _("Helps")


class Weekday(models.IntegerChoices):
    """ISO weekdays."""

    MONDAY = 1, _("Monday")
    TUESDAY = 2, _("Tuesday")
    WEDNESDAY = 3, _("Wednesday")
    THURSDAY = 4, _("Thursday")
    FRIDAY = 5, _("Friday")
    SATURDAY = 6, _("Saturday")
    SUNDAY = 7, _("Sunday")


class ComputationState(models.TextChoices):
    """How far a long computation is. Waiting and working are open; the others are final."""

    WAITING = "waiting", _("Waiting for its turn")
    WORKING = "working", _("Being worked out")
    DONE = "done", _("Done")
    CANCELLED = "cancelled", _("Stopped")
    FAILED = "failed", _("Given up")


WORKING = (ComputationState.WAITING, ComputationState.WORKING)

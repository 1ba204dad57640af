"""The library's closed lists, with the words that people read. Those of the document itself live in drills.game."""

from collections.abc import Mapping
from datetime import timedelta

from django.db import models
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from club.choices import BIB_COLOURS, bib_word
from drills.game.bibs.tonight import OF_BIBS
from drills.game.document.choices import Activity, Moment


class DrillState(models.TextChoices):
    """How far a drill has come. A draft is its owner's (and the director's); the others belong to the whole staff."""

    DRAFT = "draft", _("draft")
    FOR_REVIEW = "for review", _("for review")
    CLUB_STANDARD = "club standard", _("club standard")


class SketchState(models.TextChoices):
    """A photo beside a drill is for its reader once the director has looked at it."""

    WAITING = "waiting", _("waiting for approval")
    APPROVED = "approved", _("approved")


MOST_SKETCHES = 3  # beside one drill
LONGEST_CAPTION = 120
LOOKED_AT_WITHIN = timedelta(days=2)  # a drill that was sent for review: a promise of the club to its coaches
READ_BY_STAFF = (DrillState.FOR_REVIEW, DrillState.CLUB_STANDARD)
EDITED_BY_OWNER = (DrillState.DRAFT, DrillState.FOR_REVIEW)

ACTIVITIES = [
    (Activity.ARRIVAL.value, _("Arrival")),
    (Activity.WARM_UP.value, _("Warm-up")),
    (Activity.RONDO.value, _("Rondo")),
    (Activity.POSSESSION.value, _("Possession")),
    (Activity.DIRECTIONAL.value, _("Directional game")),
    (Activity.WAVES.value, _("Waves")),
    (Activity.FINISHING.value, _("Finishing")),
    (Activity.PATTERN.value, _("Pattern")),
    (Activity.TECHNIQUE.value, _("Technique")),
    (Activity.DUEL.value, _("1v1")),
    (Activity.SET_PIECE.value, _("Set piece")),
    (Activity.FUN_GAME.value, _("Fun game")),
    (Activity.MATCH.value, _("Match")),
    (Activity.KEEPER.value, _("Keeper")),
]
MOMENTS = [
    (Moment.IN_POSSESSION.value, _("In possession")),
    (Moment.OUT_OF_POSSESSION.value, _("Out of possession")),
    (Moment.WINNING_IT.value, _("Winning it")),
    (Moment.LOSING_IT.value, _("Losing it")),
    (Moment.SET_PIECE.value, _("Set piece")),
]
# Kinds that the app itself counts; the club's own are in its own words.
MANY_OF = {
    "balls": _("balls"),
    "bibs": _("bibs"),
    "marker cones": _("marker cones"),
    "mini goals": _("mini goals"),
    "moveable goals": _("moveable goals"),
}
ONE_OF = {
    "balls": _("ball"),
    "bibs": _("bib"),
    "marker cones": _("marker cone"),
    "mini goals": _("mini goal"),
    "moveable goals": _("moveable goal"),
}


def theme_word(key: str, titles: Mapping[str, str] | None = None) -> str:
    """A theme by the club's title for it; where it has none (a drill from elsewhere), its key as words."""
    return (titles or {}).get(key, key.replace("-", " "))


def kit_word(kind: str, count: int) -> str:
    """The club's word for a kind of kit, which is kept in the plural; its singular where there is one of it."""
    colour = kind.removesuffix(OF_BIBS)
    if colour in dict(BIB_COLOURS) and colour != kind:
        words = gettext("{colour} bib") if count == 1 else gettext("{colour} bibs")
        return words.format(colour=bib_word(colour))
    if count != 1:
        return str(MANY_OF.get(kind, kind))
    if kind in ONE_OF:
        return str(ONE_OF[kind])
    return kind[:-1] if kind.endswith("s") and not kind.endswith("ss") else kind


def plural_of(word: str) -> str:
    """The club's word for a kind of kit, also where somebody wrote one of it: “Mini goal” is “mini goals”."""
    lower = " ".join(word.casefold().split())
    for kind, one in ONE_OF.items():
        if lower in (kind, str(one)):
            return kind
    return lower


class VideoState(models.TextChoices):
    """How far a video of a moving plan is. Waiting and working are open; from the others it can be asked for again."""

    WAITING = "waiting", _("Waiting for its turn")
    WORKING = "working", _("Being made")
    DONE = "done", _("Done")
    CANCELLED = "cancelled", _("Stopped")
    FAILED = "failed", _("Could not be made")


VIDEO_OPEN = (VideoState.WAITING, VideoState.WORKING)

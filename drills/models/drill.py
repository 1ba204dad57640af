"""The library's rows. What a drill says is a document in an immutable revision; the other columns find it again.

Everything under "derived" is a projection of the current revision: `manage.py rederive` throws it away and rebuilds it."""

import pghistory
import pgtrigger
from django.contrib.postgres.fields import ArrayField
from django.contrib.postgres.indexes import GinIndex, OpClass
from django.contrib.postgres.search import SearchVectorField
from django.db import models
from django.db.models import F, Func, GeneratedField, Q
from django.utils.translation import gettext_lazy as _

from club.actor import Actor
from club.models.base import Editable
from drills.choices import EDITED_BY_OWNER, READ_BY_STAFF, DrillState
from drills.models.rooms import Footprint


def _weighted(field: str, weight: str) -> Func:
    template = f"setweight(to_tsvector('english', plain_words(%(expressions)s)), '{weight}')"
    return Func(F(field), template=template, output_field=SearchVectorField())


class DrillQuerySet(models.QuerySet["Drill"]):
    """The library in the trade's words."""

    def kept(self) -> "DrillQuerySet":
        """Without what has been retired."""
        return self.filter(retired_at__isnull=True)

    def visible_to(self, actor: Actor) -> "DrillQuerySet":
        """Drafts belong to their owner and the director; the staff reads the rest."""
        if actor.is_director:
            return self
        if not (actor.is_staff or actor.is_administrator):
            return self.none()
        return self.filter(Q(state__in=READ_BY_STAFF) | Q(owner_id=actor.user_id))


@pghistory.track(
    model_name="DrillEvent",
    fields=[
        "state",
        "state_note",
        "owner",
        "current_revision",
        "adapted_from_revision",
        "retired_at",
        "title",
        "version",
    ],
)
class Drill(Editable):
    """One drill of the library: who it is from, how far it has come, which revision is read now."""

    state = models.CharField(_("state"), max_length=16, choices=DrillState, default=DrillState.DRAFT)
    state_note = models.CharField(max_length=200, blank=True)  # the director's word with the last step
    # When it was sent for review; nothing in any other state. Somebody looks at it within `LOOKED_AT_WITHIN`.
    sent_at = models.DateTimeField(null=True, blank=True)
    owner = models.ForeignKey("club.User", on_delete=models.SET_NULL, null=True, related_name="drills")
    current_revision = models.ForeignKey(
        "drills.DrillRevision", on_delete=models.PROTECT, null=True, related_name="+"
    )
    adapted_from_revision = models.ForeignKey(
        "drills.DrillRevision", on_delete=models.PROTECT, null=True, blank=True, related_name="adaptations"
    )
    retired_at = models.DateTimeField(null=True, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)
    changed_at = models.DateTimeField(auto_now=True)

    # --- derived from the current revision ---
    title = models.CharField(_("title"), max_length=80)
    title_sort = models.CharField(max_length=120, db_collation="C")
    search_text = models.TextField(blank=True)
    words = GeneratedField(
        expression=Func(
            _weighted("title", "A"),
            _weighted("search_text", "B"),
            template="%(expressions)s",
            arg_joiner=" || ",
            output_field=SearchVectorField(),
        ),
        output_field=SearchVectorField(),
        db_persist=True,
    )
    # Beside `words`, so that ordering many matches by their titles does not unpack all that they say.
    title_words = GeneratedField(
        expression=_weighted("title", "A"), output_field=SearchVectorField(), db_persist=True
    )
    purpose = models.CharField(max_length=300, blank=True)
    activity = models.CharField(max_length=20)
    moment = models.CharField(max_length=20)
    theme_keys = ArrayField(models.CharField(max_length=40), default=list, blank=True)
    under_from = models.PositiveSmallIntegerField(null=True, blank=True)
    under_to = models.PositiveSmallIntegerField(null=True, blank=True)
    format = models.CharField(max_length=120)
    players_least = models.PositiveSmallIntegerField(null=True, blank=True)
    players_most = models.PositiveSmallIntegerField(null=True, blank=True)
    effort = models.DecimalField(max_digits=3, decimal_places=1)
    minutes = models.PositiveSmallIntegerField()
    condition_kinds = ArrayField(models.CharField(max_length=40), default=list, blank=True)
    heading = models.CharField(max_length=10)
    # What any one of its rungs needs; empty until the rungs are there.
    footprint = models.ForeignKey(Footprint, on_delete=models.PROTECT, null=True, related_name="drills")

    objects = DrillQuerySet.as_manager()

    class Meta:
        ordering = ("title_sort", "id")
        indexes = [
            GinIndex(fields=["words"], name="drill_words"),
            GinIndex(fields=["title_words"], name="drill_title_words"),
            GinIndex(fields=["theme_keys"], name="drill_themes"),
            # The shelf in its order, with all that a search looks at: most searches read nothing else.
            models.Index(
                fields=["title_sort", "id"],
                include=[
                    *("state", "owner", "activity", "theme_keys"),
                    *("minutes", "under_from", "under_to", "footprint"),
                ],
                condition=Q(retired_at__isnull=True),
                name="drill_on_the_shelf",
            ),
            models.Index(fields=["title_sort", "id"], name="drill_by_title"),
        ]
        constraints = [
            models.CheckConstraint(condition=Q(state__in=DrillState.values), name="drill_state_known"),
            models.CheckConstraint(
                condition=Q(effort__gte=0) & Q(effort__lte=10), name="drill_effort_is_cr10"
            ),
        ]

    def __str__(self) -> str:
        return self.title

    def may_be_edited_by(self, actor: Actor) -> bool:
        """The director always; its owner until the club has made it its standard. Nobody what is retired."""
        if self.retired_at is not None:
            return False
        owns = self.owner_id is not None and self.owner_id == actor.user_id
        return actor.is_director or (actor.is_coach and owns and self.state in EDITED_BY_OWNER)


class DrillRevision(models.Model):
    """What a drill said at one time. Never changed and never deleted: sessions point here."""

    drill = models.ForeignKey(Drill, on_delete=models.PROTECT, related_name="revisions")
    number = models.PositiveIntegerField()
    drill_version = models.PositiveIntegerField()  # the drill's version that this save made
    document = models.JSONField()
    schema_version = models.PositiveSmallIntegerField()
    sha256 = models.CharField(max_length=64, db_index=True)
    author = models.ForeignKey("club.User", on_delete=models.PROTECT, null=True, related_name="+")
    at = models.DateTimeField(auto_now_add=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ("drill", "number")
        constraints = [models.UniqueConstraint(fields=["drill", "number"], name="revision_number_once")]
        triggers = [
            pgtrigger.Protect(name="revisions_stay", operation=pgtrigger.Update | pgtrigger.Delete),
        ]

    def __str__(self) -> str:
        return f"{self.drill_id} r{self.number}"


class Variation(models.Model):
    """Derived. One rung of a drill; the key "" is the drill as written."""

    drill = models.ForeignKey(Drill, on_delete=models.CASCADE, related_name="variations", db_index=False)
    key = models.CharField(max_length=40, blank=True)
    position = models.PositiveSmallIntegerField()
    title = models.CharField(max_length=120)
    rung = models.CharField(max_length=10, blank=True)
    condition_kinds = ArrayField(models.CharField(max_length=40), default=list, blank=True)
    effort = models.DecimalField(max_digits=3, decimal_places=1)
    # What planning a session counts with: numbers in a grid, kit, minutes, set-up, headers (`bridge.facts_of`).
    facts = models.JSONField(default=dict, blank=True)
    footprint = models.ForeignKey(Footprint, on_delete=models.PROTECT, related_name="variations")
    # What stands on one of its grids; empty until it is derived.
    kit = models.ForeignKey("drills.GridKit", on_delete=models.PROTECT, null=True, related_name="variations")

    class Meta:
        ordering = ("drill", "position")
        constraints = [
            models.UniqueConstraint(fields=["drill", "key"], name="variation_key_once"),
            models.UniqueConstraint(
                fields=["drill", "position"],
                name="variation_place_once",
                deferrable=models.Deferrable.DEFERRED,
            ),
        ]
        indexes = [
            models.Index(fields=["footprint", "effort"], include=["drill", "kit"], name="variation_runs"),
            # Whether one of a drill's own rungs will do, and which is the first: asked of drill after drill.
            models.Index(
                fields=["drill", "position"],
                include=["footprint", "effort", "kit", "key"],
                name="variation_ladder",
            ),
        ]

    def __str__(self) -> str:
        return self.title


class Word(models.Model):
    """Derived. A word that some drill says, beside itself and itself with any one letter cut out.

    Two words with a cut in common are a slip of the pen apart. Words stay until the next `rederive`.
    """

    cut = models.CharField(max_length=40, db_collation="C")
    word = models.CharField(max_length=40, db_collation="C")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["cut", "word"], name="word_cut_once")]
        indexes = [
            GinIndex(
                OpClass(F("word"), name="gin_trgm_ops"), condition=Q(cut=F("word")), name="word_looks_alike"
            )
        ]

    def __str__(self) -> str:
        return self.word

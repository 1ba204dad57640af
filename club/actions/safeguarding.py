"""Dates of staff that supervision goes by; players who are out until a coach of theirs lifts it."""

from datetime import date, datetime

from django.utils import timezone
from django.utils.translation import gettext as _

from club.actions.conflicts import action, lock_row
from club.actions.saving import locked, save_checked
from club.errors import Refused
from club.models import Player, PlayerOut, StaffChecks, User


@action
def save_checks(
    *,
    user: User,
    version: int,
    of_age: bool,
    vetting_until: date | None,
    safeguarding_until: date | None,
    first_aid_until: date | None,
) -> StaffChecks:
    """Until when somebody's vetting, safeguarding and first aid hold. The first save makes the row, with version 1."""
    lock_row(User, user.pk)
    row = StaffChecks.objects.filter(user=user).first()
    saved = StaffChecks(user=user, version=version + 1) if row is None else locked(row, version)
    saved.of_age, saved.vetting_until = of_age, vetting_until
    saved.safeguarding_until, saved.first_aid_until = safeguarding_until, first_aid_until
    return save_checked(saved)


@action
def set_out(*, player: Player, by_id: int | None, since: datetime | None = None) -> PlayerOut | None:
    """The player takes part nowhere until it is lifted. Nothing is added where the player is, or was, out at that moment.

    `since` is now where nobody says; a moment that is yet to come counts as now.
    """
    now = timezone.now()
    at = min(since or now, now)
    lock_row(Player, player.pk)
    rows = PlayerOut.objects.filter(player=player)
    if rows.filter(lifted_at__isnull=True).exists():
        return None
    if rows.filter(since__lte=at, lifted_at__gte=at).exists():
        return None  # the same knock, heard of late from another phone
    return PlayerOut.objects.create(player=player, set_by_id=by_id, since=at)


@action
def lift_out(*, player: Player, by_id: int | None) -> PlayerOut:
    """The player takes part again."""
    lock_row(Player, player.pk)
    row = PlayerOut.objects.filter(player=player, lifted_at__isnull=True).first()
    if row is None:
        raise Refused(_("This player is not out, or somebody has lifted it already."))
    row.lifted_at, row.lifted_by_id = timezone.now(), by_id
    row.save(update_fields=["lifted_at", "lifted_by"])
    return row

"""All parts set up for tonight in one go: each station with a drill that is still to come gets the answer nearest to its design."""

from uuid import UUID

from django.utils.translation import gettext as _

from club.actions import action, lock_row
from club.actor import Actor
from club.errors import Refused
from drills.game.fits import fits
from drills.game.format import MOST_PLAYERS
from sessions.actions.accept_setup import tell_phones
from sessions.actions.booking import lock
from sessions.actions.setups import put_setup
from sessions.choices import STILL_TO_COME
from sessions.models import TrainingSession
from sessions.queries.rows import session_by_id
from sessions.queries.set_up import ToSetUp, players_tonight, stations_to_set_up

DEVICE = "set up for all"


@action
def set_up_all(
    *,
    actor: Actor,
    session: TrainingSession,
    version: int | None,
    players: int | None = None,
    anew: bool = False,
) -> frozenset[UUID]:
    """Set every part that has not begun up for so many players; the outer ids of the stations that were changed.

    `players` None: who is there by the register, else who is expected. What is set up for as many already stays, unless
    `anew`; where nothing fits, a station keeps what it had (`pages.all_set_up` says why). `version` None is for the pitch,
    where the last word counts and phones send what happens meanwhile. Raises Stale, and Refused for impossible numbers or
    a session that is not to come.
    """
    at_the_pitch = version is None
    if version is None:
        version = lock_row(TrainingSession, session.pk).version
        session = session_by_id(session.public_id) or session
    wanted = players_tonight(session) if players is None else players
    if not 1 <= wanted <= MOST_PLAYERS:
        raise Refused(_("From 1 to {most_players} players.").format(most_players=MOST_PLAYERS), "players")
    locked = lock(session, version)
    if locked.state not in STILL_TO_COME:
        raise Refused(_("This session has taken place."))
    recorded = at_the_pitch or locked.last_seq > 0
    changed = [
        each.station
        for each in stations_to_set_up(session, wanted)
        if not each.begun and (anew or not each.holds) and _put(each, recorded)
    ]
    if changed:
        locked.save(update_fields=["version"])
    if changed and recorded:
        # Phones go by what happened, and the last set-up that was accepted counts: so this is one.
        tell_phones(actor=actor, session=locked, device=DEVICE, stations=changed)
    return frozenset(each.public_id for each in changed)


def _put(asked: ToSetUp, recorded: bool) -> bool:
    """Give a station the first answer; False where there is none, and nothing is touched."""
    station = asked.station
    found = fits(asked.drill.document, asked.rung, asked.evening)
    if not found:
        return False
    station.variation_key = asked.rung
    return put_setup(
        station, asked.evening, numbers=found[0].numbers, grids=found[0].grids, at_the_pitch=recorded
    )

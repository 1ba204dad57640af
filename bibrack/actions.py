"""Writes across the rooms: a club that has no drills yet begins with ours."""

from dataclasses import dataclass

from django.core.exceptions import PermissionDenied
from django.utils.translation import gettext as _

from bibrack.demo import library
from club.actions import action, lock_name
from club.actor import Actor
from club.errors import Refused
from drills import actions as drill_actions
from drills import queries as drills


@dataclass(frozen=True)
class Begun:
    """How many drills and ready sessions the club has now."""

    drills: int
    ready: int


@action
def begin_with_our_library(*, actor: Actor) -> Begun:
    """Our drills as the club's standard, owned by the director who asks, our ready sessions, and the themes that the club
    does not have: all of it or nothing. Where each drill can be played, nearly all of the work, is left to the job.

    Raises Refused where the library has a drill already, PermissionDenied for anybody but the director.
    """
    if not actor.is_director:
        raise PermissionDenied
    lock_name("begin with our library")  # two directors at once: the second one finds drills
    if drills.has_drills():
        raise Refused(_("There are drills in the library already: nothing was added."))
    library.add_themes()
    made = library.add_drills_of_director(actor)
    begun = Begun(len(made), library.add_ready_sessions(actor, made))
    drill_actions.ask_to_rederive()
    return begun


def work_out_rest(*, actor: Actor) -> bool:
    """Have the job asked for again; whether there was need. Raises PermissionDenied for anybody but the director."""
    if not actor.is_director:
        raise PermissionDenied
    return drill_actions.ask_to_rederive()

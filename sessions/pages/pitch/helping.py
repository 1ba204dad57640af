"""For a helper without an account: the number as the coach reads it, and the page at the pitch as their phone gets it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.urls import reverse

from club import queries as club
from sessions import bridge
from sessions.choices import State
from sessions.pages.pitch.data import page_data, words_of_heads
from sessions.pages.pitch.offline import about_any
from sessions.pages.pitch.page import PitchPage
from sessions.pages.shared import shared_title
from sessions.planning.clock import clock_text
from sessions.planning.fold.bodies import MOST_HEADS
from sessions.queries.helping import is_open, number_of, open_until
from sessions.queries.pitch import Happened

if TYPE_CHECKING:
    from sessions.models import TrainingSession


@dataclass(frozen=True)
class HelpersNumber:
    """Four digits, and the time on the club's clock until which they open tonight's clock."""

    digits: str
    until: str


def helpers_number(session: TrainingSession) -> HelpersNumber | None:
    """The number that the coach tells a helper; None for a session that is cancelled, or long over. No query."""
    if not is_open(session) or session.state == State.CANCELLED:
        return None
    return HelpersNumber(
        number_of(session), clock_text(open_until(session).astimezone(club.club_now().tzinfo))
    )


def helpers_account(session: TrainingSession) -> str:
    """Whose a helper's phone is, in the place of an account's id: of whoever helps at this session. What somebody with an account
    has recorded on the same phone waits for them."""
    return f"helper-{session.public_id}"


def about_for_helpers(session: TrainingSession, code: str) -> dict[str, Any]:
    """What the page says of itself: whose it is, and where it sends. No query."""
    return {
        **about_any(session),
        "account": helpers_account(session),
        "title": shared_title(session),
        "url": reverse("sessions:at-run", args=[code]),
        "events": reverse("sessions:at-events", args=[code]),
        "phone": reverse("sessions:at-phone", args=[code]),
    }


def helpers_data(shown: PitchPage, so_far: Happened) -> dict[str, Any]:
    """The page's data without anybody's name: no players, and of the register how many take part."""
    state = bridge.state_of(shown.session)
    found = page_data(shown, [], so_far)
    return {
        **found,
        "words": found["words"] | words_of_heads(),
        "most_heads": MOST_HEADS,
        "by_register": state.playing if state else 0,
    }

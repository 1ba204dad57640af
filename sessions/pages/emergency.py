"""What an emergency at a session needs, as one value: page, phone, both sheets and API say this and nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from django.utils.translation import gettext as _

from club import queries as club
from club.pages import Guidance, after_a_knock, unsaid_words
from sessions.planning.clock import clock_text
from sessions.queries.pitch import Collected, collected
from sessions.queries.rows import zones_of

if TYPE_CHECKING:
    from sessions.models import TrainingSession


@dataclass(frozen=True)
class EmergencyPlace:
    """A pitch that the session holds; what nobody has entered is empty."""

    pitch: str
    address: str
    ambulance_gate: str
    defibrillator: str

    @property
    def missing(self) -> tuple[str, ...]:
        """The fields of the pitch that are empty."""
        names = ("address", "ambulance_gate", "defibrillator")
        return tuple(each for each in names if not getattr(self, each))


@dataclass(frozen=True)
class Emergency:
    """`number` is rung for an ambulance, `welfare_phone` is the welfare officer's; `collected` who said that the last child had gone."""

    number: str
    welfare_phone: str
    places: tuple[EmergencyPlace, ...]
    collected: Collected | None
    zone: ZoneInfo

    @property
    def bag(self) -> str:
        """What is asked before the start."""
        return _("Contacts and medical list in your bag?")

    @property
    def collected_words(self) -> str:
        if self.collected is None:
            return _("not said yet")
        time = clock_text(self.collected.at.astimezone(self.zone))
        return (
            _("{time}, said by {name}").format(time=time, name=self.collected.by)
            if self.collected.by
            else time
        )

    @property
    def lines(self) -> tuple[tuple[str, str], ...]:
        """Label and text of each line, in the order in which somebody in a hurry needs them; none is empty."""
        several = len(self.places) > 1
        found = [(_("Ring"), self.number)]
        for each in self.places:
            where = f" ({each.pitch})" if several else ""
            found += [
                (_("You are at") + where, each.address or each.pitch),
                (_("Gate for an ambulance") + where, each.ambulance_gate),
                (_("Nearest defibrillator") + where, each.defibrillator),
            ]
        found += [(_("Welfare officer"), self.welfare_phone), (_("Before the start"), self.bag)]
        return tuple((label, text) for label, text in found if text)

    @property
    def missing(self) -> tuple[tuple[str, str], ...]:
        """Where the block has gaps: a pitch (empty for the club's settings) and what of it nobody has entered."""
        gaps = [(each.pitch, unsaid_words(each.missing)) for each in self.places if each.missing]
        return (*gaps, *(() if self.welfare_phone else (("", _("the welfare officer's number")),)))

    @property
    def knock(self) -> Guidance:
        """Published advice after a knock on the head."""
        return after_a_knock(self.number)


def emergency_of(session: TrainingSession) -> Emergency:
    """The block of a session. No query where its rows are at hand, one more once the last child has been collected."""
    settings = club.club_settings()
    rows = {
        each["pitch"]: EmergencyPlace(
            each["pitch"], each["address"], each["ambulance_gate"], each["defibrillator"]
        )
        for each in zones_of(session)
    }
    return Emergency(
        number=settings.emergency_number,
        welfare_phone=settings.welfare_phone,
        places=tuple(rows.values()),
        collected=collected(session),
        zone=ZoneInfo(settings.time_zone),
    )

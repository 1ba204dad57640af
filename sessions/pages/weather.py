"""Heat and thunder as pages, phones and the API show them: an estimate, a band, a clock. Advice, never a permit."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any, cast

from django.utils import timezone
from django.utils.translation import gettext as _

from club import queries as club
from sessions import bridge
from sessions.planning.clock import clock_text
from sessions.planning.weather import (
    BANDS,
    CAUTION,
    WAIT_AFTER_THUNDER_MIN,
    HeatBand,
    HeatGuideline,
    heat_advice,
    lightning_clock,
)
from sessions.queries.squad_context import local

if TYPE_CHECKING:
    from sessions.models import TrainingSession


@dataclass(frozen=True)
class HeatShown:
    """What was typed at the pitch, the WBGT that is estimated from it (°C), and the band of the club's guideline."""

    at: datetime
    temperature_c: float
    humidity_pct: float
    wbgt_c: float
    band: str
    advice: str
    play: bool
    based_on: str
    caution: str
    deferring: str


@dataclass(frozen=True)
class ThunderShown:
    """The last thunder of the session, and when play may be thought of again at the earliest."""

    at: datetime
    resume_at: datetime
    wait: bool
    text: str
    based_on: str
    deferring: str


def deferring() -> str:
    """Who decides. Beside every band and every clock."""
    return _("Advice, not a permit: local rules and licensed practice decide.")


def lightning_source() -> str:
    return _(
        "Off the pitch when 30 s or less lie between flash and thunder, and back 30 min after the last thunder at the earliest: "
        "published lightning-safety guidance, read second-hand; copies differ by a second. Under a solid roof or in a car, not under trees."
    )


def heat_of(session: TrainingSession) -> HeatShown | None:
    """The last temperature and humidity that were typed; None where none were."""
    state = bridge.state_of(session)
    if state is None or state.heat is None:
        return None
    given = state.heat
    found = heat_advice(given.temperature_c, given.humidity_pct, guideline())
    return HeatShown(
        at=given.at,
        temperature_c=given.temperature_c,
        humidity_pct=given.humidity_pct,
        wbgt_c=round(found.wbgt_c, 1),
        band=_(found.band.name),
        advice=_(found.band.advice),
        play=found.band.play,
        based_on=found.source,
        caution=_(found.caution),
        deferring=deferring(),
    )


def thunder_of(session: TrainingSession, now: datetime | None = None) -> ThunderShown | None:
    """The clock of the last thunder; None where none was heard."""
    state = bridge.state_of(session)
    if state is None or state.thunder_at is None:
        return None
    clock = lightning_clock([state.thunder_at], now or timezone.now())
    resume_at = clock.resume_at or state.thunder_at
    text = _("Thunder at {at}: off the pitch until {until} at the earliest, later if it thunders again.")
    return ThunderShown(
        at=state.thunder_at,
        resume_at=resume_at,
        wait=clock.wait,
        text=text.format(at=_clock(state.thunder_at), until=_clock(_up(resume_at))),
        based_on=lightning_source(),
        deferring=deferring(),
    )


def _clock(moment: datetime) -> str:
    """On a wristwatch, which shows no seconds."""
    return clock_text(local(moment).replace(second=0, microsecond=0))


def _up(moment: datetime) -> datetime:
    """The next whole minute, so that nobody is let back early."""
    whole = moment.replace(second=0, microsecond=0)
    return whole if whole == moment else whole + timedelta(minutes=1)


def guideline() -> HeatGuideline:
    """The one that the club chose."""
    return cast("HeatGuideline", club.club_settings().heat_guideline)


def weather_data() -> dict[str, Any]:
    """What a phone needs to say the same without signal: the bands of the club's guideline and the words beside them."""
    source, bands = BANDS[guideline()]
    return {
        "bands": [_band(each) for each in bands],
        "source": source,
        "caution": _(CAUTION),
        "wait_min": WAIT_AFTER_THUNDER_MIN,
    }


def _band(each: HeatBand) -> dict[str, Any]:
    plain = asdict(each)
    return {**plain, "name": _(each.name), "advice": _(each.advice)}

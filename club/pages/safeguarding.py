"""What is said of somebody who is out after a knock on the head, of dates that run out, and of gaps in an emergency."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.urls import reverse
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club.queries import RunsOut, Unsaid


@dataclass(frozen=True)
class Guidance:
    """Published advice in our own words. `source` says who published it and when; `defers` whose word comes before it."""

    lines: tuple[str, ...]
    urgent: str
    source: str
    defers: str
    form: str


def after_a_knock(emergency_number: str) -> Guidance:
    """What is published for clubs without a doctor at the pitch, about a knock on the head, in our own words.

    Source: UK Government with the Sport and Recreation Alliance, "If in doubt, sit them out", UK concussion guidelines
    for non-elite (grassroots) sport, 28 April 2023, updated November 2024; read second-hand, in summaries by the NSPCC's
    Child Protection in Sport Unit and others. The sentence about the club's own form is common practice, no source.
    """
    return Guidance(
        lines=(
            _("Off the pitch at once, and not back today, however well they say they feel."),
            _("Somebody medical within 24 hours: in the United Kingdom NHS 111, or a doctor."),
            _("Rest and sleep for a day or two, with little screen time."),
            _("Then a step at a time: school first, sport after it."),
            _("No match before day 21 at the earliest. Still unwell after 28 days: to a doctor."),
        ),
        urgent=_(
            "Ring {number} now if they passed out, have a fit, keep being sick, can't remember, get drowsier, have a "
            "headache that gets worse, or their neck hurts. Don't move a neck that may be hurt."
        ).format(number=emergency_number),
        source=_(
            "“If in doubt, sit them out”: UK concussion guidelines for non-elite (grassroots) sport, UK Government with "
            "the Sport and Recreation Alliance, April 2023, updated November 2024 (read second-hand)"
        ),
        defers=_("Advice, not a diagnosis: what a doctor says and your association's own rules come first."),
        form=_("Hand them over to a parent yourself, and fill in your club's own accident form today. Nothing about it is saved here."),
    )  # fmt: skip


CHECK_NAMES = {
    "vetting_until": gettext_lazy("vetting"),
    "safeguarding_until": gettext_lazy("safeguarding"),
    "first_aid_until": gettext_lazy("first aid"),
}
FIELD_NAMES = {
    "address": gettext_lazy("address"),
    "ambulance_gate": gettext_lazy("gate for an ambulance"),
    "defibrillator": gettext_lazy("nearest defibrillator"),
}


@dataclass(frozen=True)
class StaffNeed:
    """Something that only the director can mend: what it is, in words, and the page where it is mended."""

    about: str
    text: str
    url: str
    is_over: bool


def date_needs(found: Iterable[RunsOut]) -> list[StaffNeed]:
    """Dates of staff that are over, run out soon, or were never entered."""
    return [
        StaffNeed(each.user.name, _date_words(each), reverse("club:staff-checks", args=[each.user.public_id]), each.is_over)
        for each in found
    ]  # fmt: skip


def _date_words(each: RunsOut) -> str:
    name = CHECK_NAMES[each.check]
    if each.until is None:
        return _("no date for {check} yet: doesn't count as an adult.").format(check=name)
    day = date_format(each.until, "j F Y")
    if not each.is_over:
        return _("{check} runs out on {day}.").format(check=name, day=day)
    if each.check == "vetting_until":
        return _("{check} ran out on {day}: doesn't count as an adult.").format(check=name, day=day)
    return _("{check} ran out on {day}.").format(check=name, day=day)


def emergency_needs(found: Iterable[Unsaid]) -> list[StaffNeed]:
    """What somebody would look for in an emergency and not find."""
    return [_gap(each) for each in found]


def _gap(each: Unsaid) -> StaffNeed:
    if each.pitch is None:
        words = _("no number of the welfare officer yet, for an emergency.")
        return StaffNeed(_("Club settings"), words, reverse("club:settings"), False)
    words = _("no {fields} yet, for an emergency.").format(fields=unsaid_words(each.fields))
    return StaffNeed(each.pitch.name, words, reverse("club:pitch-change", args=[each.pitch.public_id]), False)


def unsaid_words(fields: Iterable[str]) -> str:
    """`address, gate for an ambulance or nearest defibrillator`."""
    names = [str(FIELD_NAMES[each]) for each in fields]
    if len(names) < 2:
        return "".join(names)
    return _("{most} or {last}").format(most=", ".join(names[:-1]), last=names[-1])

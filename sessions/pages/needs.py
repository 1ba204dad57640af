"""What needs somebody: each with a link, what is the matter, and who or what could mend it in one tap."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from django.urls import reverse
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club import queries as club
from club.letters import isolated
from club.queries import RoleRoster
from club.queries.leaving import Leaving
from sessions.queries.uncovered import Uncovered, free_people, free_zones, slots_in_force, uncovered

MOST_SHOWN = 6
MOST_OFFERED = 2

LACKS = {
    ("lead", False): gettext_lazy("nobody leads it any more."),
    ("second", False): gettext_lazy("only one adult is left."),
    ("place", False): gettext_lazy("its pitch has closed."),
    ("lead", True): gettext_lazy("no coach is left for this weekly slot."),
    ("place", True): gettext_lazy("the pitch of this weekly slot has closed."),
}
# Of the form that a slot is changed with.
FIELDS = {"lead": "#id_coaches", "place": "#id_zones"}
GIVE = {
    "lead": gettext_lazy("Give it to {name}"),
    "second": gettext_lazy("Add {name}"),
    "place": gettext_lazy("Move it to {name}"),
}


@dataclass(frozen=True)
class NeedOffer:
    """One tap: `name` and `value` are what the button sends to the need's `act`."""

    label: str
    name: str
    value: str


@dataclass(frozen=True)
class Need:
    """`act` is where the offers go, empty for none; `verb` says what the link `url` does."""

    about: str
    text: str
    url: str
    verb: str
    act: str = ""
    version: int = 0
    offers: list[NeedOffer] = field(default_factory=list)


@dataclass(frozen=True)
class Needs:
    """The first few, and how many more there are."""

    shown: list[Need]
    more: int = 0

    def __bool__(self) -> bool:
        return bool(self.shown)


def needs_of(found: list[Uncovered], who: RoleRoster, *, changes_slots: bool = True) -> Needs:
    """Two queries for people and zones that are free, where anything is uncovered; up to four.

    `changes_slots` is for whoever may change a weekly slot; the others are told who can.
    """
    first = found[:MOST_SHOWN]
    people, zones = free_people(first, who), free_zones(first)
    shown = [
        _need_of_slot(each, changes_slots)
        if each.is_slot
        else _need(each, people.get(each.key, []), zones.get(each.key, []))
        for each in first
    ]
    return Needs(shown, len(found) - len(first))


def _need_of_slot(each: Uncovered, changes_slots: bool) -> Need:
    """One tap leads to the field where it is mended; whoever can't mend it, to the list of slots."""
    text = str(LACKS[each.lacks, True])
    if changes_slots:
        url = reverse("sessions:slot", args=[each.row.public_id]) + FIELDS[each.lacks]
        return Need(about_words(each), text, url, _("Change the slot"))
    text = f"{text} {_('The director can change the slot.')}"
    return Need(about_words(each), text, reverse("sessions:slots"), _("See the slots"))


def _need(each: Uncovered, people: list[Any], zones: list[Any]) -> Need:
    row = each.row
    give = str(GIVE[each.lacks])
    offers = [NeedOffer(give.format(name=one.name), "user", one.public_id) for one in people[:MOST_OFFERED]]
    offers += [NeedOffer(give.format(name=one), "zone", str(one.public_id)) for one in zones[:MOST_OFFERED]]
    nobody = _("Nobody is free then.") if each.lacks != "place" else _("No pitch is free then.")
    text = str(LACKS[each.lacks, False])
    return Need(
        about=about_words(each),
        text=text if offers else f"{text} {nobody}",
        url=reverse("sessions:edit", args=[row.public_id]),
        verb=_("Time, pitch, people"),
        act=reverse("sessions:cover", args=[row.public_id]),
        version=row.version,
        offers=offers,
    )


def about_words(each: Uncovered) -> str:
    """`U12 Otters, Tue 1 Dec 18:00`, or `Otters, Tuesday 18:00` for a slot."""
    row = each.row
    if each.is_slot:
        return f"{isolated(row.squad.name)}, {row}"
    when = f"{date_format(row.day, 'D j M')} {row.starts:%H:%M}"
    return f"{row.age_group.label} {isolated(row.squad.name)}, {when}"


def left_behind(leaving: Leaving) -> list[str]:
    """What it would leave uncovered that isn't so already. Four queries."""
    who, slots = club.roster(), slots_in_force(club.today())
    before = {each.key for each in uncovered(who, slots=slots)}
    rest = who.without(role_id=leaving.role_id, user_id=leaving.user_id)
    after = uncovered(rest, slots=slots, without_pitch=leaving.pitch_id)
    return [_left(each) for each in after if each.key not in before]


def _left(each: Uncovered) -> str:
    words = {
        "lead": _("nobody leads") if not each.is_slot else _("weekly slot without a coach"),
        "second": _("one adult left"),
        "place": _("no pitch") if not each.is_slot else _("weekly slot without a pitch"),
    }
    return f"{about_words(each)}: {words[each.lacks]}"

"""What was recorded of a session, and what an emergency at it needs, as JSON."""

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from rest_framework import serializers

from sessions.pages.happened import InPlayRun, PartRun, PlayerThere, WhatHappened
from sessions.pages.weather import HeatShown, ThunderShown

S = serializers


class ReasonOut(S.Serializer):
    code = S.CharField()
    text = S.CharField()
    part = S.UUIDField(allow_null=True)
    clears = S.ListField(child=S.CharField())


class HeatOut(S.Serializer):
    """What was typed at the pitch, and what is estimated from it. Advice, never a permit."""

    at = S.DateTimeField()
    temperature_c = S.FloatField()
    humidity_pct = S.FloatField()
    wbgt_c = S.FloatField(help_text="Estimated wet-bulb globe temperature.")
    band = S.CharField(help_text="Of the guideline that the club chose.")
    advice = S.CharField()
    play = S.BooleanField(help_text="Whether the guideline's band still speaks of playing.")
    based_on = S.CharField()
    caution = S.CharField()
    deferring = S.CharField()


class ThunderOut(S.Serializer):
    """The last thunder, and when play may be thought of again at the earliest. Advice, never a permit."""

    at = S.DateTimeField()
    resume_at = S.DateTimeField()
    wait = S.BooleanField(help_text="Whether the clock still runs.")
    text = S.CharField()
    based_on = S.CharField()
    deferring = S.CharField()


class PlayerThereOut(S.Serializer):
    id = S.UUIDField()
    name = S.CharField()
    state = S.CharField()
    came_at = S.DateTimeField(allow_null=True)
    left_at = S.DateTimeField(allow_null=True)
    minutes = S.FloatField()
    limited = S.BooleanField()
    guest = S.BooleanField()
    minutes_in_play = S.FloatField(help_text="In the rounds of which it is known who played.")
    minutes_known = S.FloatField(help_text="There in those rounds.")
    share_in_play = S.FloatField(
        allow_null=True, help_text="The one by the other; null where it is not known."
    )


class PartRunOut(S.Serializer):
    id = S.UUIDField()
    title = S.CharField()
    how = S.ChoiceField(
        choices=["clock", "said", "skipped", "not_run"],
        help_text="clock: by its own start and end. said: nobody tapped, so the plan stands for it.",
    )
    started_at = S.DateTimeField(allow_null=True)
    ended_at = S.DateTimeField(allow_null=True)
    minutes = S.FloatField()
    bouts = S.IntegerField()
    load_au = S.FloatField(allow_null=True)
    headers = S.IntegerField(help_text="Of one player who was there for all of it.")
    who_played = S.ChoiceField(
        choices=["turns", "everybody", "not_known"],
        allow_null=True,
        help_text="How it is known who was in play; null for a part that was not run.",
    )
    effort = S.FloatField(allow_null=True)


class NoteOut(S.Serializer):
    at = S.DateTimeField()
    text = S.CharField()
    part = S.CharField()


class HappenedOut(S.Serializer):
    """What was recorded; names only for the staff of the age group."""

    came = S.IntegerField()
    expected = S.IntegerField()
    trialists = S.IntegerField()
    minutes = S.FloatField()
    effort = S.FloatField(allow_null=True, help_text="CR10 of the session.")
    load_au = S.FloatField(allow_null=True)
    expected_au = S.FloatField(allow_null=True)
    estimated = S.BooleanField()
    outcome = S.CharField()
    headers = S.IntegerField()
    planned_headers = S.IntegerField()
    share_in_play = S.FloatField(
        allow_null=True, help_text="Of all players together; null where it is not known."
    )
    players = PlayerThereOut(many=True)
    parts = PartRunOut(many=True)
    notes = NoteOut(many=True)
    reasons = ReasonOut(many=True)


class UncountedOut(S.Serializer):
    """Somebody who is down for it and does not count as an adult on the day."""

    id = S.UUIDField()
    name = S.CharField()
    why = S.ChoiceField(choices=["under_18", "no_vetting", "vetting_over"])


class EmergencyPlaceOut(S.Serializer):
    """A pitch that the session holds; what nobody has entered is empty."""

    pitch = S.CharField()
    address = S.CharField()
    ambulance_gate = S.CharField()
    defibrillator = S.CharField()


class EmergencyOut(S.Serializer):
    """What an emergency at the session needs, as it stands on its pages and sheets."""

    number = S.CharField()
    welfare_phone = S.CharField()
    places = EmergencyPlaceOut(many=True)
    before_the_start = S.CharField()
    last_child_collected = S.DateTimeField(allow_null=True)
    collected_said_by = S.CharField(allow_null=True)


def happened(done: WhatHappened) -> dict[str, Any]:
    """What was recorded of a session that is done; players by name only for who may see them."""
    return {
        "came": done.came,
        "expected": done.expected,
        "trialists": done.trialists,
        "minutes": done.minutes,
        "effort": done.effort,
        "load_au": done.load_au,
        "expected_au": None if done.load_au is None else round(done.expected_au, 1),
        "estimated": done.estimated,
        "outcome": done.outcome,
        "headers": done.headers,
        "planned_headers": done.planned_headers,
        "share_in_play": _share(done.in_play),
        "players": [_there(each) for each in done.players],
        "parts": [_run(each, with_au=done.load_au is not None) for each in done.parts],
        "notes": [{"at": each.at, "text": each.text, "part": each.part} for each in done.notes],
        "reasons": reasons([*done.reasons, *filter(None, (done.why_load, done.who_played))]),
    }


def _there(player: PlayerThere) -> dict[str, Any]:
    return {
        "id": player.id,
        "name": player.name,
        "state": player.state,
        "came_at": player.came_at,
        "left_at": player.left_at,
        "minutes": player.minutes,
        "limited": player.limited,
        "guest": player.guest,
        "minutes_in_play": player.in_play.minutes,
        "minutes_known": player.in_play.known_min,
        "share_in_play": _share(player.in_play),
    }


def _share(found: InPlayRun) -> float | None:
    return None if found.share is None else round(found.share, 3)


def _run(part: PartRun, *, with_au: bool) -> dict[str, Any]:
    return {
        "id": part.key,
        "title": part.title,
        "how": part.account.how,
        "started_at": part.started_at,
        "ended_at": part.ended_at,
        "minutes": round(part.account.minutes, 1),
        "bouts": part.account.bouts,
        "load_au": round(part.account.load_au, 1) if with_au else None,
        "headers": part.account.headers,
        "who_played": part.who_played,
        "effort": part.effort,
    }


def reasons(found: Iterable[Any]) -> list[dict[str, Any]]:
    """Reasons with their words and what would clear them."""
    return [
        {
            "code": each.code,
            "text": each.text,
            "part": each.part,
            "clears": [change.text for change in each.clears],
        }
        for each in found
    ]


def weather(shown: HeatShown | ThunderShown | None) -> dict[str, Any] | None:
    """Heat, or the clock after thunder, as it is shown."""
    return None if shown is None else asdict(shown)

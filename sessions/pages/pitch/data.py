"""The page as data for its clock and register, and the words that its script says."""

from dataclasses import asdict
from typing import Any

from django.utils import timezone
from django.utils.translation import gettext as _

from sessions.pages.pitch.page import PitchPage
from sessions.pages.pitch.standing import numbers_words
from sessions.pages.weather import deferring, lightning_source, weather_data
from sessions.planning.fold.bodies import MOST_TRIALISTS
from sessions.queries.pitch import Happened, PlayerShown


def page_data(shown: PitchPage, players: list[PlayerShown], so_far: Happened) -> dict[str, Any]:
    """One JSON document: the clock's figures, the register's names, what happened, and words."""
    return {
        **shown.data,
        "players": [_slim(asdict(each)) for each in players],
        "events": so_far.events,
        "seq": so_far.last_seq,
        "now": int(timezone.now().timestamp() * 1000),
        "most_trialists": MOST_TRIALISTS,
        "weather": {**weather_data(), "lightning": lightning_source(), "deferring": deferring()},
        "words": words() | numbers_words() | words_of_numbers() | words_of_teams() | words_of_weather(),
    }


def _slim(row: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in row.items() if value not in (None, "", False)}


def words() -> dict[str, str]:
    """Everything that the script says, so that it goes through the message catalogue."""
    return {
        "now": _("now {time}"),
        "part": _("Part {n} of {all}"),
        "bout": _("Round {n}/{all}"),
        "rest": _("Rest"),
        "held": _("Held"),
        "soon": _("Starts in"),
        "over": _("Time is up"),
        "ends": _("Last minutes"),
        "then_rest": _("then {time} rest"),
        "then_bout": _("then round {n}"),
        "then_next": _("then {title}"),
        "then_clear": _("then clear the pitch"),
        "inside": _("{who} inside"),
        "outside": _("{who} outside"),
        "resting": _("{who} rest"),
        "goes_out": _("{who} goes outside"),
        "held_then": _("Tap the clock to go on."),
        "here": _("here"),
        "late": _("late"),
        "left": _("left"),
        "watching": _("watching"),
        "absent": _("not here"),
        "out": _("out until lifted"),
        "collected": _("Last child collected: {time}. Tap again if another one was still waiting."),
        "open": _("not marked"),
        "guest": _("guest"),
        "no_guests": _(
            "You work with no other team: a guest is added by their own coach, or by the director."
        ),
        "guests_later": _("The names of other teams come from the club; that takes a signal."),
        "count": _("{here} of {all} here"),
        "unmarked": _("{n} not marked"),
        "limits": _("Limits"),
        "no_contact": _("no contact"),
        "no_heading": _("no heading"),
        "outside_only": _("outside roles only"),
        "at_most": _("at most {n} min"),
        "one_unsent": _("1 thing not sent yet"),
        "unsent": _("{n} things not sent yet"),
        "sign_in_link": _("Sign in again"),
        "press_to_open": _("Press again to open"),
        "wake_refused": _("The phone refused: its battery may be low. Set its own screen time longer."),
        "sign_in": _("You are signed out. Nothing is lost: sign in again, and it will be sent."),
        "refused": _("Not taken: {text}"),
        "unreadable": _("the server could not read it. Do it once more."),
        "not_kept": _("This phone saves nothing for pages. Leave this page open until everything is sent."),
        "no_signal": _("No signal. This was worked out before:"),
        "none_near": _(
            "No signal, and nothing was worked out for {n} players. Play the nearest variation, and let whoever is over be off in turn."
        ),
        "all_up": _("Set everything up for {n}"),
        "all_later": _("No signal, and this phone holds no answers yet. They come with the first signal."),
        "all_done": _("Set up for {n}."),
        "all_none": _("Nothing was set up anew."),
        "play_this": _("Play it like this tonight"),
        "tonight": _("Tonight {numbers} on {size}"),
        "no_easier": _("Nothing is easier than this."),
        "no_harder": _("Nothing is harder than this."),
        "one_more": _("One minute more given."),
        "awake": _("The screen stays awake."),
        "asleep": _("The screen may go dark again."),
        "no_wake": _(
            "At this address the phone won't let a page keep the screen awake (that takes https). Set the phone's own screen time longer."
        ),
        "begin": _("Begin part 1 now"),
        "to_clock": _("To the clock"),
        "hold_next": _("Hold: part {n}"),
        "hold_end": _("Hold: finish"),
        "press_again": _("Press again to go on to the next part."),
        "rated": _("Effort {n} saved."),
        "noted": _("Note saved."),
        "delivered": _("Recorded: all of it took place."),
        "shortened": _("Recorded: {n} minutes took place."),
    }


def words_of_numbers() -> dict[str, str]:
    """Of the register's taps, of trialists and of the stepper."""
    return {
        "rest_here": _("{n} marked here. Tap whoever is not."),
        "taken_back": _("Undone."),
        "trialist": _("Trialist {n}"),
        "one_trialist": _("and {n} trialist"),
        "trialists": _("and {n} trialists"),
        "trialist_off": _("Trialist {n} removed."),
        "take_off": _("remove"),
        "by_register": _("{n} by the register"),
        "by_plan": _("{n} expected; nobody is marked yet"),
        "with_trialist": _("({n} trialist)"),
        "with_trialists": _("({n} trialists)"),
        "you_say": _("You say {n}."),
    }


def words_of_teams() -> dict[str, str]:
    """Of teams, of who is off, and of another drill in a part's place."""
    return {
        "near_over": _("Not worked out for {n}. Nearest: set it up for {m}, with {k} off in turn."),
        "near_short": _(
            "Not worked out for {n}. Nearest: set it up for {m}; you are {k} short, so leave a place outside empty first."
        ),
        "near_as_planned": _("Keepers, adults and space as they were planned: yours are not counted here."),
        "swapped": _("Instead of {title}."),
        "swapped_to": _("{title} instead."),
        "swapped_later": _("Another drill: its plan comes with a signal"),
        "of_part": _("of part {n}"),
        "change_places": _("of part {n}, which plays {title} then"),
        "as_planned_again": _("as planned"),
        "instead_none": _("No other drill runs tonight with these numbers."),
        "instead_later": _("This phone holds no other drills yet. They come with the first signal."),
        "teams_make": _("Make teams"),
        "teams_anew": _("Make them anew"),
        "teams_made": _("Teams of {n}."),
        "teams_for": _("{n} here, for {title}."),
        "teams_nobody": _("Nobody is marked here yet: take the register first."),
        "teams_none": _("This part has no teams."),
        "teams_tap": _("Tap a name: on to the next team."),
        "teams_keepers": _("Keepers"),
        "teams_tonight": _("Teams by name"),
        "teams_missing": _("In no team yet: {who}. Make them anew."),
        "not_together": _("{a} and {b} can't be together."),
        "not_apart": _("{a} and {b} can't be kept apart."),
        "wish_together": _("{a} and {b} together"),
        "wish_apart": _("{a} and {b} apart"),
        "wish_saved": _("Saved for tonight."),
        "off_next": _("off next: {who}"),
        "off_now": _("off"),
    }


def words_of_weather() -> dict[str, str]:
    """Of the thunder clock and the heat estimate."""
    return {
        "off_the_pitch": _("Off the pitch"),
        "no_thunder": _("No thunder for {n} min. Whoever decides at your pitch decides."),
        "heat": _("{t} °C and {h} %: about {w} °C WBGT: {band}"),
        "heat_odd": _("Air from −30 to 60 °C, humidity from 0 to 100 %, please."),
    }

"""The page as data for its clock and register, and the words that its script says."""

from dataclasses import asdict
from typing import Any

from django.utils import timezone
from django.utils.translation import gettext as _

from sessions.pages.afterwards import APART, STATES
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
        "words": every_word(),
    }


def _slim(row: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in row.items() if value not in (None, "", False)}


def every_word() -> dict[str, str]:
    """All that the page's scripts say."""
    parts = (
        words(),
        numbers_words(),
        words_of_numbers(),
        words_of_weather(),
        words_of_the_copy(),
        words_of_afterwards(),
        words_of_running(),
        words_of_teams(),
    )
    return {name: text for part in parts for name, text in part.items()}


def words() -> dict[str, str]:
    """Everything that the script says, so that it goes through the message catalogue."""
    return {
        "now": _("now {time}"),
        "part": _("Part {n} of {all}"),
        "bout": _("Round {n}/{all}"),
        "rest": _("Rest"),
        "held": _("Paused"),
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
        **{state: str(word) for state, word in STATES.items()},
        "out": _("out until lifted"),
        "open": _("not marked"),
        "guest": _("guest"),
        "no_guests": _(
            "You work with no other team: a guest is added by their own coach, or by the director."
        ),
        "guests_later": _("The names of other teams come from the club; that takes a signal."),
        "heads_said": _("{n} heads counted"),
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
        "not_kept": _(
            "This phone is full, or saves nothing for pages. Leave this page open until everything is sent."
        ),
        "another_account": _("Somebody else is signed in. It is sent once whoever recorded it signs in."),
        "gone": _(
            "The club has no such session any more, or not for you. What you recorded stays on this phone."
        ),
        "no_signal": _("No signal. This was worked out before:"),
        "none_near": _(
            "No signal, and nothing was worked out for {n} players. Play the nearest variation, and let whoever is over be off in turn."
        ),
        "all_up": _("Set everything up for {n}"),
        "all_later": _("No signal, and this phone holds no answers yet. They come with the first signal."),
        "all_done": _("Set up for {n}."),
        "all_none": _("Nothing was set up again."),
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
        "hold_next": _("Press and hold: part {n}"),
        "hold_end": _("Press and hold: finish"),
        "press_again": _("Press again to go on to the next part."),
        "this_phone": _("This phone"),
        **{name: str(word) for name, word in APART.items()},
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
        "by_heads": _("{n} heads counted; nobody is marked yet"),
        "by_plan": _("{n} expected; nobody is marked yet"),
        "with_trialist": _("({n} trialist)"),
        "with_trialists": _("({n} trialists)"),
        "you_say": _("You say {n}."),
    }


def words_of_the_copy() -> dict[str, str]:
    """Of what this phone keeps for times without signal."""
    return {
        "saved": _("Saved on this phone: it opens without signal, from the home screen or a bookmark."),
        "saved_no_https": _(
            "What you record is saved on this phone. At this address the page itself can't open without signal (that takes https): leave it open."
        ),
        "not_opening": _(
            "What you record is saved on this phone. The page itself can't open without signal yet: leave it open."
        ),
        "cleared": _(
            "The browser has cleared the saved copy. With signal it is saved again: leave this page open until then."
        ),
        "saved_in_part": _("Saved on this phone, but not yet what “Numbers changed” answers without signal."),
        "not_saved_full": _(
            "This phone is full, or saves nothing for pages: without signal leave this page open."
        ),
        "saved_copy": _("Saved copy from {time}. It runs without signal."),
        "saved_and_signal": _("Saved copy from {time}."),
        "load_new": _("Load the latest"),
        "clock_fast": _(
            "This phone's clock is {n} min fast. The clock of the session runs right, and so does what you record."
        ),
        "clock_slow": _(
            "This phone's clock is {n} min slow. The clock of the session runs right, and so does what you record."
        ),
        "planned_since": _("The club has changed this session since."),
        "cancelled_since": _("This session is cancelled. What you record is saved all the same."),
    }


def words_of_afterwards() -> dict[str, str]:
    """Of what is said once it is over."""
    return {
        "collected": _("Last child collected: {time}. Tap again if another one was still waiting."),
        "came_here": _("{n} here"),
        "confirmed": _("Register confirmed {time}"),
        "confirmed_at": _("confirmed {time}"),
        "no_register": _("Nobody is marked yet."),
        "rated": _("{word} ({n} of 10)"),
        "noted": _("Note saved."),
        "delivered": _("All of it took place"),
        "shortened": _("{n} minutes took place"),
        "again": _("Again?"),
        "all_again": _("Again? yes, for all of them"),
        "next_saved": _("For next time: saved"),
        "next_gone": _("For next time: removed"),
        "all_recorded": _("Everything is recorded."),
        "still_to_say": _("Still to say: {what}."),
        "say_register": _("the register"),
        "say_effort": _("how hard it was"),
        "say_took": _("whether all of it took place"),
        "say_collected": _("the last child collected"),
        "on_phone": _("Still on this phone: {n}. It is sent as soon as there is a signal."),
        "all_sent": _("All of it is sent."),
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
        "teams_anew": _("Make them again"),
        "teams_made": _("Teams of {n}."),
        "teams_for": _("{n} here, for {title}."),
        "teams_nobody": _("Nobody is marked here yet: take the register first."),
        "teams_none": _("This part has no teams."),
        "teams_tap": _("Tap a name: on to the next team."),
        "teams_keepers": _("Keepers"),
        "teams_tonight": _("Teams by name"),
        "teams_missing": _("In no team yet: {who}. Make them again."),
        "not_together": _("{a} and {b} can't be together."),
        "not_apart": _("{a} and {b} can't be apart."),
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


def words_of_running() -> dict[str, str]:
    """Of the controls of a part that runs, and of the whistle."""
    return {
        "pause": _("Pause"),
        "go_on": _("Go on"),
        "paused": _("Clock paused."),
        "goes_on": _("The clock runs again."),
        "easier_now": _("Easier now."),
        "harder_now": _("Harder now."),
        "as_written": _("As written again."),
        "press_longer": _("Press and hold, until the button is full."),
        "has_begun": _("Part {n} has begun."),
        "finished": _("The last part is over."),
        "finished_early": _("Finished early."),
        "to_come": _("{n} to come"),
        "was_dropped": _("One round fewer: {n}."),
        "skip": _("Skip this part"),
        "skip_rest": _("Skip the rest of it"),
        "unskip": _("Don't skip it"),
        "was_skipped": _("Skipped: {title}"),
        "not_begun": _("Not begun: {title}"),
        "whistle_on": _("It sounds and vibrates at the end of each round and rest. Turn the volume up."),
        "whistle_off": _("Off: at the end of a round or rest the phone vibrates only."),
        "whistle_off_still": _("Off. This phone can't vibrate for a page either."),
        "whistle_tap": _("Tap anywhere once: a phone sounds for a page only after a tap."),
        "no_shake": _(
            "It sounds at the end of each round and rest; this phone can't vibrate for a page. Turn the volume up."
        ),
        "no_sound": _("This phone can't sound for a page: it vibrates only."),
        "neither": _("This phone can neither sound nor vibrate for a page: look at the clock."),
    }


def words_of_heads() -> dict[str, str]:
    """Of a helper's page alone, some in the place of those that are for staff."""
    return {
        "heads_right": _("{n} are here"),
        "heads_counted": _("{n} counted."),
        "heads_expected": _("{n} are expected. Count, then say how many are here."),
        "heads_register": _("The coach's register has {n} players. It leads."),
        "sign_in": _(
            "This phone may not send any more: the number was changed, or the time is over. Ask the coach."
        ),
        "sign_in_link": _("Type the number"),
    }

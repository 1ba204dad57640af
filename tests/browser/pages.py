"""Every page that is looked at: by whom, and where it is in the demo club. Pictures and axe share this list."""

from collections.abc import Callable
from dataclasses import dataclass

from tests.browser import addresses, week_addresses
from tests.browser.addresses import COACH, DIRECTOR, HELPER, READER


@dataclass(frozen=True)
class Page:
    """A page by name; `path` is worked out in the demo club; `who` is empty for somebody who isn't signed in.

    `like` names a page that has all that this one is built of: eyes look at both, axe at that one alone. `view` and
    `press` are opened and pressed before a picture is taken; `screen` takes what is seen at once, not all of the page.
    """

    name: str
    who: str
    path: Callable[[], str]
    like: str = ""
    view: str = ""
    press: str = ""
    screen: bool = False


def _at(path: str) -> Callable[[], str]:
    return lambda: path


PAGES = (
    Page("sign-in", "", _at("/accounts/login/")),
    Page("words", "", _at("/words/")),
    Page("not-found", COACH, _at("/nothing-here/")),
    Page("home-coach", COACH, _at("/")),
    Page("home-director", DIRECTOR, _at("/")),
    Page("home-helper", HELPER, _at("/"), like="home-coach"),
    Page("library", COACH, _at("/library/")),
    Page("library-found", COACH, _at("/library/?players=14&length=40&width=30&age_group=U12")),
    Page("library-spelt", COACH, _at("/library/?q=all+abord"), like="library-found"),
    Page("library-empty", COACH, _at("/library/?q=zeppelin")),
    Page("drill", COACH, lambda: addresses.drill("All Aboard")),
    Page(
        "drill-fit", COACH, lambda: addresses.drill("All Aboard") + "?players=15&length=30&width=20&adults=2"
    ),
    Page(
        "drill-use",
        COACH,
        lambda: (
            f"/sessions/use{addresses.drill('All Aboard').removeprefix('/library')}?players=15&length=30&width=20"
        ),
    ),
    Page("drill-sketches", DIRECTOR, addresses.drill_with_photo),
    Page("drill-sketches-coach", COACH, addresses.drill_with_photo, like="drill-sketches"),
    Page("drill-youngest", COACH, lambda: addresses.drill("Hens and Foxes"), like="drill"),
    Page("drill-draw", DIRECTOR, lambda: addresses.drill("All Aboard") + "draw/"),
    Page(
        "drill-share",
        COACH,
        lambda: addresses.drill("Post and Return"),
        press="#share > summary",
        like="drill",
    ),
    Page("drill-video", COACH, lambda: addresses.drill_video("done")),
    Page("drill-video-made", COACH, lambda: addresses.drill_video("working")),
    Page("drill-video-failed", COACH, lambda: addresses.drill_video("failed"), like="drill-video"),
    Page("library-files", COACH, _at("/library/files/")),
    Page("drill-quick", COACH, _at("/library/quick/?numbers=5v5%2B2&length=30&width=20")),
    Page("drill-write", COACH, _at("/library/write/")),
    Page("week-director", DIRECTOR, _at("/sessions/weeks/")),
    Page("week-coach", COACH, _at("/sessions/weeks/"), like="week-director"),
    Page("block", DIRECTOR, _at("/sessions/block/")),
    Page("block-coach", COACH, _at("/sessions/block/"), like="block"),
    Page("block-taught", DIRECTOR, week_addresses.block_taught),
    Page("blocks", DIRECTOR, _at("/club/blocks/")),
    Page("block-add", DIRECTOR, _at("/club/blocks/add/")),
    Page("block-remove", DIRECTOR, lambda: week_addresses.block() + "remove/"),
    Page("block-targets", DIRECTOR, week_addresses.block_targets),
    Page("sessions", COACH, _at("/sessions/")),
    Page("session-done", COACH, addresses.session_done),
    Page("session", COACH, addresses.session_tonight),
    Page("session-parts", COACH, lambda: addresses.session_tonight() + "parts/"),
    Page("session-set-up", COACH, lambda: addresses.session_tonight() + "set-up/?players=15"),
    Page("session-wish", COACH, lambda: addresses.session_tonight() + "propose/"),
    Page("session-proposal", COACH, addresses.proposal),
    Page("session-clash", COACH, lambda: addresses.proposal(load_au=50.0)),
    Page("session-youngest", DIRECTOR, addresses.session_of_youngest, like="session"),
    Page(
        "session-wish-youngest",
        DIRECTOR,
        lambda: addresses.session_of_youngest() + "propose/",
        like="session-wish",
    ),
    Page("session-frame", COACH, lambda: addresses.session_tonight() + "edit/"),
    Page("session-share", COACH, addresses.session_with_link),
    Page("session-shared", "", addresses.session_shared),
    Page("session-by-code", "", addresses.session_by_code),
    Page("session-new", COACH, _at("/sessions/new/")),
    Page("session-ready", COACH, lambda: addresses.session_tonight() + "ready/"),
    Page("slot-again", DIRECTOR, week_addresses.slot_again),
    Page("slots", DIRECTOR, _at("/sessions/slots/")),
    Page("squad-week", DIRECTOR, lambda: f"/sessions/squads/{addresses.squad_id('U14')}/"),
    Page(
        "squad-week-youngest",
        DIRECTOR,
        lambda: f"/sessions/squads/{addresses.squad_id('U9')}/",
        like="squad-week",
    ),
    Page("pitch", COACH, addresses.pitch_phone, screen=True),
    Page("squads", DIRECTOR, _at("/squads/")),
    Page("readings", DIRECTOR, addresses.readings),
    Page("squad", COACH, lambda: f"/squads/{addresses.squad_id()}/"),
    Page("squad-reader", READER, lambda: f"/squads/{addresses.squad_id()}/", like="squad"),
    Page("club", DIRECTOR, _at("/club/")),
    Page("account", COACH, _at("/account/")),
    Page("staff", DIRECTOR, _at("/club/staff/")),
    Page("staff-coach", COACH, _at("/club/staff/"), like="staff"),
    Page("staff-dates", DIRECTOR, addresses.staff_dates),
    Page("invite", DIRECTOR, _at("/club/staff/invite/")),
    Page("guidelines", DIRECTOR, _at("/club/guidelines/")),
    Page("guideline-add", DIRECTOR, _at("/club/guidelines/add/")),
    Page("age-groups", DIRECTOR, _at("/club/age-groups/")),
    Page("age-group", DIRECTOR, addresses.age_group),
    Page("age-group-change", DIRECTOR, lambda: addresses.age_group() + "change/"),
    Page("pitches", DIRECTOR, _at("/club/pitches/")),
    Page("pitch-change", DIRECTOR, addresses.pitch_change, like="zone"),
    Page("zone", DIRECTOR, addresses.zone_change),
    Page("pitch-add", DIRECTOR, _at("/club/pitches/add/"), like="zone"),
    Page("kit", DIRECTOR, _at("/club/kit/")),
    Page("themes", DIRECTOR, _at("/club/themes/")),
    Page("club-settings", DIRECTOR, _at("/club/settings/")),
    Page("player", COACH, addresses.player),
    Page("player-out", COACH, addresses.player_out, like="player"),
    Page("session-again", DIRECTOR, lambda: addresses.session_tonight() + "again/"),
    Page("session-stations", COACH, addresses.part_stations),
    Page("session-turns", COACH, addresses.station_turns),
    Page("part-orders", DIRECTOR, _at("/sessions/orders/")),
    Page("proposal-weights", DIRECTOR, _at("/sessions/weights/")),
    Page("session-together", DIRECTOR, lambda: addresses.session_tonight() + "together/"),
    Page("staff-leaving", DIRECTOR, addresses.staff_leaving),
    Page("session-move", DIRECTOR, lambda: addresses.session_tonight() + "move/"),
    Page("session-reader", READER, addresses.session_tonight, like="session"),
    Page("slot-new", DIRECTOR, _at("/sessions/slots/new/")),
    Page("squads-left", DIRECTOR, _at("/squads/left/")),
    Page("link-spent", "", _at("/enter/used-before/")),
    Page("calendar-own", COACH, _at("/sessions/calendar/"), like="calendar-team"),
    Page("calendar-team", COACH, week_addresses.calendar_of_team),
    Page("calendar-pitch", DIRECTOR, week_addresses.calendar_of_pitch, like="calendar-team"),
    Page("calendar-club", DIRECTOR, _at("/sessions/calendar/club/"), like="calendar-team"),
    Page("days", DIRECTOR, _at("/sessions/days/")),
    Page("pitch-lost", DIRECTOR, week_addresses.pitch_lost),
    Page("coach-away", DIRECTOR, week_addresses.coach_away),
    Page("pitch-lost-which", COACH, _at("/sessions/pitch-off/"), like="pitch-lost"),
    Page("days-matches", COACH, _at("/sessions/days/matches/")),
    Page("days-closed", DIRECTOR, _at("/sessions/days/closed/"), like="days-matches"),
    # Last: it takes tonight's register, which other pages show as not yet taken.
    Page("attendance", DIRECTOR, week_addresses.attendance),
    Page("attendance-reader", READER, lambda: f"/sessions/squads/{addresses.squad_id()}/attendance/"),
    Page("attendance-teams", DIRECTOR, _at("/sessions/attendance/")),
)

# Views of one address: for eyes alone; tests of the pitch ask axe about them.
VIEWS = (
    Page("pitch-part", COACH, addresses.pitch_phone, view="part", screen=True),
    Page("pitch-register", COACH, addresses.pitch_phone, view="register"),
    Page(
        "pitch-player",
        COACH,
        addresses.pitch_phone,
        view="register",
        press="#names > li:nth-child(2) .more",
        screen=True,
    ),
    Page("pitch-more", COACH, addresses.pitch_phone, view="more"),
    Page(
        "pitch-thunder", COACH, addresses.pitch_phone, view="more", press="#more [data-thunder]", screen=True
    ),
    Page("pitch-numbers", COACH, addresses.pitch_phone, view="numbers"),
    Page("pitch-emergency", COACH, addresses.pitch_phone, view="emergency"),
    Page("pitch-after", COACH, addresses.pitch_phone, view="after"),
)

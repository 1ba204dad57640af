"""The demo club's calendars, with everything switched on that can be: no player stands in any of them."""

from club.models import ClubSettings, Pitch, Player, Squad, User
from sessions.choices import Reach
from sessions.queries.calendar.links import CalendarOf
from tests.sessions.calendar.reading import address, text_at


def test_no_player_stands_in_any_calendar_of_the_demo_club(demo_database: str) -> None:
    director = User.objects.get(email="director@demo.example")
    assert ClubSettings.objects.get().is_demo
    calendars = [
        CalendarOf(Reach.CLUB),
        *(CalendarOf(Reach.TEAM, each) for each in Squad.objects.all()),
        *(CalendarOf(Reach.PITCH, each) for each in Pitch.objects.all()),
        *(CalendarOf(Reach.PERSON, each) for each in User.objects.filter(roles__isnull=False).distinct()),
    ]
    text = "".join(
        text_at(address(director, of, with_place=True, with_coach=True)).replace("\r\n ", "")
        for of in calendars
    )
    names = set(Player.objects.values_list("display_name", flat=True))
    assert len(names) > 20
    assert text.count("BEGIN:VEVENT") > 100
    assert {name for name in names if name in text} == set()

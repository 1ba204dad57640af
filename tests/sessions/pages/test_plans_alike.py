"""A small plan is one picture wherever it stands: on Today's tape and on the session's own page."""

from dataclasses import replace
from typing import Any

from sessions.models import TrainingSession
from sessions.pages import tape
from sessions.pages.stations.plans import station_drawing
from sessions.queries import session_by_id
from sessions.queries.evening import ages_of
from sessions.queries.plan import session_view
from sessions.queries.rows import bring_parts

PREFIX = "t"  # what Today's pictures begin their names with


def test_today_draws_what_the_session_draws(demo_database: Any) -> None:
    coming = [each for each in TrainingSession.objects.order_by("period") if each.parts.count()][:12]
    bring_parts(coming, playing=coming)
    compared = set_up = 0
    for brief in coming:
        whole = session_by_id(brief.public_id)
        assert whole is not None
        for row, part in zip(brief.parts.all(), session_view(whole).parts, strict=True):
            if part.first is None or part.first.tonight is None:
                continue
            drawn = station_drawing(part.first, PREFIX)
            assert drawn is not None
            today = tape._plan(row.played_rows[0], ages_of(brief.age_group))
            assert today == str(drawn.picture), (str(brief), part.number)
            compared, set_up = compared + 1, set_up + (part.first.setup is not None)
    assert min(compared, set_up) > 10


def test_what_is_remembered_for_one_age_is_not_shown_to_another(demo_database: Any) -> None:
    """Goals of a match are as wide as those of the age: Echo is played to two."""
    brief = TrainingSession.objects.filter(parts__stations__revision__drill__title="Echo").order_by("pk")[0]
    whole = session_by_id(brief.public_id)
    assert whole is not None
    [station] = [
        each
        for part in session_view(whole).parts
        for each in part.stations
        if each.drill is not None and each.drill.title == "Echo"
    ]
    assert station.ages is not None
    older = replace(station.ages, under_low=18, under_high=18, youngest_years=17, a_side=11)
    pictures = {str(station_drawing(replace(station, ages=ages), PREFIX)) for ages in (station.ages, older)}
    assert len(pictures) == 2

"""Nothing that anybody sends ends in a 500, and what the API refuses it refuses with problem details."""

import logging
import os
from collections import Counter
from typing import Any

import pytest

from tests.fuzz.addresses import first
from tests.fuzz.asking import Asker, undone
from tests.fuzz.bodies import Described
from tests.fuzz.walk import Walk

pytestmark = pytest.mark.tx
MUCH = int(os.environ.get("FUZZ_MUCH", "1"))
SEED = int(os.environ.get("FUZZ_SEED", "9"))


def _things() -> dict[str, str]:
    """Of the demo club: this evening's session with all that hangs on it, and one of each that a body names."""
    from club.queries import today
    from sessions.models import Part, Station, TrainingSession

    session = TrainingSession.objects.get(age_group__label="U12", day=today())
    station = Station.objects.filter(part__session=session).order_by("part__position", "position").first()
    assert station is not None
    one = {
        "squad": str(session.squad.public_id),
        "age_group": str(session.age_group.public_id),
        "session": str(session.public_id),
        "drill": first("drills.Drill"),
        "theme": first("club.Theme"),
        "zone": first("club.Zone"),
        "slot": first("training.Slot"),
        "player": first("club.Player"),
    }
    return one | {
        "training.TrainingSession": str(session.public_id),
        "station_id": str(station.public_id),
        "part_id": str(Part.objects.get(pk=station.part_id).public_id),
    }


def test_nothing_that_is_sent_ends_in_a_500(demo_database: str, settings: Any, capsys: Any) -> None:
    from bibrack.api_urls import description
    from club.models import User

    logging.disable(logging.CRITICAL)
    settings.MIDDLEWARE = [each for each in settings.MIDDLEWARE if "zeal" not in each]
    director = User.objects.get(email="director@demo.example")
    askers = Asker(director), Asker(director, by_token=True)
    things = _things()
    walk = Walk(*askers, Described(description(), things), things, much=MUCH, seed=SEED)
    with undone():
        walk.all()
    logging.disable(logging.NOTSET)
    tried: Counter[int] = sum((each.tried for each in askers), Counter())
    failures = askers[0].failures | askers[1].failures
    with capsys.disabled():
        print(
            f"\n{tried.total()} requests at {len(walk.every)} addresses and {len(walk.forms)} forms, {dict(tried)}"
        )
    assert not failures, "\n\n".join(f"{cause}\n{where}" for cause, where in failures.items())

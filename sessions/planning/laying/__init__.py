"""The set-up plan of an evening: what is laid when, by how many adults, and what stands already."""

from sessions.planning.laying.model import SLACK_S, Crew, Lay, PartToLay, SetUpPlan, When, half_minutes
from sessions.planning.laying.plan import set_up_plan
from sessions.planning.laying.things import GridAt, PlacedKit, laying_s, things_of

__all__ = [
    "SLACK_S",
    "Crew",
    "GridAt",
    "Lay",
    "PartToLay",
    "PlacedKit",
    "SetUpPlan",
    "When",
    "half_minutes",
    "laying_s",
    "set_up_plan",
    "things_of",
]

"""What a drill says to whoever runs it, as short as the pitch allows."""

from dataclasses import dataclass

from django.utils.translation import gettext as _

from drills.game.document import DrillDocument
from drills.game.sentences import Names
from drills.pages.words import MOMENTS_OF_QUESTIONS
from sessions.sheet import CoachingQuestion

LOOK_FOR, ASK = 2, 3


@dataclass(frozen=True)
class Coaching:
    """Sentences to say, what to look for and ask, faults with their mending, challenges (harder?, text), safety."""

    say: tuple[str, ...] = ()
    points: tuple[tuple[str, str], ...] = ()
    asks: tuple[CoachingQuestion, ...] = ()
    praise: str = ""
    faults: tuple[tuple[str, str], ...] = ()
    challenges: tuple[tuple[bool, str], ...] = ()
    safety: tuple[str, ...] = ()
    coach_place: str = ""


def coaching_of(document: DrillDocument | None) -> Coaching:
    """The coaching of a drill; nothing where a part has none."""
    if document is None:
        return Coaching()
    groups = Names.of(document, _).groups
    return Coaching(
        say=document.say_this,
        points=tuple(
            (groups.get(each.role, each.role), each.looks_like) for each in document.points[:LOOK_FOR]
        ),
        asks=tuple(
            CoachingQuestion(
                groups.get(each.role, each.role),
                str(MOMENTS_OF_QUESTIONS[each.moment]),
                each.ask,
                each.listen_for,
            )
            for each in document.questions[:ASK]
        ),
        praise=document.praise or "",
        faults=tuple((each.fault, each.fix) for each in document.faults),
        challenges=tuple((each.harder, each.text) for each in document.challenges),
        safety=document.safety,
        coach_place=document.coach_place or "",
    )

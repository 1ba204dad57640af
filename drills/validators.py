"""One place for what the library refuses, called by actions, forms and the API alike."""

from typing import Any

from django.core.files.base import File
from django.utils.translation import gettext as _

from club import reading
from club.errors import FieldProblem, Refused
from club.validators import line_problems
from drills.choices import LONGEST_CAPTION
from drills.drawing.reading import plan_problems
from drills.game.document import DocumentError, DrillDocument, decode
from drills.game.problem import Problem
from drills.game.validate import errors, missing_for_review
from drills.photos import NotAPhoto, Photo, Wrong, check_length, clean

LONGEST_NOTE = 200
LONGEST_AFTER_USE = 300
MOST_CAME = 60
SHARED_FOR_DAYS = (7, 30, 90)
MOST_IMPORTED = 5_000
LARGEST_IMPORT_BYTES = 20 * 1024 * 1024


def to_document(data: bytes | str | dict[str, Any] | DrillDocument) -> DrillDocument:
    """A typed document without contradictions. Raises Refused with every problem and where it is."""
    try:
        document = data if isinstance(data, DrillDocument) else decode(data)
    except DocumentError as error:
        raise Refused(error.said(_), error.field) from error
    refuse(errors(document))
    return document


def refuse(problems: list[Problem]) -> None:
    """Raise Refused when there is anything wrong."""
    if problems:
        raise Refused([FieldProblem(each.field, each.said(_)) for each in problems])


def check_ready_for_review(document: DrillDocument) -> None:
    """Raise Refused with what another coach would miss, and with what is wrong with the plan."""
    refuse([*missing_for_review(document), *plan_problems(document)])


def check_note(note: str) -> str:
    """A revision's note, trimmed. Raises Refused when it is too long."""
    text = note.strip()
    _check_characters(text, "note")
    if len(text) > LONGEST_NOTE:
        raise Refused(
            _("A note has at most {longest_note} characters; this one has {count}.").format(
                longest_note=LONGEST_NOTE, count=len(text)
            ),
            "note",
        )
    return text


HOW_IT_WENT = {"": None, "yes": True, "no": False}


def check_after_use(text: str, players: str, worked: str = "") -> tuple[str, int | None, bool | None]:
    """What somebody noted after running a drill, with how many, and whether it worked. Raises Refused."""
    said, count = text.strip(), players.strip()
    if not said:
        raise Refused(_("What happened? A few words will do."), "text")
    _check_characters(said, "text")
    if len(said) > LONGEST_AFTER_USE:
        raise Refused(
            _("At most {n} characters; these are {m}.").format(n=LONGEST_AFTER_USE, m=len(said)), "text"
        )
    came = reading.whole(count, 1, MOST_CAME)
    if count and came is None:
        raise Refused(_("From 1 to {n} players.").format(n=MOST_CAME), "players")
    if worked not in HOW_IT_WENT:
        raise Refused(_("Choose one of the list."), "worked")
    return said, came, HOW_IT_WENT[worked]


def _check_characters(text: str, field: str) -> None:
    if not reading.is_text(text):
        raise Refused(_("That holds a character that cannot be saved."), field)


def check_photo(sent: "File[Any] | None") -> Photo:
    """A photo made small and clean. Raises Refused, by its length before it is read."""
    if sent is None:
        raise Refused(_("Choose a photo first."), "photo")
    try:
        check_length(sent.size)
        return clean(sent.read())
    except NotAPhoto as error:
        raise Refused(_photo_words(error), "photo") from error


def _photo_words(error: NotAPhoto) -> str:
    words = {
        Wrong.EMPTY: _("This file is empty. Choose the photo again."),
        Wrong.TOO_LARGE: _("This photo has {n} MB; up to {most} MB can be read."),
        Wrong.NO_PHOTO: _("This is no photo that can be read. Send it as JPEG, PNG or WebP."),
        Wrong.PHONES_OWN_FORMAT: _(
            "This is your phone's own format (HEIC), which can't be read here. Take or save the photo as JPEG."
        ),
        Wrong.TOO_MANY_PIXELS: _(
            "This photo has more than {most} million pixels. Take it in a smaller size, or cut it."
        ),
        Wrong.TOO_SMALL: _("This picture is too small to read: at least {least} pixels each way."),
        Wrong.MOVES: _("This picture moves. Send a still photo."),
        Wrong.DAMAGED: _("This photo is damaged, or only a part of it arrived. Send it again."),
    }
    return words[error.wrong].format(**error.figures)


def check_caption(text: str) -> str:
    """What a photo shows, in one line, trimmed; may be empty. Raises Refused."""
    said = text.strip()
    _check_characters(said, "caption")
    if len(said) > LONGEST_CAPTION:
        words = _("At most {n} characters; these are {m}.")
        raise Refused(words.format(n=LONGEST_CAPTION, m=len(said)), "caption")
    if problems := line_problems(caption=said):
        raise Refused(problems)
    return said

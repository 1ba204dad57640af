"""Two people changed one drill: nothing that only one of them changed is lost."""

from typing import Any

from drills.forms import DrillEditor, together
from drills.validators import to_document
from tests.drills.samples import WHOLE, whole
from tests.drills.typed import THEMES, opened, plain, saved, write

POINT = {"role": "yellows", "looks_like": "Side on."}


def both(theirs: dict[str, Any], **mine: Any) -> Any:
    """The document that comes of my form, opened before theirs was saved, sent over theirs."""
    base, now = plain(whole()), plain(whole(**theirs))
    data = opened(base)
    write(data, **mine)
    editor = DrillEditor(now, together(data, base, now, themes=THEMES), themes=THEMES)
    assert editor.is_valid()
    return to_document(editor.document)


def test_what_only_one_changed_stands() -> None:
    points = [*WHOLE.get("points", []), POINT]
    theirs = {"praise": "A pass first time.", "points": points, "title": "Theirs", "under_to": 16}
    made = both(theirs, purpose="Keep it, then break.", limits__0__number="3", title="Mine")
    assert (made.praise, made.points[-1].looks_like, made.under_to) == ("A pass first time.", "Side on.", 16)
    assert (made.purpose, made.conditions[0].number) == ("Keep it, then break.", 3)
    assert made.title == "Mine"  # both changed it: the form has mine, the page shows both


def test_what_they_took_away_is_gone_and_what_they_drew_stays() -> None:
    made = both({"faults": [], "notes": "", "questions": WHOLE["questions"][:1]}, purpose="Mine.")
    assert (made.faults, made.notes, len(made.questions)) == ((), "", 1)
    assert made == whole(faults=[], notes="", questions=WHOLE["questions"][:1], purpose="Mine.")


def test_an_untouched_form_is_theirs() -> None:
    theirs = plain(
        whole(title="Theirs", kit=[], work={"minutes": 12, "bouts": 1, "bout_s": 700, "rest_s": 0})
    )
    base = plain(whole())
    editor = saved(theirs, together(opened(base), base, theirs, themes=THEMES))
    assert editor.is_valid()
    assert to_document(editor.document) == to_document(theirs)

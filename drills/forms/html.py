"""Fields and repeated rows written in one go: the form has hundreds of them, and a template for each took long.

An empty row is the same for everybody, but for the selects that a drill adds to: it is written once per language.
"""

from collections.abc import Iterable
from functools import lru_cache
from typing import Any

from django.forms import BoundField, CheckboxInput, CheckboxSelectMultiple
from django.template.loader import render_to_string
from django.utils.html import conditional_escape, escape
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from drills.forms.base import Offered, RowForm, row_set

PLACE = "__prefix__"  # stands for the number of a row that is not there yet


def field_html(bound: BoundField, asked: str = "") -> str:
    """One field with its label, help and errors; `asked` says for which kinds it is shown."""
    widget = bound.field.widget
    if isinstance(widget, CheckboxSelectMultiple):
        return render_to_string("drills/form/field.html", {"field": bound})
    errors = bound.errors
    classes = "field" + (" wrong" if errors else "") + (" grow" if _is_long(bound) else "")
    written = _check(bound) if isinstance(widget, CheckboxInput) else _labelled(bound, bool(errors))
    return f'<div class="{classes}"{asked}>{written}{_errors(bound.auto_id, errors)}</div>'


def _is_long(bound: BoundField) -> bool:
    return (getattr(bound.field, "max_length", None) or 0) > 60


def _labelled(bound: BoundField, wrong: bool) -> str:
    name, help_text = bound.auto_id, bound.help_text
    words = [f"{name}_helptext"] * bool(help_text) + [f"{name}_error"] * wrong
    attrs: dict[str, Any] = {"id": name}
    if words:
        attrs["aria-describedby"] = " ".join(words)
    if wrong:
        attrs["aria-invalid"] = "true"
    if bound.field.required and bound.form.use_required_attribute:
        attrs["required"] = True
    helped = f'<p class="help" id="{name}_helptext">{escape(help_text)}</p>' if help_text else ""
    widget = bound.field.widget.render(bound.html_name, bound.value(), attrs)
    return f'<label for="{name}">{escape(bound.label)}</label>{helped}{widget}'


def _check(bound: BoundField) -> str:
    checked = " checked" if bound.value() else ""
    box = f'<input type="checkbox" name="{bound.html_name}" id="{bound.auto_id}"{checked}>'
    return f'<label class="check">{box}<span>{escape(bound.label)}</span></label>'


def _errors(name: str, errors: Iterable[Any]) -> str:
    items = "".join(f"<li>{conditional_escape(each)}</li>" for each in errors)
    return f'<ul class="errors" id="{name}_error">{items}</ul>' if items else ""


def row_html(row: RowForm) -> str:
    """One row with what takes it away. The words stand in the script's own buttons too."""
    gone = f"{row.add_prefix('DELETE')}"
    checked = " checked" if row.is_bound and row["DELETE"].value() else ""
    errors = "".join(f'<ul class="errors"><li>{conditional_escape(each)}</li></ul>' for each in _whole(row))
    fields = "".join(_asked_field(row, name) for name in row.shown_names)
    lines = "".join(
        f'<div class="pair">{"".join(_asked_field(row, name) for name in slot)}</div>' for slot in row.slots
    )
    slots = f'<div class="slots">{lines}</div>' if lines else ""
    away, back, put_back = _("remove"), _("Removed when you save."), _("Put back")
    return (
        f'<div class="again" data-row>{row["key"]}{errors}{fields}{slots}'
        f'<label class="check" data-delete-box><input type="checkbox" name="{gone}" id="id_{gone}"{checked}>'
        f"<span>{away}</span></label>"
        f'<div class="acts">{_moves(row)}<button type="button" class="small-button" data-remove hidden>'
        f"{away[:1].upper()}{away[1:]}</button></div>"
        f'<p class="back" hidden>{back} <button type="button" class="small-button" data-back>'
        f"{put_back}</button></p></div>"
    )


def _moves(row: RowForm) -> str:
    """What puts the row in another place: a handle for the script, and buttons that send the form and work without it."""
    if not row.ordered:
        return ""
    ways = (("up", _("Up"), _("Move up")), ("down", _("Down"), _("Move down")))
    hint = _("Move this one: drag it, or press the up and down keys")
    handle = f'<button type="button" class="small-button handle" data-handle hidden aria-label="{hint}">{_("Move")}</button>'
    return handle + "".join(
        f'<button type="submit" class="small-button" name="move" value="{row.prefix}-{way}"'
        f' formaction="#fold-{row.field}" formnovalidate aria-label="{spoken}">{words}</button>'
        for way, words, spoken in ways
    )


def _whole(row: RowForm) -> Iterable[Any]:
    return row.non_field_errors() if row.is_bound and not row.quiet else ()


def _asked_field(row: RowForm, name: str) -> str:
    decides, kinds = row.asked_for(name)
    if not decides:
        return field_html(row[name])
    listed = escape("|".join(sorted(kinds)))
    return field_html(row[name], f' data-of="{decides}" data-for="{listed}"')


def rows_html(formset: Any, offered: Offered, wrong: Iterable[str] = ()) -> str:
    """The counts, what is wrong with all rows together, the rows, and a row for the script to add."""
    blank = blank_html(formset.form, offered)
    forms = formset.forms
    begun = len(forms) if formset.is_bound else formset.initial_form_count()
    rows = [row_html(row) for row in forms[:begun]]
    rows += [blank.replace(PLACE, str(place)) for place in range(begun, len(forms))]
    told = _errors(f"id_{formset.prefix}", wrong)
    return f"{_counts(formset, len(forms))}{told}{''.join(rows)}<template>{blank}</template>"


def blank_html(row: type[RowForm], offered: Offered) -> str:
    """A row with nothing in it."""
    takes_more = row.offer is not RowForm.offer and offered != Offered()
    return _written(row, offered) if takes_more else _kept(row, get_language())


@lru_cache(maxsize=256)
def _kept(row: type[RowForm], language: str | None) -> str:
    return _written(row, Offered())


def _written(row: type[RowForm], offered: Offered) -> str:
    return row_html(row_set(row, 0)(prefix=row.field, form_kwargs={"offered": offered}).empty_form)


def _counts(formset: Any, total: int) -> str:
    counts = {
        "TOTAL_FORMS": total,
        "INITIAL_FORMS": formset.initial_form_count(),
        "MIN_NUM_FORMS": 0,
        "MAX_NUM_FORMS": formset.max_num,
    }
    prefix = formset.prefix
    return "".join(
        f'<input type="hidden" name="{prefix}-{name}" id="id_{prefix}-{name}" value="{count}">'
        for name, count in counts.items()
    )

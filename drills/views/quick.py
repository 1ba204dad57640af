"""A drill in a minute: the plan follows what is typed, and it is the coach's own at once."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from club import reading
from club.access import COACHES, who_may
from club.errors import Refused
from drills import actions, pages
from drills.forms.quick import QuickForm


@who_may(COACHES)
def quick(request: HttpRequest) -> HttpResponse:
    """The form, begun with what its address says; “Draw it” shows the plan without a script, with one it follows the fields."""
    sent = request.method == "POST"
    form = QuickForm(request.POST if sent else None, initial=_begun(request))
    is_valid, draws = form.is_valid(), request.POST.get("do") == "draw"
    if is_valid and not draws and form.document is not None:
        try:
            drill = actions.create_drill(actor=request.actor, document=form.document)
        except Refused as refused:
            form.add_problems(refused.problems)
        else:
            messages.success(
                request, _("Saved. It is yours to run with your team now; nobody has to review it.")
            )
            return redirect("drills:drill", drill.public_id)
    drawn = form if sent else QuickForm(_begun(request))
    drawn.is_valid()
    plan = pages.plan_beside(drawn.document) if drawn.document is not None else None
    page = (
        "drills/quick/plan.html" if draws and request.headers.get("HX-Request") else "drills/quick/quick.html"
    )
    context = {"form": form, "plan": plan, "draws": draws}
    return render(request, page, context, status=400 if sent and not draws else 200)


def _begun(request: HttpRequest) -> dict[str, str]:
    """What an address may say beforehand: numbers and size."""
    return {name: reading.as_typed(request.GET.get(name)) for name in ("numbers", "length", "width")}

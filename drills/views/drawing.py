"""Draw the plan of a drill: the page, what a drawing looks like while it is made, and saving it."""

from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_POST

from club import reading
from club.access import COACHES, who_may
from club.api_tools import sent_json
from club.choices import BIB_COLOURS
from club.errors import Refused, Stale
from drills import access, actions, queries
from drills.forms.scene import read_drawn
from drills.game.variations import own_scene, with_own_scene
from drills.pages import drawn


@who_may(COACHES)
@ensure_csrf_cookie
def draw(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """The page for drawing; a POST saves the drawing over the version that the writer has seen."""
    found, key = _found(request, public_id)
    if request.method == "POST":
        return _save(request, found, key)
    start = drawn.drawn_start(found.document, key)
    scene = drawn.scene_to_draw(found.document, key)
    data = {
        **start,
        "version": found.drill.version,
        "drill": str(public_id),
        "person": request.actor.user_id,
        "look": drawn.drawn_look(found.document, scene, key=key, step=0),
    }
    context = {"found": found, "data": data, "sides": drawn.sides_of(start), "bibs": dict(BIB_COLOURS)}
    rungs = {"rungs": drawn.rungs_to_draw(found.document), "claim_kinds": drawn.claim_kinds()}
    return render(request, "drills/draw/draw.html", {**context, **rungs})


@who_may(COACHES)
@require_POST
def look(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """What a drawing looks like and what is against it. Nothing is kept."""
    found, key = _found(request, public_id)
    try:
        sent = read_drawn(sent_json(request))
    except Refused as refused:
        return _refusal(refused)
    scene = sent.scene or drawn.generated_scene(found.document, key)
    return JsonResponse(drawn.drawn_look(found.document, scene, key=key, step=sent.step, lanes=sent.lanes))


def _found(request: HttpRequest, public_id: UUID) -> tuple[Any, str]:
    """The drill and the rung that is drawn; "" is the drill as written."""
    found, key = queries.document_for(request.actor, public_id), reading.text(request.GET.get("variation"))
    if not access.may_edit(request.actor, found.drill) or not found.has_rung(key):
        raise Http404
    return found, key


def _save(request: HttpRequest, found: Any, key: str) -> HttpResponse:
    public_id = found.drill.public_id
    try:
        sent = read_drawn(sent_json(request))
        drill = actions.revise_drill(
            actor=request.actor,
            public_id=public_id,
            version=sent.version,
            document=with_own_scene(found.document, key, sent.scene),
            note=_("Drawn plan") if sent.scene else _("Back to the generated plan"),
        )
    except Refused as refused:
        return _refusal(refused)
    except Stale as stale:
        return _stale(stale, key)
    address = reverse("drills:drill", args=[public_id]) + (f"?{urlencode({'variation': key})}" if key else "")
    return JsonResponse({"version": drill.version, "address": address})


def _stale(stale: Stale, key: str) -> HttpResponse:
    """Theirs beside mine: their plan, and whether it was the plan that they changed. A rung may be gone with them."""
    gone = all(each.key != key for each in stale.theirs.variations)
    key = "" if gone else key
    before = own_scene(stale.base, key) if stale.base is not None else None
    now = own_scene(stale.theirs, key)
    theirs = now or drawn.generated_scene(stale.theirs, key)
    answer = {
        "version": stale.version,
        "scene": drawn.plain_scene(theirs),
        "by_hand": now is not None,
        "plan_changed": stale.base is None or before != now,
        "svg": drawn.drawn_look(stale.theirs, theirs, key=key)["svg"],
    }
    return JsonResponse(answer, status=409)


def _refusal(refused: Refused) -> HttpResponse:
    problems = [{"field": each.field, "text": each.text} for each in refused.problems]
    return JsonResponse({"problems": problems}, status=400)

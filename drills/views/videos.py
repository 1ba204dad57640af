"""The moving plan of a drill as a video: ask for it, see how far it is, stop it, take it along."""

from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from club import reading
from club.access import STAFF, who_may
from club.api_tools import file_answer
from club.errors import Refused
from drills import access, actions, pages, queries
from drills.drawing.film import Film
from drills.views import plan


@who_may(STAFF)
@require_POST
def make(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Have the moving plan that the page shows made; the address says which, as that of the page does."""
    film = _film(request, queries.document_for(request.actor, public_id))
    try:
        row = actions.ask_for_video(actor=request.actor, public_id=public_id, film=film)
    except Refused as refused:
        messages.error(request, str(refused))
        return redirect(f"{reverse('drills:drill', args=[public_id])}?{request.GET.urlencode()}#share")
    return redirect("drills:video", public_id, row.public_id)


def _film(request: HttpRequest, found: queries.FoundDrill) -> Film:
    """The film that an address means. Raises Http404 where nothing moves, or there is no such plan."""
    key, grid = (reading.text(request.GET.get(name)) for name in ("variation", "grid"))
    evening, _problems = pages.evening_asked(request.GET) if "players" in request.GET else (None, [])
    try:
        tonight = pages.as_shown(found, key, grid, evening, plan.place(request))
    except KeyError as error:
        raise Http404 from error
    film = pages.film_of(tonight, plan.at(request)["turn"])
    if film is None:
        raise Http404
    return film


@who_may(STAFF)
def video(request: HttpRequest, public_id: UUID, video_id: UUID) -> HttpResponse:
    """How far it is, then the file. The page asks again by itself; without scripts it loads itself anew."""
    found = queries.document_for(request.actor, public_id)
    shown = pages.video_shown(request.actor, found, access.video_of(found.drill, video_id))
    template = "drills/video/answer.html" if request.headers.get("HX-Request") else "drills/video/video.html"
    return render(request, template, {"found": found, "shown": shown})


@who_may(STAFF)
@require_POST
def stop(request: HttpRequest, public_id: UUID, video_id: UUID) -> HttpResponse:
    """No more of it; whoever asked for it."""
    found = queries.document_for(request.actor, public_id)
    row = access.video_to_stop(request.actor, found.drill, video_id)
    actions.stop_video(video=row)
    return redirect("drills:video", public_id, video_id)


@who_may(STAFF)
def file(request: HttpRequest, public_id: UUID, video_id: UUID) -> HttpResponse:
    """The MP4. Nobody stands in it by name: a browser may keep it and ask whether it is still right."""
    found = queries.document_for(request.actor, public_id)
    row = access.video_of(found.drill, video_id)
    shown = pages.video_shown(request.actor, found, row)
    mp4 = queries.video_file(row)
    return file_answer(
        request,
        row.digest[:32],
        "video/mp4",
        lambda: mp4,
        Cache_Control="private, no-cache",
        Content_Disposition=f'attachment; filename="{shown.name}"',
    )

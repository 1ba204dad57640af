"""What a request about a drill asks for in its address: which rung, and what there is tonight."""

from typing import Any

import msgspec
from django.http import Http404
from django.utils.translation import gettext as _
from drf_spectacular.utils import OpenApiParameter
from rest_framework.exceptions import ParseError
from rest_framework.request import Request

from club import reading
from club.errors import Refused
from drills import pages, queries
from drills.game.evening import Evening
from drills.game.fits import fits
from drills.game.played import Played, as_played, dressed

FIT = OpenApiParameter("fit", int, description="Which of fit's answers, from 0; with players, length, width.")
TONIGHT = ("players", "keepers", "adults", "length", "width", "age")
TONIGHT_PARAMETERS = [
    OpenApiParameter("variation", str),
    *(OpenApiParameter(name, float if name in ("length", "width") else int) for name in TONIGHT),
]


def rung(request: Request, found: queries.FoundDrill) -> str:
    """The key of the rung that is asked for; raises Http404 where the drill has none of that name."""
    key = reading.text(request.query_params.get("variation"))
    if not found.has_rung(key):
        raise Http404
    return key


def tonight(request: Request) -> Evening:
    """Tonight's players, space and kit. Raises Refused with what is wrong beside each."""
    asked, problems = pages.evening_asked(request.query_params)
    if asked is None:
        raise Refused(problems)
    return asked


def as_asked(request: Request, found: queries.FoundDrill, key: str) -> Played:
    """The drill as it is run with the answer of Fit that `fit` asks for, as written without one. Raises Refused."""
    if "fit" not in request.query_params:
        try:
            return as_played(found.document, key, grid_key=reading.text(request.query_params.get("grid")))
        except KeyError as error:
            raise Refused(_("There is no such grid."), "grid") from error
    place, evening = whole(reading.text(request.query_params["fit"]), "fit"), tonight(request)
    every = fits(found.document, key, evening)
    if place >= len(every):
        raise Refused(_("There are {count} answers; the first is 0.").format(count=len(every)), "fit")
    return dressed(found.document, key, every[place], evening)


def whole(text: str, field: str) -> int:
    """A number from 0. Raises Refused."""
    found = reading.whole(text, 0, 9999)
    if found is None:
        raise Refused(_("“{typed}” is not a number from 0.").format(typed=reading.text(text, 20)), field)
    return found


def yes(text: str, field: str) -> bool:
    """A yes or no; nothing means no. Raises Refused."""
    words = {"": False, "0": False, "false": False, "1": True, "true": True}
    said = reading.text(text).lower()
    if said not in words:
        raise Refused(_("“{typed}” is neither true nor false.").format(typed=said[:20]), field)
    return words[said]


def body_as(request: Request, shape: type[Any]) -> Any:
    """The body as its shape. Raises ParseError."""
    try:
        return msgspec.convert(request.data, shape)
    except msgspec.ValidationError as error:
        raise ParseError(str(error)) from error

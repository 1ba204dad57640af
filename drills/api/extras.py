"""What else the library answers: fit, the whole library as a file and back, the document's schema."""

import json
from collections.abc import Iterator
from typing import Any, ClassVar
from urllib.parse import urlencode
from uuid import UUID

from django.http import StreamingHttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.reverse import reverse
from rest_framework.views import APIView

from club import reading
from club.access import ANYONE, COACHES, STAFF
from club.api_described import Described, answer
from drills import actions, pages, queries
from drills.api import answers, shapes
from drills.api.asked import TONIGHT, TONIGHT_PARAMETERS, rung, tonight
from drills.api.parsers import ImportParser
from drills.game.document import SCHEMA_VERSION, published_schema
from drills.game.fits import fits


class FitView(APIView):
    """Fit to tonight."""

    who_may = STAFF

    @extend_schema(
        operation_id="drills_fit", parameters=TONIGHT_PARAMETERS, responses=Described(shapes.FitResults)
    )
    def get(self, request: Request, public_id: UUID) -> Response:
        """The set-ups that work with tonight's players and space, nearest to the design first; or why none does."""
        found = queries.document_for(request.actor, public_id)
        key = rung(request, found)
        evening = tonight(request)
        fitted = fits(found.document, key, evening)
        said = {name: reading.text(request.query_params.get(name)) for name in TONIGHT}
        asked = {name: text for name, text in said.items() if text}
        address = reverse("api-drawing", [public_id], request=request)
        drawing = f"{address}?{urlencode({'variation': key, **asked})}"
        return answer(answers.fitted(fitted, found.document, key, evening, drawing))


class ExportView(APIView):
    """The whole library in one file."""

    who_may = STAFF

    @extend_schema(operation_id="drills_export", responses=Described(shapes.Export))
    def get(self, request: Request) -> StreamingHttpResponse:
        """Every drill that you may read, with the version of the schema."""
        response = StreamingHttpResponse(_exported(request.actor), content_type="application/json")
        response["Content-Disposition"] = 'attachment; filename="drills.json"'
        return response


def _exported(actor: Any) -> Iterator[str]:
    yield f'{{"schema_version": {SCHEMA_VERSION}, "drills": ['
    for number, row in enumerate(pages.export_rows(actor)):
        yield (",\n" if number else "\n") + json.dumps(row, ensure_ascii=False)
    yield "\n]}\n"


class ImportView(APIView):
    """Drills from a file."""

    who_may: ClassVar = {"POST": COACHES}
    parser_classes = [ImportParser]

    @extend_schema(
        operation_id="drills_import",
        request=Described(shapes.Export),
        responses=Described(shapes.ImportResult),
    )
    def post(self, request: Request) -> Response:
        """Take each row whole, or refuse it with its reasons. The same content is taken once."""
        rows = actions.import_drills(actor=request.actor, data=request.data)
        return answer(answers.imported(rows))


class DocumentSchemaView(APIView):
    """The JSON Schema of a drill document."""

    who_may = ANYONE

    @extend_schema(operation_id="drills_document_schema", responses=OpenApiTypes.OBJECT)
    def get(self, request: Request) -> Response:
        """JSON Schema 2020-12."""
        schema = published_schema()
        return Response(schema, headers={"Cache-Control": "public, max-age=3600"})

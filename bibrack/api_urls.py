"""The API's addresses, put together from the rooms."""

from functools import cache
from typing import Any

from django.urls import include, path
from drf_spectacular.authentication import SessionScheme
from drf_spectacular.contrib.knox_auth_token import KnoxTokenScheme
from drf_spectacular.generators import SchemaGenerator
from drf_spectacular.views import SpectacularAPIView

from club.access import ANYONE, route


class SignedInScheme(SessionScheme):  # type: ignore[no-untyped-call]
    """What the description calls a signed-in browser."""

    target_class = "club.api_access.SignedIn"


class ByTokenScheme(KnoxTokenScheme):  # type: ignore[no-untyped-call]
    target_class = "club.api_access.ByToken"


@cache
def description() -> Any:
    """The description, worked out once in a process: it is the same for everybody and takes half a second."""
    return SchemaGenerator().get_schema(request=None, public=True)


class ReadySchemaGenerator(SchemaGenerator):  # type: ignore[no-untyped-call]
    """Hands out the description that is at hand."""

    def get_schema(self, request: Any = None, public: bool = False) -> Any:
        return description()


class Schema(SpectacularAPIView):
    """The OpenAPI 3.1 description of this API."""

    who_may = ANYONE
    generator_class = ReadySchemaGenerator


urlpatterns = [
    route("schema/", Schema.as_view(), "schema"),
    path("", include("club.api_urls")),
    path("", include("drills.api_urls")),
    path("", include("sessions.api_urls")),
]

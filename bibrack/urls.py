"""The addresses of the whole installation."""

from django.urls import include, path

from bibrack import views
from club.access import route
from sessions.views.calendar.feed import calendar

urlpatterns = [
    route("", views.tonight, "tonight"),
    route("healthz", views.healthz, "healthz"),
    route("readyz", views.readyz, "readyz"),
    route("scheme", views.scheme, "scheme"),
    route("sw.js", views.worker, "worker"),
    route("manifest.webmanifest", views.manifest, "manifest"),
    route("begin/", views.begin_library, "begin-library"),
    route("begin/worked-out/", views.worked_out, "worked-out"),
    route("words/", views.words, "words"),
    route("styleguide", views.styleguide, "styleguide"),
    route("calendar/<str:secret>.ics", calendar, "calendar"),
    path("accounts/", include("club.account_urls")),
    path("", include("club.urls")),
    path("library/", include("drills.urls")),
    path("sessions/", include("sessions.urls")),
    path("api/v1/", include("bibrack.api_urls")),
]
handler400 = "bibrack.views.bad_request"
handler403 = "bibrack.views.forbidden"
handler404 = "bibrack.views.not_found"
handler500 = "bibrack.views.server_error"

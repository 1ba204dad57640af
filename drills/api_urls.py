"""Addresses of the API."""

from club.access import route
from drills.api import beside, checks, drawing, extras, views

urlpatterns = [
    route("drills/", views.Drills.as_view(), "api-drills"),
    route("drills/export/", extras.Export.as_view(), "api-drills-export"),
    route("drills/import/", extras.Import.as_view(), "api-drills-import"),
    route("drills/schema/document/", extras.DocumentSchema.as_view(), "api-drills-schema"),
    route("drills/<uuid:public_id>/", views.Drill.as_view(), "api-drill"),
    route("drills/<uuid:public_id>/fit/", extras.Fit.as_view(), "api-fit"),
    route("drills/<uuid:public_id>/checks/", checks.Checks.as_view(), "api-checks"),
    route("drills/<uuid:public_id>/drawing.svg", drawing.Drawing.as_view(), "api-drawing"),
    route("drills/<uuid:public_id>/drawing.png", drawing.Picture.as_view(), "api-drawing-png"),
    route("drills/<uuid:public_id>/close/", beside.Close.as_view(), "api-drill-close"),
    route("drills/<uuid:public_id>/notes/", beside.AfterUse.as_view(), "api-drill-notes"),
    route("drills/<uuid:public_id>/notes/<uuid:note_id>/", beside.OneNote.as_view(), "api-drill-note"),
    route("drills/<uuid:public_id>/links/", beside.ShareLinks.as_view(), "api-drill-links"),
    route("drills/<uuid:public_id>/links/<uuid:link_id>/", beside.OneLink.as_view(), "api-drill-link"),
]

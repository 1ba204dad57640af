"""Addresses of the API."""

from club.access import route
from drills.api import checks, drawing, extras, favourites, links, notes, sketches, views

urlpatterns = [
    route("drills/", views.DrillsView.as_view(), "api-drills"),
    route("drills/export/", extras.ExportView.as_view(), "api-drills-export"),
    route("drills/import/", extras.ImportView.as_view(), "api-drills-import"),
    route("drills/schema/document/", extras.DocumentSchemaView.as_view(), "api-drills-schema"),
    route("drills/<uuid:public_id>/", views.DrillView.as_view(), "api-drill"),
    route("drills/<uuid:public_id>/fit/", extras.FitView.as_view(), "api-fit"),
    route("drills/<uuid:public_id>/checks/", checks.ChecksView.as_view(), "api-checks"),
    route("drills/<uuid:public_id>/drawing.svg", drawing.DrawingView.as_view(), "api-drawing"),
    route("drills/<uuid:public_id>/drawing.png", drawing.PictureView.as_view(), "api-drawing-png"),
    route("drills/<uuid:public_id>/favourite/", favourites.FavouriteView.as_view(), "api-drill-favourite"),
    route("drills/<uuid:public_id>/notes/", notes.NotesView.as_view(), "api-drill-notes"),
    route("drills/<uuid:public_id>/notes/<uuid:note_id>/", notes.NoteView.as_view(), "api-drill-note"),
    route("drills/<uuid:public_id>/links/", links.ShareLinksView.as_view(), "api-drill-links"),
    route("drills/<uuid:public_id>/links/<uuid:link_id>/", links.ShareLinkView.as_view(), "api-drill-link"),
    route("drills/<uuid:public_id>/sketches/", sketches.SketchesView.as_view(), "api-drill-sketches"),
    route(
        "drills/<uuid:public_id>/sketches/<slug:sha256>/picture/",
        sketches.SketchPictureView.as_view(),
        "api-drill-sketch-picture",
    ),
    route(
        "drills/<uuid:public_id>/sketches/<uuid:sketch_id>/",
        sketches.SketchView.as_view(),
        "api-drill-sketch",
    ),
    route(
        "drills/<uuid:public_id>/sketches/<uuid:sketch_id>/approval/",
        sketches.SketchApprovalView.as_view(),
        "api-drill-sketch-approval",
    ),
]

"""Addresses of the pages."""

from club.access import route
from drills.views import annotations, drawing, files, library, plan, quick, sharing, sketches, steps, writing

app_name = "drills"
urlpatterns = [
    route("", library.library, "list"),
    route("files/", files.files, "files"),
    route("files/bring-in/", files.bring_in, "bring-in"),
    route("<uuid:public_id>/file/", files.download_drill, "file"),
    route("quick/", quick.quick, "quick"),
    route("write/", writing.write, "write"),
    route("<uuid:public_id>/change/", writing.edit, "edit"),
    route("<uuid:public_id>/", library.drill, "drill"),
    route("<uuid:public_id>/steps/", plan.steps, "steps"),
    route("<uuid:public_id>/draw/", drawing.draw, "draw"),
    route("<uuid:public_id>/draw/look/", drawing.look, "draw-look"),
    route("<uuid:public_id>/past/", annotations.past, "past"),
    route("<uuid:public_id>/past/<int:number>/restore/", annotations.restore, "restore"),
    route("<uuid:public_id>/compare/", annotations.compare, "compare"),
    route("<uuid:public_id>/favourite/", annotations.favourite, "favourite"),
    route("<uuid:public_id>/notes/", annotations.note, "note"),
    route("<uuid:public_id>/notes/<uuid:note_id>/drop/", annotations.drop_note, "note-drop"),
    route("<uuid:public_id>/share/", sharing.share, "share"),
    route("<uuid:public_id>/share/<uuid:link_id>/end/", sharing.end, "share-end"),
    route("<uuid:public_id>/sketches/", sketches.add, "sketch-add"),
    route("<uuid:public_id>/sketches/<slug:sha256>.jpg", sketches.picture, "sketch"),
    route("<uuid:public_id>/sketches/<uuid:sketch_id>/approve/", sketches.approve, "sketch-approve"),
    route("<uuid:public_id>/sketches/<uuid:sketch_id>/remove/", sketches.remove, "sketch-remove"),
    route("shared/<str:secret>/", sharing.shared, "shared"),
    route("<uuid:public_id>/adapt/", steps.adapt, "adapt"),
    route("<uuid:public_id>/review/", steps.send_for_review, "review"),
    route("<uuid:public_id>/approve/", steps.approve, "approve"),
    route("<uuid:public_id>/draft/", steps.return_to_draft, "return"),
    route("<uuid:public_id>/retire/", steps.retire, "retire"),
    route("<uuid:public_id>/unretire/", steps.unretire, "unretire"),
]

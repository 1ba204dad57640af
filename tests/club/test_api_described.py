"""One definition for an answer and its description: what is sent, and what is said of it."""

from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Annotated, Any
from uuid import UUID

import msgspec
import pytest
from django.utils import timezone
from django.utils.safestring import mark_safe
from drf_spectacular.openapi import AutoSchema
from drf_spectacular.plumbing import ComponentRegistry

from club.api_described import Described, Listed, Moment, answer, one_of, plain, shaped
from club.choices import AtEdge

ID = UUID("00000000-0000-4000-8000-000000000001")


class InsideShape(msgspec.Struct, frozen=True, kw_only=True):
    id: UUID
    edge: Annotated[str, one_of(AtEdge.choices)]


class Whole(msgspec.Struct, frozen=True, kw_only=True):
    """A whole."""

    at: Moment | None
    day: date
    share: float
    inside: list[InsideShape]


def whole(**changes: Any) -> Whole:
    usual: dict[str, Any] = {
        "at": datetime(2026, 7, 1, 16, 30, tzinfo=UTC),
        "day": date(2026, 7, 1),
        "share": 0.5,
        "inside": [InsideShape(id=ID, edge="fence")],
    }
    return Whole(**{**usual, **changes})


def described(target: Described) -> tuple[dict[str, Any], dict[str, Any]]:
    """What a response refers to, and every component by its name."""
    schema = AutoSchema()
    schema.registry = ComponentRegistry()
    ref = schema.resolve_serializer(target, "response").ref
    return ref, schema.registry.build({})["schemas"]


def test_moments_are_sent_in_the_club_s_zone_and_all_else_as_json_has_it() -> None:
    with timezone.override("Europe/Berlin"):
        assert plain(whole()) == {
            "at": "2026-07-01T18:30:00+02:00",
            "day": "2026-07-01",
            "share": 0.5,
            "inside": [{"id": str(ID), "edge": "fence"}],
        }
    with timezone.override("UTC"):
        assert plain([whole(), whole(at=None)])[0]["at"] == "2026-07-01T16:30:00Z"
        assert answer(whole(at=None), 201, {"ETag": '"v1"'}).data["at"] is None


def test_a_marked_text_and_a_figure_of_an_array_are_sent_as_plain_ones() -> None:
    import numpy as np

    sent = plain(whole(share=np.float64(0.25), inside=[InsideShape(id=ID, edge=mark_safe("open"))]))
    assert (sent["share"], type(sent["share"])) == (0.25, float)
    assert (sent["inside"][0]["edge"], type(sent["inside"][0]["edge"])) == ("open", str)


@pytest.mark.parametrize(
    "wrong", [{"share": Decimal("0.5")}, {"share": None}, {"at": datetime(2026, 7, 1)}, {"day": "soon"}]
)
def test_what_the_description_does_not_say_fails_the_test_that_asks_for_it(wrong: dict[str, Any]) -> None:
    with pytest.raises(msgspec.ValidationError):
        plain(whole(**wrong))


def test_a_value_with_the_same_names_becomes_its_shape() -> None:
    found = shaped(InsideShape, type("Row", (), {"id": str(ID), "edge": "open", "other": 1})())
    assert found == InsideShape(id=ID, edge="open")


def test_a_struct_is_described_with_all_inside_it() -> None:
    ref, components = described(Described(Whole))
    assert ref == {"$ref": "#/components/schemas/Whole"}
    assert components["Whole"]["description"] == "A whole."
    assert set(components["Whole"]["required"]) == {"at", "day", "share", "inside"}
    fields = components["Whole"]["properties"]
    assert fields["at"]["anyOf"] == [{"type": "string", "format": "date-time"}, {"type": "null"}]
    assert fields["inside"]["items"] == {"$ref": "#/components/schemas/Inside"}
    assert components["Inside"]["properties"]["edge"]["enum"] == AtEdge.values
    assert "InsideShape" not in str(components)


def test_a_list_and_a_page_of_it() -> None:
    ref, components = described(Described(InsideShape, many=True))
    assert ref == {"$ref": "#/components/schemas/InsideList"}
    assert components["InsideList"] == {"type": "array", "items": {"$ref": "#/components/schemas/Inside"}}
    ref, components = described(Listed(InsideShape))
    assert ref == {"$ref": "#/components/schemas/PaginatedInsideList"}
    assert components["PaginatedInsideList"]["required"] == ["count", "next", "previous", "results"]
    assert "Inside" in components

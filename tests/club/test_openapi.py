"""The API's own description: OpenAPI 3.1, valid, and naming every endpoint of the club."""

import json
from pathlib import Path

import pytest
import yaml
from django.test import Client
from openapi_spec_validator import OpenAPIV31SpecValidator

pytestmark = pytest.mark.django_db
PUBLISHED = Path(__file__).resolve().parents[2] / "docs" / "openapi.yaml"


def test_the_description_is_valid_and_names_the_club() -> None:
    response = Client().get("/api/v1/schema/", {"format": "json"}, headers={"accept": "application/json"})
    described = json.loads(response.content)
    assert described["openapi"] == "3.1.0"
    assert list(OpenAPIV31SpecValidator(described).iter_errors()) == []
    mine = {"age-groups", "squads", "pitches", "kit", "themes", "guidelines"}
    assert mine <= {path.removeprefix("/api/v1/").split("/")[0] for path in described["paths"]}
    players = described["components"]["schemas"]["Player"]["properties"]
    assert set(players) == {"id", "display_name", "shirt", "is_keeper", "out_until_lifted", "version"}
    published = yaml.load(PUBLISHED.read_text(encoding="utf-8"), yaml.CSafeLoader)
    assert published["paths"].keys() == described["paths"].keys(), "docs/openapi.yaml is old: run `make docs`"
    assert published == described, "docs/openapi.yaml is old: run `make docs`"

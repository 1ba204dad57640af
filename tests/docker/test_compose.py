"""The compose file: the specification's schema, and our own rules about rights, secrets and versions."""

import json
import re
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema.validators import validator_for

ROOT = Path(__file__).resolve().parents[2]
OURS = ("migrate", "web", "worker")


@cache
def compose() -> dict[str, Any]:
    return yaml.safe_load((ROOT / "docker-compose.yml").read_text(encoding="utf-8"))


def services() -> dict[str, dict[str, Any]]:
    return compose()["services"]


def test_the_services_are_these() -> None:
    assert list(services()) == ["database", "migrate", "web", "worker", "caddy"]


def test_the_file_keeps_to_the_specification() -> None:
    """The schema of the Compose Specification, as the package check-jsonschema carries it."""
    schema = files("check_jsonschema") / "builtin_schemas/vendor/compose-spec.json"
    rules = json.loads(schema.read_text(encoding="utf-8"))
    validator = validator_for(rules)(rules)
    assert [error.message for error in validator.iter_errors(compose())] == []
    broken = {**compose(), "services": {"web": {"imagine": "bibrack"}}}
    assert [error.message for error in validator.iter_errors(broken)] != []


def test_whoever_waits_for_health_waits_for_a_check() -> None:
    waits = [
        (name, other)
        for name, service in services().items()
        for other, how in service.get("depends_on", {}).items()
        if how["condition"] == "service_healthy"
    ]
    assert waits
    assert all("healthcheck" in services()[other] for _, other in waits)


@pytest.mark.parametrize("name", ["database", "migrate", "web", "worker", "caddy"])
def test_a_service_names_only_what_is_declared(name: str) -> None:
    service = services()[name]
    assert set(service.get("secrets", [])) <= set(compose()["secrets"])
    assert set(service.get("networks", [])) <= set(compose()["networks"])
    sources = [volume.split(":")[0] for volume in service.get("volumes", [])]
    assert {source for source in sources if not source.startswith(".")} <= set(compose()["volumes"])
    assert all((ROOT / source).exists() for source in sources if source.startswith("."))


def test_all_but_the_one_shot_have_a_health_check() -> None:
    assert [name for name, service in services().items() if "healthcheck" not in service] == ["migrate"]
    assert services()["migrate"]["restart"] == "no"


def test_images_are_pinned_to_a_major_version() -> None:
    assert re.fullmatch(r"postgres:17(\.\d+)?-\w+", services()["database"]["image"])
    assert re.fullmatch(r"caddy:2\.\d+(\.\d+)?-\w+", services()["caddy"]["image"])


@pytest.mark.parametrize("name", OURS)
def test_ours_run_without_rights_and_without_secrets_in_the_environment(name: str) -> None:
    service = services()[name]
    assert (service["read_only"], service["cap_drop"]) == (True, ["ALL"])
    assert "no-new-privileges:true" in service["security_opt"]
    assert {
        key for key in service["environment"] if re.search("SECRET|PASSWORD|_URL_|DATABASE|MAIL_URL", key)
    } == {
        "DATABASE_URL_FILE",
        "EMAIL_URL_FILE",
        "SECRET_KEY_FILE",
    }


def test_the_database_cannot_be_reached_from_outside() -> None:
    assert compose()["networks"]["inside"]["internal"] is True
    assert services()["database"]["networks"] == ["inside"]
    assert [name for name, service in services().items() if "ports" in service] == ["caddy"]


def test_the_image_ends_as_an_ordinary_user_and_carries_what_the_file_calls() -> None:
    lines = (ROOT / "Dockerfile").read_text(encoding="utf-8").splitlines()
    users = [line.split()[1] for line in lines if line.startswith("USER ")]
    assert users == ["bibrack"]
    assert [line.split()[1] for line in lines if line.startswith("FROM ")] == [
        "python:3.11-slim-bookworm"
    ] * 2
    named = re.findall(r"docker/[\w.]+", str([services()[name] for name in OURS]))
    assert sorted(set(named)) == ["docker/gunicorn.conf.py", "docker/web_alive.py", "docker/worker_alive.py"]
    assert all((ROOT / path).is_file() for path in named)


def test_the_proxy_blots_the_same_secrets_out_of_its_log() -> None:
    from bibrack.blot import SECRET_PATHS

    said = re.search(r'uri regexp "/\((.+?)\)/', (ROOT / "docker/Caddyfile").read_text(encoding="utf-8"))
    assert said is not None
    assert tuple(said[1].split("|")) == SECRET_PATHS

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

from bibrack.web.limits import RequestLimits

ROOT = Path(__file__).resolve().parents[2]
OURS = ("migrate", "web", "worker")
ALL = ("database", *OURS, "caddy")


@cache
def compose() -> dict[str, Any]:
    return yaml.safe_load((ROOT / "docker-compose.yml").read_text(encoding="utf-8"))


def services() -> dict[str, dict[str, Any]]:
    return compose()["services"]


def test_the_services_are_these() -> None:
    assert tuple(services()) == ALL


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


@pytest.mark.parametrize("name", ALL)
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


DIGEST = r"(@sha256:[0-9a-f]{64})?"  # docker/pin-images writes it: it can only be had from a registry


def test_images_are_named_to_the_patch() -> None:
    assert re.fullmatch(r"postgres:17\.\d+-bookworm" + DIGEST, services()["database"]["image"])
    assert re.fullmatch(r"caddy:2\.\d+\.\d+-alpine" + DIGEST, services()["caddy"]["image"])
    assert {services()[name]["image"] for name in OURS} == {"bibrack:local"}


@pytest.mark.parametrize("name", ALL)
def test_a_services_log_and_memory_are_bounded(name: str) -> None:
    service = services()[name]
    assert service["logging"]["options"] == {"max-size": "10m", "max-file": "4"}
    assert 0 < megabytes(service["mem_limit"]) <= 1024


def megabytes(text: str) -> int:
    """`768m`, `64MB` or `1g` as megabytes."""
    found = re.fullmatch(r"(\d+)(m|mb|g|gb)", text.lower())
    assert found, text
    return int(found[1]) * (1024 if found[2].startswith("g") else 1)


def test_the_databases_settings_fit_into_its_memory() -> None:
    """Shared buffers, one sort a connection, a vacuum, and 2 MB for each connection itself."""
    given = postgres_settings()
    connections = int(given["max_connections"])
    needed = (
        megabytes(given["shared_buffers"])
        + connections * (megabytes(given["work_mem"]) + 2)
        + int(given["autovacuum_max_workers"]) * megabytes(given["maintenance_work_mem"])
    )
    assert needed <= megabytes(services()["database"]["mem_limit"])
    assert connections >= 2 * 8 + 10, "two web processes and a worker"


def postgres_settings() -> dict[str, str]:
    program, *words = services()["database"]["command"]
    assert (program, {word[:2] for word in words}) == ("postgres", {"-c"})
    return dict(word[2:].split("=") for word in words)


def test_what_prepares_the_database_prints_no_link() -> None:
    assert "--no-links" in services()["migrate"]["command"]


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
    images = {line.split()[1] for line in lines if line.startswith("FROM ")}
    assert len(images) == 1
    assert re.fullmatch(r"python:3\.11\.\d+-slim-bookworm" + DIGEST, images.pop())
    named = re.findall(r"docker/[\w.]+", str([services()[name] for name in OURS]))
    assert sorted(set(named)) == ["docker/web_alive.py", "docker/worker_alive.py"]
    assert all((ROOT / path).is_file() for path in named)


def test_the_proxy_blots_the_same_secrets_out_of_its_log() -> None:
    from bibrack.blot import SECRET_PATHS

    said = re.search(r'uri regexp "/\((.+?)\)/', (ROOT / "docker/Caddyfile").read_text(encoding="utf-8"))
    assert said is not None
    assert tuple(said[1].split("|")) == SECRET_PATHS


def test_the_proxy_waits_for_nobody_for_ever_and_lets_go_of_a_connection_first() -> None:
    said = (ROOT / "docker/Caddyfile").read_text(encoding="utf-8")
    found = dict(re.findall(r"^\s*(read_header|read_body|idle|keepalive) (\d+[sm])", said, re.MULTILINE))
    assert found == {"read_header": "15s", "read_body": "10m", "idle": "2m", "keepalive": "30s"}
    assert int(found["keepalive"].removesuffix("s")) < RequestLimits().kept_alive_s
    largest = re.search(r"max_size (\d+)MB", said)
    assert largest is not None
    assert int(largest[1]) * 10**6 <= RequestLimits().large_body_bytes, "what it lets through, we take in"

"""Each page of the demo club through Django's client: queries, median milliseconds of nine, bytes plain and gzipped."""

import gzip
import logging
import statistics
import time

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from tests.browser.pages import PAGES

ROUNDS = 9


def test_pages(demo_database, settings) -> None:
    logging.disable(logging.WARNING)
    settings.MIDDLEWARE = [each for each in settings.MIDDLEWARE if "zeal" not in each]
    print(f"\n{'page':<18}{'queries':>8}{'ms':>8}{'bytes':>9}{'gzip':>8}")
    for page in PAGES:
        client = _client(page.who)
        path = page.path()
        client.get(path)
        with CaptureQueriesContext(connection) as captured:
            answer = client.get(path)
        queries = len(captured)  # before the next request empties the log
        times = [_timed(client, path) for _ in range(ROUNDS)]
        body = answer.content
        print(
            f"{page.name:<18}{queries:>8}{statistics.median(times):>8.1f}"
            f"{len(body):>9}{len(gzip.compress(body, 6)):>8}"
        )


def _client(email: str) -> Client:
    from club.models import User

    client = Client()
    if email:
        client.force_login(User.objects.get(email=email), backend="django.contrib.auth.backends.ModelBackend")
    return client


def _timed(client: Client, path: str) -> float:
    began = time.perf_counter()
    client.get(path)
    return (time.perf_counter() - began) * 1000

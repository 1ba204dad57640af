"""Reasons are said as people say them: one bout, two bouts."""

import re

import pytest

from sessions.planning.catalogue import CATALOGUE as ENTRIES
from sessions.planning.reasons import reason

CATALOGUE = {code: entry.text for code, entry in ENTRIES.items()}
OF_ONE = {code: (entry.counted, entry.one) for code, entry in ENTRIES.items() if entry.counted}


@pytest.mark.parametrize("code", OF_ONE)
def test_one_and_many_are_said_with_the_same_values(code: str) -> None:
    counted, of_one = OF_ONE[code]
    names = set(re.findall(r"{(\w+)}", CATALOGUE[code]))
    assert set(re.findall(r"{(\w+)}", of_one)) == names
    assert counted in names
    values = dict.fromkeys(names, 3)
    assert reason(code, **{**values, counted: 1}).text == of_one.format(**{**values, counted: 1})
    assert reason(code, **values).text == CATALOGUE[code].format(**values)
    assert of_one != CATALOGUE[code]


def test_no_sentence_leaves_the_plural_to_the_reader() -> None:
    assert [code for code, text in CATALOGUE.items() if "(s)" in text] == []


def test_a_number_that_is_not_whole_counts_as_many() -> None:
    assert reason("clear_headers", enough=1.5).counted == 2
    assert reason("clear_headers", enough=1.0).counted == 1
    assert reason("clear_alone").counted is None

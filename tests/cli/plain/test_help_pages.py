"""Help pages speak of what a maker knows."""

import re

import pytest

from tests.cli.conftest import run
from trueup.cli.verbs import VERBS

OF_PROGRAMMERS = re.compile(
    r"\b(nodes?|NODE|REVISION|stderr|boolean|parse[sd]?|default|FREE_TEXT|POSITION|CLONE)\b|[<>]="
)


@pytest.mark.parametrize("words", [(), *((verb,) for verb in VERBS), ("style", "x", "slit")])
def test_a_help_page_has_no_word_of_programmers(words: tuple[str, ...]) -> None:
    found = OF_PROGRAMMERS.findall(run(*words, "--help").out)
    assert found == []


def test_amend_names_the_options_of_all_kinds_once_and_says_where_they_are_told() -> None:
    out = run("amend", "--help").out
    assert "Of add-dart" not in out
    assert "`trueup correct PATTERN KIND --help` explains" in " ".join(out.split())
    _, _, named = out.partition("Options of the step's kind:")
    assert {"--by", "--at", "--dart"} <= set(re.findall(r"--[\w-]+", named))


def test_what_is_taken_where_nothing_is_given_is_said_in_words() -> None:
    out = " ".join(run("look", "--help").out.split())
    assert "the newest first (unless given: 5; 0 or more)." in out
    assert "(unless given: 60; 0 to 1440)." in out

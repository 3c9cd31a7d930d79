"""Since when, and between which two moments."""

import datetime

import pytest

from trueup.lineage.chronicle import Chronicle, span
from trueup.lineage.chronicle.errors import BadMoment, NotAfter

TODAY = datetime.date.today()
DAY = datetime.timedelta(days=1)


def count(chronicle: Chronicle, asked: span.Span) -> int:
    return len(list(chronicle.entries(asked)))


def test_since_a_version_leaves_it_out(chronicle: Chronicle) -> None:
    asked = span.since(chronicle.wardrobe, "HEAD~3", TODAY)
    assert count(chronicle, asked) == 3
    ids = [each.commit.id for each in chronicle.entries(asked)]
    assert chronicle.wardrobe.resolve("HEAD~3") not in ids


def test_since_a_day_takes_that_day(chronicle: Chronicle) -> None:
    first = min(commit.when.date() for commit in chronicle.commits)
    asked = span.since(chronicle.wardrobe, first.isoformat(), TODAY + 9 * DAY)
    assert count(chronicle, asked) == len(chronicle.commits)
    later = max(commit.when.date() for commit in chronicle.commits) + DAY
    asked = span.since(chronicle.wardrobe, later.isoformat(), TODAY + 9 * DAY)
    assert count(chronicle, asked) == 0


def test_between_takes_the_second_and_not_the_first(chronicle: Chronicle) -> None:
    asked = span.between(chronicle.wardrobe, "HEAD~5", "HEAD~2", TODAY)
    ids = [each.commit.id for each in chronicle.entries(asked)]
    assert ids == [chronicle.wardrobe.resolve(f"HEAD~{n}") for n in (2, 3, 4)]
    same = span.between(chronicle.wardrobe, "HEAD", "HEAD", TODAY)
    assert count(chronicle, same) == 0


def test_between_a_version_and_a_day(chronicle: Chronicle) -> None:
    day = max(commit.when.date() for commit in chronicle.commits).isoformat()
    asked = span.between(chronicle.wardrobe, "HEAD~2", day, TODAY + 9 * DAY)
    assert count(chronicle, asked) == 2


def test_moments_in_the_wrong_order_are_refused(chronicle: Chronicle) -> None:
    with pytest.raises(NotAfter, match="HEAD~4 comes before HEAD"):
        span.between(chronicle.wardrobe, "HEAD", "HEAD~4", TODAY)
    with pytest.raises(NotAfter):
        span.between(chronicle.wardrobe, "2025-03-02", "2025-03-01", TODAY)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("2025-02-30", "the calendar has no such day"),
        ("9999-01-01", "that day lies in the future"),
        ("last spring", "it is no date, and the history holds no such version"),
        ("", "it is no date, and that is not the name of a version"),
    ],
)
def test_what_is_no_moment_is_refused(chronicle: Chronicle, text: str, reason: str) -> None:
    with pytest.raises(BadMoment, match=reason):
        span.since(chronicle.wardrobe, text, TODAY)

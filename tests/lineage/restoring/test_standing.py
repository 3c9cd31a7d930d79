"""Where a wardrobe stands, from what its names, its logs and its commits say: no file in sight."""

from datetime import UTC, datetime, timedelta

from trueup.lineage.restoring.named.logs import Log, LogEntry
from trueup.lineage.restoring.named.names import Target
from trueup.lineage.restoring.named.standing import (
    MOST_PASSED_OVER,
    BranchStanding,
    Names,
    before_cut,
    branch_of,
    cuts,
    incomplete,
    name_of,
    standing,
)
from trueup.lineage.restoring.stored.commits import History, Made

MAIN = "refs/heads/main"
START = datetime(2025, 3, 1, tzinfo=UTC)


def commit(number: int, *parents: int) -> Made:
    when = START + timedelta(hours=number)
    above = tuple(f"{each:040x}" for each in parents)
    return Made(f"{number:040x}", f"{number:039x}e", above, when, f"Step {number}", b"")


def ids(*numbers: int) -> tuple[str, ...]:
    return tuple(f"{each:040x}" for each in numbers)


def line(count: int, *, without: tuple[int, ...] = ()) -> History:
    """Return the history of `count` steps, one after the other, some of which are lost."""
    made = [commit(1), *(commit(each, each - 1) for each in range(2, count + 1))]
    return History({each.id: each for each in made if int(each.id, 16) not in without})


def log(*numbers: int) -> Log:
    before: str | None = None
    entries = []
    for each in ids(*numbers):
        entries.append(LogEntry(b"", before, each, START))
        before = each
    return Log(tuple(entries))


def names(main: int | None, logged: int, head: str = MAIN, **more: Log) -> Names:
    logs = {MAIN: log(*range(1, logged + 1)), "HEAD": log(*range(1, logged + 1)), **more}
    return Names(Target(name=head), {} if main is None else {MAIN: ids(main)[0]}, (), logs)


def stands(
    said: Names, history: History, broken: tuple[int, ...] = (), lies: int | None = None
) -> BranchStanding:
    bad = ids(*broken)
    here = ids(lies)[0] if lies is not None else ""

    def is_whole(each: str) -> bool:
        return each in history.commits and each not in bad

    return standing(said, history, is_whole, lambda each: each == here)


def test_a_branch_stands_where_it_says() -> None:
    assert stands(names(5, 5), line(5)) == BranchStanding(MAIN, *ids(5))


def test_on_no_branch_it_stands_at_its_version() -> None:
    said = Names(Target(id=ids(3)[0]), {MAIN: ids(5)[0]}, (), {})
    assert stands(said, line(5)) == BranchStanding(None, *ids(3))


def test_without_its_name_it_stands_where_the_log_says() -> None:
    assert stands(names(None, 5), line(7)).tip == ids(5)[0]


def test_a_name_that_never_was_a_version_is_no_lost_step() -> None:
    found = stands(names(4711, 5), line(5))
    assert (found.tip, found.lost) == (ids(5)[0], ())


def test_what_is_not_whole_is_passed_over_and_told() -> None:
    found = stands(names(5, 5), line(5), broken=(5, 4))
    assert found.tip == ids(3)[0]
    assert [each.id for each in found.lost] == [*ids(5, 4)]
    assert [each.subject for each in found.lost] == ["Step 5", "Step 4"]


def test_a_lost_commit_is_passed_over_by_what_the_log_says_came_before() -> None:
    found = stands(names(5, 5), line(5, without=(5, 4)))
    assert found.tip == ids(3)[0]
    assert [each.id for each in found.lost] == [*ids(5, 4)]
    assert found.lost[0].when == START


def test_no_more_steps_are_given_up_than_a_few() -> None:
    count = MOST_PASSED_OVER + 5
    found = stands(names(count, count), line(count), broken=tuple(range(3, count + 1)))
    assert (found.tip, found.lost) == (ids(count)[0], ())


def test_without_name_and_logs_it_stands_at_the_latest_whole_version() -> None:
    said = Names(Target(name=MAIN), {}, (MAIN,), {})
    assert stands(said, line(5)).tip == ids(5)[0]
    assert stands(said, line(5), broken=(5,)).tip == ids(4)[0]


def test_a_step_no_log_names_counts_when_its_files_lie_here() -> None:
    assert stands(names(None, 5), line(6), lies=6).tip == ids(6)[0]
    assert stands(names(None, 5), line(6)).tip == ids(5)[0]
    assert stands(names(5, 5), line(6), lies=6).tip == ids(5)[0]


def test_the_branch_is_the_one_head_names_or_was_last_on() -> None:
    other = "refs/heads/winter"
    both = {MAIN: ids(5)[0], other: ids(3)[0]}
    assert branch_of(Names(Target(name=other), both)) == other
    assert branch_of(Names(None, both, (), {"HEAD": log(1, 2, 3)})) == other
    assert branch_of(Names(None, both)) == MAIN
    assert branch_of(Names(Target(name="refs/heads/nosuch"), {other: ids(3)[0]})) == other
    assert branch_of(Names(Target(name="refs/heads/new"), {})) == "refs/heads/new"
    assert branch_of(Names(None, {})) == MAIN


def test_another_name_stands_where_its_log_last_was_whole() -> None:
    other = "refs/heads/winter"
    history = line(5, without=(4,))
    said = Names(None, {other: ids(4)[0]}, (), {other: log(2, 3, 4)})
    tip, lost = name_of(other, said, history, history.commits.__contains__)
    assert (tip, [each.id for each in lost]) == (ids(3)[0], [*ids(4)])
    assert name_of("refs/tags/x", said, history, history.commits.__contains__) == (None, ())


def test_a_history_is_cut_where_a_step_is_lost() -> None:
    history = line(6, without=(3,))
    assert cuts(ids(6)[0], history) == {ids(4)[0]}
    said = names(6, 6)
    assert before_cut(ids(4)[0], said, history, ()) == (ids(2)[0], ids(3))
    history = line(6, without=(3, 2))
    assert before_cut(ids(4)[0], said, history, ()) == (ids(1)[0], ids(3, 2))


def test_whatever_comes_after_what_lacks_something_lacks_it_too() -> None:
    history = line(6, without=(3,))
    lacking = incomplete(history, lambda each: each not in ids(5))
    assert lacking == {*ids(4, 5, 6)}

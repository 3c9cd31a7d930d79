"""Many steps made in one second: what follows what decides, and neither their dates nor their ids.

The ids here go down where the steps go up, so that whoever sorts by them goes wrong.
"""

from datetime import UTC, datetime

from trueup.lineage.restoring.named.logs import Log
from trueup.lineage.restoring.named.names import Target
from trueup.lineage.restoring.named.standing import Names, before_cut, standing
from trueup.lineage.restoring.stored.commits import History, Made
from trueup.lineage.restoring.stored.missing import ListEntry, Need, needs

WHEN = datetime(2025, 3, 1, tzinfo=UTC)
MAIN = "refs/heads/main"


def name(number: int) -> str:
    return f"{1000 - number:040x}"


def listed(number: int) -> str:
    return f"{2000 - number:040x}"


def history(*parents: tuple[int, ...], without: tuple[int, ...] = ()) -> History:
    """Return the steps 1, 2, ... by what each follows, in an order that says nothing."""
    made = [
        Made(name(number), listed(number), tuple(map(name, above)), WHEN, "", b"")
        for number, above in enumerate(parents, start=1)
        if number not in without
    ]
    return History({each.id: each for each in sorted(made, key=lambda each: each.tree)})


LINE = ((), (1,), (2,), (3,), (4,), (5,))


def test_those_before_others_come_first() -> None:
    assert history(*LINE).in_order == tuple(map(name, range(1, 7)))


def test_the_versions_that_need_something_are_told_oldest_first() -> None:
    lost = "f" * 40
    broken = {listed(each): {"vest": ListEntry(b"100644", b"vest", lost)} for each in (2, 3, 4)}
    line = history(*LINE)
    (found,) = needs(line, line.commits, {lost}, broken)
    assert found == Need(lost, "vest", False, tuple(map(name, (2, 3, 4))))


def test_the_end_of_the_longest_line_is_the_latest() -> None:
    assert history((), (1,), (2,), (1,)).tips() == [name(3), name(4)]
    assert history((), (1,), (1,), (3,)).tips() == [name(4), name(2)]


def test_a_step_is_followed_by_the_one_that_is_followed_longest() -> None:
    for parents in (((), (1,), (1,), (3,)), ((), (1,), (1,), (2,))):
        (after,) = parents[3]
        assert history(*parents).followers()[name(1)] == name(after)


def test_it_stands_at_the_last_step_whose_files_lie_here() -> None:
    said = Names(Target(name=MAIN), {}, (), {MAIN: Log()})
    line = history(*LINE)
    here = (name(4), name(6)).__contains__
    assert standing(said, line, lambda each: each == name(3), here).tip == name(3)
    every = line.commits.__contains__
    assert standing(said, line, every, here).tip == name(6)


def test_where_no_log_goes_back_so_far_what_shares_nothing_came_before_the_gap() -> None:
    said = Names(None, {}, (), {})
    line = history(*LINE, without=(2, 5))
    assert before_cut(name(6), said, line, {name(6)}) == (name(4), (name(5),))
    reached = {name(6), name(4), name(3)}
    assert before_cut(name(3), said, line, reached) == (name(1), (name(2),))
    assert before_cut(name(3), said, line, {*reached, name(1)}) == (None, (name(2),))

"""From which version an edit was made, told from small files of a few fields."""

from trueup.lineage.hand_edits.opened_from import FileVersion, opened_from


def text(*steps: str, **fields: object) -> bytes:
    """Write a file with some fields and a table for each step; `a=2` is a step with an amount."""
    lines = [f"{name} = {value}" for name, value in fields.items()]
    for step in steps:
        name, _, amount = step.partition("=")
        lines += ["[[steps]]", f'id = "{name}"', f"by = {amount or 1}"]
    return "\n".join(lines).encode()


def by_verb(*contents: bytes | None) -> list[FileVersion]:
    return [FileVersion(each) for each in contents]


def opened(edited: bytes, versions: list[FileVersion]) -> int:
    """Return how many steps ago a text was opened."""
    found = opened_from(edited, versions)
    return next(index for index, version in enumerate(versions) if version is found)


def test_an_edit_that_knows_the_last_step_is_of_the_last_version():
    history = by_verb(text("a", "b"), text("a"), text())
    assert opened(text("a", "b", season=1), history) == 0
    assert opened(text("a=2", "b"), history) == 0
    assert opened(text("b"), history) == 0
    assert opened(text("a", "b", "c"), history) == 0


def test_an_edit_that_lacks_the_last_steps_is_of_the_version_before_them():
    history = by_verb(text("a", "b", "c"), text("a", "b"), text("a"), text())
    assert opened(text("a", "b", season=1), history) == 1
    assert opened(text("a", season=1), history) == 2
    assert opened(text("a=2"), history) == 2
    assert opened(text(season=1), history) == 3


def test_an_amount_that_was_amended_since_tells_as_well():
    history = by_verb(text("a=3", "b"), text("a=2", "b"), text("a=2"))
    assert opened(text("a=2", "b", season=1), history) == 1
    assert opened(text("a=2", season=1), history) == 2
    assert opened(text("a=4", "b", season=1), history) == 0


def test_a_step_that_was_dropped_since_comes_with_an_older_version():
    history = by_verb(text("a"), text("a", "b"), text("a"), text())
    assert opened(text("a", "b", season=1), history) == 1
    assert opened(text("a", season=1), history) == 0
    assert opened(text(season=1), history) == 3


def test_a_file_that_was_deleted_and_came_back_was_not_opened_while_it_was_gone():
    history = by_verb(text("a"), None, text("a"), text())
    assert opened(text(season=1), history) == 3


def test_versions_that_cannot_be_read_are_passed_over():
    history = by_verb(text("a", "b"), b"oh = no =", text("a"), text())
    assert opened(text("a", season=1), history) == 2
    assert opened(b"oh = no =", history) == 0
    assert opened(text("a"), by_verb(b"oh = no =", text("a"))) == 0


def test_an_editor_that_saved_once_already_knows_its_own_edit():
    history = [FileVersion(text("a", season=1), by_hand=True), *by_verb(text("a"), text())]
    assert opened(text(season=1, colour=2), history) == 2
    assert opened(text("a", season=1, colour=2), history) == 0


def test_whoever_knows_a_step_that_came_later_took_the_older_one_out_by_hand():
    history = by_verb(text("a", "b", season=1), text("a", "b"), text("a"), text())
    assert opened(text("a", season=1), history) == 0


def test_taking_back_one_of_two_own_edits_is_an_edit_of_the_last_version():
    history = [
        FileVersion(text(season=2, colour=2), by_hand=True),
        FileVersion(text(season=1, colour=2), by_hand=True),
        *by_verb(text(season=1, colour=1)),
    ]
    assert opened(text(season=2, colour=1), history) == 0
    assert opened(text(season=1, colour=2, size=3), history) == 1

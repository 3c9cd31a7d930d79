"""A step that was interrupted where it cannot be finished: readers answer, and say so."""

from typing import Any

import pytest

from trueup.lineage.store.writing import index

SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")


@pytest.fixture
def interrupted(trueup: Any, monkeypatch: pytest.MonkeyPatch) -> Any:
    """The step is recorded, no file has followed, and nobody can take the lock."""

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as during:
        during.setattr(index, "bring", stop)
        during.setattr("trueup.lineage.store.files.working_files.WorkingFiles.bring", stop)
        assert trueup(*SCOOP).code == 130
    room = trueup.folder / ".git" / "trueup"
    (room / "lock").unlink()
    (room / "lock").mkdir()
    return trueup


@pytest.mark.parametrize("words", [("tree",), ("check", "village"), ("conflicts",)])
def test_readers_answer_from_the_last_version_and_say_so(interrupted: Any, words: Any) -> None:
    answer = interrupted(*words)
    assert answer.code in (0, 1)
    assert "this is the last recorded version" in answer.err
    assert "Edited by hand" not in answer.err
    document = interrupted("history", "village", "--json").document
    assert "scoop-armhole" in str(document)


def test_the_next_writer_finishes_it(interrupted: Any) -> None:
    (interrupted.folder / ".git" / "trueup" / "lock").rmdir()
    interrupted.made("style", "own", "lengthen", "--by", "1cm")
    answer = interrupted.made("tree")
    assert answer.err == ""

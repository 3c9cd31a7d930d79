"""A cluster that is of no use is told in one sentence, and nothing is written."""

from pathlib import Path

import pytest

from tests.cli.conftest import Trueup

NOWHERE = ("--cluster", "tcp://127.0.0.1:1")


@pytest.mark.parametrize(
    "words",
    [
        ("correct", "village", "lengthen", "--by", "1cm", *NOWHERE),
        ("correct", "village", *NOWHERE, "lengthen", "--by", "1cm"),
        ("book", *NOWHERE),
        ("check", "--all", *NOWHERE),
    ],
)
def test_a_scheduler_that_does_not_answer_is_named(
    trueup: Trueup, words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("trueup.lineage.evaluation.cluster._PATIENCE", "1s")
    before, files = trueup.contents(), sorted(tmp_path.iterdir())
    answer = trueup(*words)
    assert answer.code == 2
    assert answer.err.strip() == (
        'The cluster "tcp://127.0.0.1:1" cannot be used: no scheduler answers there; '
        "start one with: dask scheduler, and give the address it prints."
    )
    assert (trueup.contents(), sorted(tmp_path.iterdir())) == (before, files)

"""Every verb is tried: those that write at their writing calls, and those that read make none."""

import pytest

from tests.faults.cases import CASES, Case, Writes
from tests.faults.scenes import filled
from tests.faults.trial import Trials
from trueup.cli.verbs import VERBS

# Verbs that only ever read; every other one must have a case that writes.
READS = {
    *("check", "measure", "origin", "history", "explain", "garments", "shared", "diagnose"),
    "look",
}


def test_every_verb_has_a_case() -> None:
    assert {case.verb for case in CASES.values()} - {""} == VERBS.keys()


def test_every_verb_that_writes_has_a_case_in_which_it_does() -> None:
    writing = {case.verb for case in CASES.values() if case.writes is not Writes.NOTHING}
    assert writing == VERBS.keys() - READS


@pytest.mark.parametrize(
    "case", [case for case in CASES.values() if case.writes is Writes.NOTHING], ids=lambda c: c.name
)
def test_a_reading_verb_writes_nothing(trials: Trials, case: Case) -> None:
    trials.workshop.take(case.scene)
    words = filled(case.words, trials.scenes.facts)
    outcome = trials.workshop.run(*words, watched=["place"])
    assert outcome.code in (0, 1), outcome.err
    assert [str(call) for call in outcome.calls] == []

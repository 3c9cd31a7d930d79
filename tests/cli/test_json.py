"""The JSON documents: exactly the keys that are promised, lengths in mm, nothing else on stdout."""

import shlex
from typing import Any

from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.units import Unit
from trueup.lineage.files.records import Role
from trueup.lineage.replay.verdicts import Verdict
from trueup.lineage.wardrobe import Wardrobe

SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
CONFLICT = {
    "id", "kind", "arose_at", "piece", "edge", "before_mm", "after_mm", "allowed_mm",
    "correction", "change", "remedies",
}  # fmt: skip


def keys(table: dict[str, Any]) -> set[str]:
    return set(table)


def test_a_previewed_correction(trueup: Any) -> None:
    document = trueup.made(*SCOOP, "--preview", "--json").document
    assert {"correction", "measures", "conflicts", "patterns"} <= keys(document)
    for each in document["measures"]:
        assert keys(each) == {"name", "before_mm", "after_mm"}
    names = [each["name"] for each in document["measures"]]
    assert names == ["front.chest-width", "front.armhole", "sleeve.cap-ease"]
    assert [each["name"] for each in document["patterns"]] == ["easy", "blouse", "own", "vest"]
    for each in document["patterns"]:
        assert keys(each) >= {"name", "verdict", "measures", "conflicts", "inherits", "note"}
        assert each["verdict"] in list(Verdict)
        for measure in each["measures"]:
            assert keys(measure) == {"name", "wanted_mm", "got_mm"}


def test_a_conflict_and_its_remedies(trueup: Any) -> None:
    document = trueup.made(*SCOOP, "--json").document
    (own,) = document["conflicts"]
    assert keys(own) >= CONFLICT
    assert (own["kind"], own["arose_at"], own["piece"], own["edge"]) == (
        "seam", "village", "sleeve", "cap",
    )  # fmt: skip
    assert own["correction"] == document["correction"]["steps"][0]["id"]
    low, high = own["allowed_mm"]
    assert own["before_mm"] > low > own["after_mm"]
    assert high > low
    refit = own["remedies"][0]
    assert keys(refit) >= {"name", "amount_mm", "command"}
    assert refit["name"] == "refit-cap"
    assert refit["amount_mm"] > 0
    assert shlex.split(refit["command"]) == [
        "trueup", "-C", str(trueup.folder), "decide", own["id"], "refit-cap",
    ]  # fmt: skip


def test_the_command_of_a_remedy_runs_as_it_stands(corrected: Any, anywhere: Any) -> None:
    found = corrected("conflicts", "village", "--json").document["conflicts"]
    words = shlex.split(found[0]["remedies"][0]["command"])
    assert words[0] == "trueup"
    assert anywhere(*words[1:]).code == 0
    assert corrected("conflicts", "village", "--json").document["conflicts"] == []


def test_conflicts(corrected: Any) -> None:
    document = corrected("conflicts", "--json").document
    assert document["conflicts"]
    for each in document["conflicts"]:
        assert keys(each) >= CONFLICT


def test_the_tree(trueup: Any) -> None:
    nodes = trueup.made("tree", "--json").document["nodes"]
    assert [(each["name"], each["kind"], each["parents"]) for each in nodes] == [
        ("village", "block", []),
        ("easy", "block", ["village"]),
        ("blouse", "pattern", ["easy"]),
        ("own", "pattern", ["village"]),
        ("vest", "pattern", ["village"]),
    ]


def test_measures(trueup: Any) -> None:
    document = trueup.made("measure", "village", "--json").document
    assert keys(document) == {"node", "measures"}
    assert document["node"] == "village"
    assert {"front.shoulder", "sleeve.cap-ease", "front.bust.intake"} <= keys(document["measures"])
    assert all(isinstance(value, float) for value in document["measures"].values())


def test_findings(corrected: Any) -> None:
    document = corrected("check", "village", "--json").document
    assert keys(document) == {"node", "true", "unchecked", "findings", "waiting"}
    assert (document["true"], document["unchecked"]) == (False, [])
    (finding,) = document["findings"]
    assert keys(finding) >= {
        "code", "severity", "piece", "edge", "measured_mm", "allowed_mm", "message",
    }  # fmt: skip
    assert finding["code"] == "seam"
    low, _ = finding["allowed_mm"]
    assert finding["measured_mm"] < low


def test_a_finding_of_an_angle_has_no_length(trueup: Any) -> None:
    with Wardrobe.open(trueup.folder) as wardrobe:
        # As the first versions of these left a cap: its ends kink against the armhole.
        for kind, by in (("widen-sleeve", "20mm"), ("raise-cap", "-8mm")):
            change = read_change(kind_named(kind, 1), {"by": by}, Unit.MILLIMETRE)
            wardrobe.record(wardrobe.propose_steps("easy", [change], Role.STYLE, ""))
    findings = trueup("check", "easy", "--json").document["findings"]
    angles = [each for each in findings if each["code"] == "kink"]
    assert angles
    for each in angles:
        assert (each["measured_mm"], each["allowed_mm"]) == (None, None)
        low, high = each["allowed_degrees"]
        assert (low, high) == (176, 184)
        assert not low <= each["measured_degrees"] <= high


def test_walked_seams(trueup: Any) -> None:
    seams = trueup.made("walk", "village", "--json").document["seams"]
    cap = next(each for each in seams if each["name"] == "armhole-seam")
    assert cap["side"] == ["sleeve.cap"]
    assert abs(cap["side_mm"] - cap["mate_mm"] - cap["ease_mm"]) < 1e-5
    assert cap["matches"] is True


def test_history(trueup: Any) -> None:
    document = trueup.made("history", "own", "--json").document
    assert [each["kind"] for each in document["chain"]] == ["scoop-armhole"]
    assert document["history"][0]["verb"] == "correct"
    assert document["history"][0]["node"] == "own"
    assert document["history"][0]["steps"] == [document["chain"][0]["id"]]


def test_what_needs_attention(corrected: Any) -> None:
    document = corrected("--json").document
    assert (document["blocks"], document["patterns"]) == (2, 3)
    assert document["conflicts"]
    assert document["next"].endswith("conflicts village")

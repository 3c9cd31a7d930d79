"""What needs attention, as facts: held against what each command says of its own matter."""

from collections.abc import Iterator
from contextlib import contextmanager

from tests.cli.conftest import Trueup
from trueup.lineage.attention.needed import NeedsAttention, needs_attention
from trueup.lineage.garments.since import Fate
from trueup.lineage.wardrobe import Wardrobe


@contextmanager
def needed(trueup: Trueup) -> Iterator[NeedsAttention]:
    with Wardrobe.open(trueup.folder) as wardrobe:
        yield needs_attention(wardrobe, wardrobe.evaluator)


def test_every_conflict_that_waits_and_no_finding_that_one_of_them_speaks_of(trueup):
    listed = trueup("conflicts", "--json").document["conflicts"]
    with needed(trueup) as found:
        assert [each.id for each in found.conflicts] == [each["id"] for each in listed]
        assert len(listed) > 3
        assert found.findings == ()


def test_what_a_style_left_untrue_is_a_finding_at_the_node_where_it_arose(trueup):
    trueup.made("style", "stays", "lengthen", "--by", "4cm", "--piece", "front")
    checked = trueup("check", "--all", "--json").document["nodes"]
    open_at = {
        (each["node"], one["id"])
        for each in checked
        for one in each["findings"]
        if one["severity"] != "note" and one["conflict"] is None
    }
    with needed(trueup) as found:
        assert {(name, each.id) for name, each in found.findings} == open_at
        assert {name for name, _ in found.findings} == {"stays"}


def test_a_held_pattern_tells_what_passed_it_by_and_why_it_stays(trueup):
    conflicts = trueup("conflicts", "vest", "--json").document["conflicts"]
    trueup.made("decide", conflicts[0]["id"], "hold", "--why", "it is cut already")
    trueup.made("correct", "village", "lower-neck", "--piece", "front", "--by", "2mm")
    trueup.made("style", "village", "lengthen", "--by", "2cm")
    with needed(trueup) as found:
        (held,) = found.held
        assert (held.node, held.parent, held.why) == ("vest", "village", "it is cut already")
        assert held.conflict == conflicts[0]["id"]
        # Not the style, which was made for looks.
        assert [each.step.kind for each in held.missed] == ["scoop-armhole", "lower-neck"]


def test_a_garment_is_outgrown_once_its_pattern_is_corrected_and_not_before(trueup):
    trueup.made("cut", "stays", "--name", "plain")
    trueup.made("cut", "vest", "--name", "waistcoat")
    with needed(trueup) as found:
        assert found.outgrown == ()
    trueup.made("correct", "village", "lower-neck", "--piece", "front", "--by", "4mm")
    changed = {
        name: trueup("garment", name, "--json").document["since"]["pattern"]
        for name in ("plain", "waistcoat")
    }
    with needed(trueup) as found:
        assert {garment.name: since.fate.value for garment, since in found.outgrown} == changed
        assert all(since.fate is Fate.CHANGED for _, since in found.outgrown)


def test_what_is_noted_on_a_garment_stays_until_it_is_resolved(trueup):
    trueup.made("cut", "stays", "--name", "plain")
    trueup.made("note", "plain", "neck-tight", "--place", "front.neck", "--amount", "4mm")
    with needed(trueup) as found:
        assert [(garment.name, note.symptom) for garment, note in found.notes] == [
            ("plain", "neck-tight")
        ]
    trueup.made("correct", "stays", "lower-neck", "--piece", "front", "--by", "4mm")
    with needed(trueup) as found:
        note = found.notes[0][1].id
    trueup.made("resolve", note, "--by", trueup.step_of("stays"))
    with needed(trueup) as found:
        assert found.notes == ()


def test_of_a_garment_that_is_retired_only_what_was_noted_counts(trueup):
    trueup.made("cut", "stays", "--name", "plain")
    trueup.made("garment", "plain", "--status", "retired")
    trueup.made("correct", "village", "lower-neck", "--piece", "front", "--by", "4mm")
    with needed(trueup) as found:
        assert found.outgrown == ()


def test_a_block_that_does_not_follow_its_body_is_behind(trueup):
    sizes = (
        "--bust",
        "88cm",
        "--waist",
        "68cm",
        "--back-length",
        "38cm",
        "--sleeve-length",
        "54cm",
    )
    trueup.made("body", "Ida", *sizes, "--date", "2026-01-05")
    trueup.made("draft", "ida-block", "--for", "Ida")
    with needed(trueup) as found:
        assert found.behind == ()
    trueup.made("body", "Ida", "--bust", "91cm", "--date", "2026-03-05")
    with needed(trueup) as found:
        assert [each.block for each in found.behind] == ["ida-block"]

"""Whatever is recorded of why a step cannot be made, the next command reads it."""

from pathlib import Path

from tests.cli.conftest import Trueup, run
from trueup.lineage.limits import MOST_STEPS

BODY = ("--bust", "88", "--waist", "68", "--back-length", "38", "--sleeve-length", "54")


def test_a_step_that_would_wave_is_told_of_and_can_be_decided(tmp_path: Path) -> None:
    store = Trueup(tmp_path / "store")
    assert run("start", str(store.folder), "--unit", "cm").code == 0
    store.made("draft", "village", *BODY)
    store.made("derive", "flat", "--from", "village")
    store.made("style", "flat", "lower-neck", "--piece", "front", "--by", "1cm")
    file = store.folder / "patterns/flat.toml"
    file.write_text(file.read_text().replace('by = "10mm"', 'by = "301mm"'))
    store.made("keep")
    assert '"lower the neck" was left out' in store("conflicts", "flat").out
    assert store("check", "flat").code == 1
    store.made("tree")
    (conflict,) = store("conflicts", "flat", "--json").document["conflicts"]
    store.made("decide", conflict["id"], "smaller-step", "--why", "as deep as it goes")
    store.made("correct", "village", "shorten-shoulder", "--by", "4mm")
    store.made("history", "flat")


def test_a_step_more_than_is_read_is_refused(tmp_path: Path) -> None:
    store = Trueup(tmp_path / "store")
    assert run("start", str(store.folder), "--unit", "cm").code == 0
    store.made("draft", "village", *BODY)
    store.made("derive", "coat", "--from", "village")
    file = store.folder / "patterns/coat.toml"
    fields = 'role = "style"\nkind = "hem-allowance"\npiece = "front"'
    file.write_text(
        file.read_text()
        + "".join(
            f'\n[[steps]]\nid = "s{number}"\n{fields}\nby = "{5 + number % 7}mm"\n'
            for number in range(MOST_STEPS)
        )
    )
    store.made("keep")
    before = store.contents()
    refused = store("style", "coat", "hem-allowance", "--piece", "front", "--by", "3cm")
    assert refused.code == 2
    assert f"more than {MOST_STEPS} steps" in refused.err
    assert "nothing was recorded" in refused.err
    assert store.contents() == before
    store.made("check", "coat")

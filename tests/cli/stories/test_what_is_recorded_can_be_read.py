"""Whatever is recorded of why a step cannot be made, the next command reads it."""

from pathlib import Path

from tests.cli.conftest import Trueup, run

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
    assert "lower-neck was left out" in store("conflicts", "flat").out
    assert store("check", "flat").code == 1
    store.made("tree")
    (conflict,) = store("conflicts", "flat", "--json").document["conflicts"]
    store.made("decide", conflict["id"], "smaller-step", "--why", "as deep as it goes")
    store.made("correct", "village", "shorten-shoulder", "--by", "4mm")
    store.made("history", "flat")

"""More than is recommended is told of once, with its figure and whether it has a source."""

from typing import Any

from tests.cli.conftest import run

SWAY = ("village", "sway-back", "--by", "25mm")
SAYS = (
    "sway-back by 2.5 cm is more than the 1.9 cm that are usual at most (common practice, no "
    "source): look at it on the body before you cut.\n"
)


def test_it_is_told_beside_the_answer_and_nothing_is_refused(trueup: Any) -> None:
    before = trueup.contents()
    for words in (("correct", *SWAY), ("style", *SWAY)):
        assert trueup.made(*words, "--preview").err == SAYS
    assert trueup.contents() == before
    answer = trueup.made("correct", *SWAY, "--json")
    assert answer.err == SAYS
    assert answer.document["correction"]["beyond"] == [
        {
            "kind": "sway-back",
            "parameter": "by",
            "amount_mm": 25.0,
            "most_mm": 19.0,
            "source": None,
        }
    ]
    step = trueup.step_of("village")
    assert trueup.made("check", "village").err == ""
    assert trueup.made("history", "village").err == ""
    assert "2.4 cm" in trueup.made("amend", "village", step, "--by", "24mm").err
    assert trueup.made("amend", "village", step, "--by", "12mm").err == ""


def test_a_published_amount_names_its_source(trueup: Any) -> None:
    gapes = ("contour-edge", "--dart", "front.bust", "--edge", "front.neck")
    answer = trueup("correct", "village", *gapes, "--at", "50% from neck-point", "--by", "20mm",
                    "--preview")  # fmt: skip
    assert answer.code == 0, answer.err
    assert "dresspatternmaking.com, standard contouring amounts" in answer.err
    assert "recommended at most" in answer.err


def test_a_usual_amount_is_not_spoken_of(trueup: Any) -> None:
    answer = trueup.made("correct", "village", "sway-back", "--by", "13mm", "--json")
    assert answer.err == ""
    assert answer.document["correction"]["beyond"] == []
    lower = trueup.made("style", "blouse", "lower-neck", "--piece", "front", "--by", "80mm")
    assert lower.err == ""


def test_a_fitting_tells_of_each(trueup: Any, tmp_path: Any) -> None:
    file = tmp_path / "fitting.toml"
    file.write_text(
        '[[corrections]]\nkind = "sway-back"\nby = "22mm"\n'
        '[[corrections]]\nkind = "pitch-sleeve"\nby = "15mm"\n'
    )
    answer = trueup.made("correct", "village", "--from", str(file), "--preview")
    assert [line.split(" by ")[0] for line in answer.err.splitlines()] == [
        "sway-back",
        "pitch-sleeve",
    ]


def test_the_help_and_the_reference_have_the_figure(anywhere: Any) -> None:
    told = " ".join(anywhere("correct", "x", "change-bust", "--help").out.split())
    assert "more than 38 mm, or 25 mm less is told of (common practice, no source)" in told
    told = " ".join(run("style", "x", "contour-edge", "--help").out.split())
    assert "more than 19 mm is told of (dresspatternmaking.com" in told

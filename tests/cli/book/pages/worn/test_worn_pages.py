"""The pages of what was cut and worn: in the trade's words, what is open first, all led to."""

import pytest

from tests.cli.book.opened import tags, text
from tests.cli.conftest import Trueup, build
from trueup.cli.book.source import BookSource
from trueup.cli.book.views import all_addresses, view
from trueup.cli.opening import reading

NECK = ("--place", "front.neck", "--amount", "4mm")


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """Every page of a wardrobe with two garments that share a fault, and one that was mended."""
    folder = tmp_path_factory.mktemp("worn") / "theatre"
    build(folder)
    trueup = Trueup(folder)
    trueup.made("cut", "blouse", "--name", "tea", "--wearer", "Ida", "--fabric", "lawn")
    trueup.made("cut", "blouse", "--name", "lawn")
    trueup.made("cut", "own", "--name", "plain")
    trueup.made("note", "tea", "neck-gapes", *NECK, "--side", "left", "--words", "It stands off")
    trueup.made("note", "lawn", "neck-gapes", *NECK)
    trueup.made("note", "plain", "armhole-binds", "--place", "front.armhole")
    trueup.made("note", "plain", "neck-tight", *NECK)
    trueup.made("correct", "own", "lower-neck", "--piece", "front", "--by", "4mm", "--why", "tight")
    notes = trueup("garment", "plain", "--json").document["garment"]["notes"]
    tight = next(each["id"] for each in notes if each["symptom"] == "neck-tight")
    trueup.made("resolve", tight, "--by", trueup.step_of("own"))
    with reading(folder, evaluated=True) as opened:
        source = BookSource(opened, 3)
        return {each: str(view(source, each).content) for each in all_addresses(source)}


def leads(html: str) -> set[str]:
    return {each.attributes["href"].removeprefix("#/") for each in tags(html) if each.name == "a"}


def test_all_garments_are_told_with_what_is_not_resolved_and_what_became_of_their_pattern(pages):
    said = text(pages["garments"])
    assert "front neck gapes, 0.4 cm, left side" in said
    assert "neck-gapes" not in said
    plain = pages["garments"].partition(">plain<")[2].partition("</tr>")[0]
    assert "corrected since" in plain
    assert "front armhole binds" in plain
    assert "neck tight" not in plain  # it was mended
    assert "as it was" in pages["garments"].partition(">tea<")[2].partition("</tr>")[0]
    assert {"garment/tea", "garment/lawn", "garment/plain", "pattern/blouse"} <= leads(
        pages["garments"]
    )


def test_a_fault_that_two_garments_share_stands_before_those_of_one(pages):
    html = pages["faults"]
    shared, _, single = html.partition("Seen on one garment")
    assert "Seen on more than one garment" in shared
    assert "Front neck gapes" in text(shared)
    assert "Front armhole binds" in text(single)
    assert {"garment/tea", "garment/lawn", "pattern/blouse"} <= leads(shared)
    assert "lower the neck of the front by 2 cm" in text(shared)
    assert "would mend the most." in text(shared)
    assert "0.4 cm, left side" in text(shared)


def test_a_garment_tells_first_what_is_open_and_what_became_of_its_pattern(pages):
    html = pages["garment/plain"]
    heads = ["".join(each.text) for each in tags(html) if each.name == "h2"]
    assert heads == [
        *("What needs attention", "What was mended", "What it is"),
        *("Where its faults come from", "What the cloth still allows", "Measures as it was cut"),
    ]
    first = html.partition("id=attention")[2].partition("</section>")[0]
    assert "Front armhole binds" in text(first)
    assert "own was corrected since; the cloth is as it was cut." in text(first)
    assert "own was corrected: lower the neck of the front by 0.4 cm" in text(first)
    assert "garment/plain/cloth" in leads(first)
    assert "trueup diagnose plain --note" in text(first.partition("<details>")[2])


def test_what_was_mended_leads_to_the_correction_that_mended_it(pages):
    html = pages["garment/plain"]
    mended = html.partition("id=mended")[2].partition("</section>")[0]
    assert "Front neck tight, 0.4 cm" in text(mended)
    (to,) = [each for each in leads(mended) if each.startswith("correction/")]
    assert "tight" in text(pages[to])


def test_a_garment_on_which_nothing_is_open_says_so(tmp_path):
    trueup = Trueup(tmp_path / "theatre")
    build(trueup.folder)
    trueup.made("cut", "vest", "--name", "waistcoat", "--fabric", "wool")
    with reading(trueup.folder, evaluated=True) as opened:
        said = text(str(view(BookSource(opened, 1), "garment/waistcoat").content))
    assert "Nothing is open on it" in said
    assert "Fabric wool" in said
    assert "As commands" not in said
    assert "Where its faults come from" not in said


def test_every_address_that_these_pages_lead_to_is_there(pages):
    for address in ("garments", "faults", "garment/tea", "garment/plain"):
        places = {"/".join(each.split("/")[:2]) for each in leads(pages[address])}
        assert places <= set(pages), address

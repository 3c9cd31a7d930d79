"""Every verb of the program, asked in a wardrobe whose names are as long as makers choose them."""

from dataclasses import dataclass
from pathlib import Path

from tests.cli.conftest import BODY, Trueup, run

BLOCK = "marta-winter-block-with-long-sleeves"
EASY = "easy-block-for-everything-that-is-worn-loose"
BLOUSE = "understudy-blouse-of-the-second-act"
VEST = "fencing-vest-for-the-duel-by-the-river"
OWN = "governess-bodice-with-an-armhole-of-its-own"
GARMENT = "governess-grey-flannel-for-the-matinee"
WEARER = "Wilhelmina Featherstonehaugh"


@dataclass(frozen=True)
class Asked:
    """The words a verb is asked with; `fails` where it says by its exit code that all is not well.

    `writes` are files it makes, which may not be there yet.
    """

    words: tuple[str, ...]
    code: int = 0
    writes: tuple[str, ...] = ()


def made(folder: Path) -> Trueup:
    """Make the wardrobe."""
    assert run("start", str(folder), "--unit", "mm", "--name", "costumes of two houses").code == 0
    trueup = Trueup(folder)
    body = [word for name, amount in BODY.items() for word in (f"--{name}", amount)]
    trueup.made("body", WEARER, *body, "--date", "2025-01-02", "--taken-by", "Mina of the loft")
    trueup.made("draft", BLOCK, "--for", WEARER)
    for piece in ("front", "back", "sleeve"):
        trueup.made("style", BLOCK, "seam-allowance", "--piece", piece, "--by", "15mm")
    trueup.made("derive", EASY, "--from", BLOCK, "--block")
    trueup.made("style", EASY, "shorten-shoulder", "--by=-5mm", "--why", "falls over the shoulder")
    trueup.made("derive", BLOUSE, "--from", EASY)
    trueup.made("style", BLOUSE, "lower-neck", "--piece", "front", "--by", "20mm")
    trueup.made("derive", VEST, "--from", f"{BLOCK}:front,back")
    trueup.made(
        "style", VEST, "redraw-edge", "--edge", "front.armhole", "--through", "30%:24mm 70%:40mm"
    )
    trueup.made("derive", OWN, "--from", BLOCK)
    trueup.made("correct", OWN, "scoop-armhole", "--piece", "front", "--by", "4mm")
    trueup.made("cut", OWN, "--name", GARMENT, "--wearer", WEARER, "--fabric", "grey flannel")
    trueup.made(
        "note", GARMENT, "armhole-binds", "--place", "front.armhole", "--amount", "10mm",
        "--words", "it binds as soon as she reaches for the tray",
    )  # fmt: skip
    trueup.made(
        "correct", BLOCK, "scoop-armhole", "--piece", "front", "--by", "20mm",
        "--why", "the front armhole binds when she reaches forward",
    )  # fmt: skip
    trueup.made("body", WEARER, "--bust", "90cm", "--date", "2025-06-02")
    return trueup


def questions(trueup: Trueup) -> dict[str, Asked]:
    """Return for every verb that answers what it is asked, by the wardrobe at hand."""
    conflicts = trueup("conflicts", "--json").document["conflicts"]
    first = next(each for each in conflicts if each["kind"] == "seam")
    note = trueup("garment", GARMENT, "--json").document["garment"]["notes"][0]["id"]
    own, scooped = trueup.step_of(OWN), trueup.step_of(BLOCK)
    styled = trueup.step_of(BLOUSE)
    table, drawing = trueup.folder.parent / "sizes.csv", trueup.folder.parent / "block.dxf"
    table.write_text(
        "size,bust,waist,back-length,sleeve-length\nsmall,84cm,64cm,37cm,53cm\nlarge,96cm,76cm,39cm,55cm\n",
        encoding="utf-8",
    )
    pdf, svg, html = (f"{trueup.folder.parent}/made.{end}" for end in ("pdf", "svg", "html"))
    if not drawing.exists():
        trueup.made("export", BLOCK, str(drawing))
    scoop = ("scoop-armhole", "--piece", "front", "--by", "5mm")
    return {
        "": Asked(()),
        "start": Asked(("start", f"{trueup.folder.parent}/another"), writes=("another",)),
        "body": Asked(("body", WEARER)),
        "draft": Asked(("draft", "one-more-block", "--for", WEARER)),
        "trace": Asked(("trace", str(drawing), "traced-block")),
        "derive": Asked(("derive", "one-more-pattern", "--from", BLOUSE)),
        "graft": Asked(("graft", BLOUSE, "--onto", OWN, "--as", "grafted", "--preview")),
        "sizes": Asked(("sizes", BLOUSE, "--table", str(table), "--preview")),
        "style": Asked(("style", BLOUSE, "lower-neck", "--piece", "back", "--by", "5mm")),
        "correct": Asked(("correct", BLOCK, *scoop, "--preview")),
        "remeasure": Asked(("remeasure", BLOCK, "--preview")),
        "amend": Asked(("amend", BLOUSE, styled, "--by", "15mm", "--preview")),
        "drop": Asked(("drop", BLOUSE, styled, "--preview")),
        "undo": Asked(("undo",)),
        "decide": Asked(("decide", first["id"], first["remedies"][0]["name"], "--preview")),
        "promote": Asked(("promote", OWN, own, "--to", BLOCK, "--preview")),
        "check": Asked(("check", OWN), 1),
        "measure": Asked(("measure", BLOUSE)),
        "walk": Asked(("walk", OWN)),
        "tree": Asked(("tree",)),
        "origin": Asked(("origin", BLOUSE)),
        "compare": Asked(("compare", BLOCK)),
        "conflicts": Asked(("conflicts",), 1),
        "history": Asked(("history", "--effects")),
        "explain": Asked(("explain", BLOUSE)),
        "cut": Asked(("cut", BLOUSE, "--name", "another-garment-of-the-same-blouse")),
        "garments": Asked(("garments",)),
        "garment": Asked(("garment", GARMENT)),
        "alter": Asked(("alter", GARMENT)),
        "note": Asked(("note", GARMENT, "neck-tight", "--place", "front.neck")),
        "resolve": Asked(("resolve", note, "--by", scooped)),
        "shared": Asked(("shared", GARMENT)),
        "diagnose": Asked(("diagnose", GARMENT)),
        "fit-from": Asked(("fit-from", OWN, "--pinned", "side-seam=16mm")),
        "export": Asked(("export", BLOUSE, svg), writes=("made.svg",)),
        "sheet": Asked(("sheet", BLOUSE, pdf), writes=("made.pdf",)),
        "book": Asked(("book", html), writes=("made.html",)),
        "report": Asked(("report",)),
        "keep": Asked(("keep",)),
        "mend": Asked(("mend", "--preview")),
        "restore": Asked(("restore", "--preview")),
    }

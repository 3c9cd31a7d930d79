"""Write a page of every kind of change, with a picture, and the table of what replay does to it.

    python -m trueup.sample_wardrobe.kind_pages [KIND ...] [--into FOLDER]

Nothing on them is written by hand: what a kind does is its own docstring, the picture is its first
use in a garment of this folder, and what a correction beneath it comes to is played.
"""

import argparse
import dataclasses
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

import typer

from trueup.cli.amounts import before_and_after, length
from trueup.cli.drawing.draft_picture import draft_picture
from trueup.cli.drawing.overlay import Caption, overlay
from trueup.cli.drawing.scene.writer import svg_text
from trueup.cli.main import app
from trueup.cli.reference import context_of, entries, kind_contexts
from trueup.cli.render.patterns.comparison import move_line, other_changes
from trueup.cli.terminal.typesetting import upper_first
from trueup.geometry.changes import kinds
from trueup.geometry.comparing.alignment import Alignment
from trueup.geometry.comparing.comparison import Comparison, compare
from trueup.geometry.measuring.measures import measures
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.tolerance import UNCHANGED
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.records import ConflictRecord
from trueup.sample_wardrobe.examples import Corrected, corrections, examples, met

FOLDER = Path(__file__).parent / "kinds"
INDEX = "README.md"
_MOST_MEASURES = 12
_FEW = 2
_MM = Unit.MILLIMETRE

_ABOUT = """# Every kind of change, and what replay does to it

Written by `python -m trueup.sample_wardrobe.kind_pages`; a test fails while it is out of date.

Each kind has a page with what it does, its options, and a picture of its first use in a garment of
[garments](../garments) or of the [theatre store](../steps.toml). The tables say what became of the
[corrections](../corrections.toml) that a block most often takes, each made by itself on the block
beneath the pattern that ends with this kind: *carried*, *partly* or *lost* is what arrived of it as
measured; after it stands what a maker is asked about. A test holds every verdict against what is
sampled from the lines, and every cell against the same changes made by hand on the corrected block,
to 0.01 mm."""


def write(names: Sequence[str], folder: Path) -> None:
    """Write the pages of these kinds, and the table where all are asked for, into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for name in names or examples():
        (folder / f"{name}.md").write_text(page(name), encoding="utf-8")
        (folder / f"{name}.svg").write_text(picture(name), encoding="utf-8")
    if not names:
        (folder / INDEX).write_text(table(), encoding="utf-8")


def picture(name: str) -> str:
    """Return the pieces that a kind changes, before and after, as SVG.

    What is marked on a piece, or cut of it, and moves no line is shown as it is afterwards.
    """
    found, title = compared(name), f"{name} in {examples()[name].node.name}"
    if found.changed_pieces:
        scene = overlay(found, Caption(title, "before", "after", ()))
    else:
        old, new = examples()[name].drafts
        marked = [piece for piece in new.pieces if piece not in old.pieces]
        scene = draft_picture(Draft(tuple(marked) or new.pieces), title)
    return svg_text(scene, f"{name}-")


@cache
def compared(name: str) -> Comparison:
    """Return what a kind does, both drafts laid on each other so that the fewest edges move."""
    old, new = examples()[name].drafts
    best = compare(old, new)
    for piece in best.changed_pieces:
        if not (old.has_piece(piece) and new.has_piece(piece)) or len(best.moves) <= _FEW:
            continue
        for edge in set(old.piece(piece).edge_names) & set(new.piece(piece).edge_names):
            other = compare(old, new, Alignment(piece, edge=edge))
            best = min(best, other, key=lambda each: (len(each.moves), each.by.edge))
    return best


def page(name: str) -> str:
    """Return the page of a kind as Markdown."""
    example = examples()[name]
    drafts = example.drafts
    words = change_of(example.step, example.state.unit).in_words(_MM)
    context = _contexts()[name]
    lines = [f"# {name}", "", (context.command.help or "").strip(), "", "## Options", ""]
    lines += _options(name, context)
    lines += ["", "## In a garment", "", f"In `{example.node.name}`: {words}.", ""]
    lines += [f"![{words}, before dashed, after solid]({name}.svg)", ""]
    lines += [*_moved(compared(name)), *_measured(*drafts), "", "## What stays", ""]
    lines += [*_stays(*drafts), "", "## A correction of the block beneath it", ""]
    lines += _met(name)
    return "\n".join(lines) + "\n"


def _options(name: str, context: typer.Context) -> Iterator[str]:
    """Yield a line for each option that is the kind's own, not that of every step."""
    own = {f"--{field.name.replace('_', '-')}" for field in dataclasses.fields(kinds()[name])}
    for word, text in entries(context):
        if own & set(word.strip("`").replace(",", " ").split()):
            yield f"- {word}: {upper_first(text)}"


@cache
def _contexts() -> dict[str, typer.Context]:
    return kind_contexts(context_of(typer.main.get_command(app), "trueup"))


def _moved(found: Comparison) -> Iterator[str]:
    yield from (f"{k}. {move_line(move, _MM)}" for k, move in enumerate(found.moves, 1))
    others = list(other_changes(found, "before", "after", _MM))
    yield ""
    yield from (f"- {each}" for each in others)
    if not found.moves and not others:
        yield "No line moves."
    yield ""


def _measured(old: Draft, new: Draft) -> Iterator[str]:
    was, now = measures(old), measures(new)
    both = [name for name in now if name in was and abs(now[name] - was[name]) > UNCHANGED]
    if not both:
        return
    yield "| measure | before and after |"
    yield "| --- | --- |"
    most = sorted(both, key=lambda name: -abs(now[name] - was[name]))[:_MOST_MEASURES]
    yield from (f"| {name} | {before_and_after(was[name], now[name], _MM)} |" for name in most)
    if len(both) > len(most):
        yield ""
        yield f"{len(both) - len(most)} more change by less."


def _stays(old: Draft, new: Draft) -> Iterator[str]:
    was, now = measures(old), measures(new)
    same = sum(name in was and abs(now[name] - was[name]) <= UNCHANGED for name in now)
    yield f"- {same} of {len(was)} measures of the pattern."
    kept, changed = [], []
    for seam in new.seams:
        if old.has_seam(seam.name):
            walks = _eases(old, seam.name), _eases(new, seam.name)
            same_ease = abs(walks[0] - walks[1]) <= UNCHANGED
            (kept if same_ease else changed).append((seam.name, *walks))
    if kept:
        yield f"- What these seams hold: {', '.join(name for name, *_ in kept)}."
    for name, before, after in changed:
        yield f"- Not so: the {name} holds {before_and_after(before, after, _MM)}."


def _eases(draft: Draft, seam: str) -> float:
    return walk(draft, draft.seam(seam)).ease


def _met(kind: str) -> Iterator[str]:
    found = met(kind)
    if not found:
        yield "It is used on the block itself: its corrections follow after it."
        return
    yield "| correction | became | what is asked |"
    yield "| --- | --- | --- |"
    for each in found:
        says = f"`{each.block}`: {change_of(each.step, _MM).in_words(_MM)}"
        asked = "; ".join(_asked(conflict) for conflict in each.pattern.conflicts) or "nothing"
        yield f"| {says} | {each.pattern.verdict.value} | {asked} |"


def _asked(conflict: ConflictRecord) -> str:
    where = f"{conflict.piece}.{conflict.edge}"
    by = f", {length(conflict.excess_mm, _MM)}" if conflict.excess_mm else ""
    return f"{conflict.kind.value} at {where}{by}"


def table() -> str:
    """Return the matrix of kinds and corrections as Markdown, a table for each block."""
    lines, found = [_ABOUT], examples()
    rows = {name: met(name) for name in found}
    for block in dict.fromkeys(str(told.correct) for told in corrections()):
        of_block = {
            name: [each for each in row if each.block == block] for name, row in rows.items()
        }
        heads = [str(told.changes[0]["kind"]) for told in corrections() if told.correct == block]
        lines += ["", f"## Beneath it, {block} is corrected", ""]
        lines += [f"| kind | in | {' | '.join(heads)} |", f"| --- | --- |{' --- |' * len(heads)}"]
        for name, row in of_block.items():
            if row:
                cells = " | ".join(_cell(each) for each in row)
                lines.append(f"| [{name}]({name}.md) | {found[name].node.name} | {cells} |")
    on_blocks = [name for name, row in rows.items() if not row]
    if on_blocks:
        listed = ", ".join(f"[{name}]({name}.md)" for name in on_blocks)
        lines += ["", f"Used on a block itself, above every correction of it: {listed}."]
    return "\n".join(lines) + "\n"


def _cell(each: Corrected) -> str:
    asked = sorted({conflict.kind.value for conflict in each.pattern.conflicts})
    return " + ".join([each.pattern.verdict.value, *asked])


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("kinds", nargs="*")
    parser.add_argument("--into", type=Path, default=FOLDER)
    told = parser.parse_args()
    write(told.kinds, told.into)

"""What a shell offers when a name is being typed. Nothing here ever fails: it offers nothing."""

import re
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from trueup.geometry.pieces.draft import Draft
    from trueup.lineage.opened import OpenWardrobe

_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,200}")
_MOST = 1_000  # words offered

Complete = Callable[[typer.Context, str], list[str]]
Find = Callable[["OpenWardrobe", typer.Context], Iterable[str]]


def offering(find: Find) -> Complete:
    """Return a completion that offers the names found in the wardrobe at hand."""

    def complete(ctx: typer.Context, incomplete: str) -> list[str]:
        try:
            with _wardrobe(ctx) as wardrobe:
                found = (name for name in find(wardrobe, ctx) if name.startswith(incomplete))
                # A shell may act on anything but plain words, and a name may be a stranger's.
                return list(islice(filter(_PLAIN.fullmatch, found), _MOST))
        except Exception:  # a shell in the middle of a line can do nothing with an error
            return []

    return complete


def words(known: Iterable[str]) -> Complete:
    """Return a completion that offers fixed words."""
    offered = tuple(known)

    def complete(ctx: typer.Context, incomplete: str) -> list[str]:  # noqa: ARG001
        return [word for word in offered if word.startswith(incomplete)]

    return complete


@contextmanager
def _wardrobe(ctx: typer.Context) -> Iterator["OpenWardrobe"]:
    from trueup.lineage.opened import OpenWardrobe  # noqa: PLC0415

    folder = given(ctx, "folder") or Path()
    with OpenWardrobe.open(Path(folder)) as wardrobe:
        yield wardrobe


def given(ctx: typer.Context, name: str) -> str:
    """Return what was typed so far for a parameter of this command or one above it."""
    at: typer.Context | None = ctx
    while at is not None:
        if at.params.get(name):
            return str(at.params[name])
        at = at.parent  # type: ignore[assignment]
    return _before_an_option(ctx, name)


def _before_an_option(ctx: typer.Context, name: str) -> str:
    """Return an argument typed before an option that still waits for its value.

    Such an option keeps arguments from being told apart; they are left in their order.
    """
    kinds = [each for each in ctx.command.params if each.param_type_name == "argument"]
    typed = {each.name: word for each, word in zip(kinds, ctx.args, strict=False)}
    return str(typed.get(name, ""))


def _darts(wardrobe: "OpenWardrobe", ctx: typer.Context) -> Iterable[str]:
    return _half(wardrobe, ctx).dart_names


def _half(wardrobe: "OpenWardrobe", ctx: typer.Context) -> "Draft":
    """Return the draft by the names that a step is given; `--side` says where it is made."""
    from trueup.geometry.sides.parting import one_side  # noqa: PLC0415

    return one_side(wardrobe.evaluator.draft(given(ctx, "node")))


def _edges(wardrobe: "OpenWardrobe", ctx: typer.Context) -> Iterable[str]:
    return _half(wardrobe, ctx).edge_names


def _pieces(wardrobe: "OpenWardrobe", ctx: typer.Context) -> Iterable[str]:
    return _half(wardrobe, ctx).piece_names


def _seams(wardrobe: "OpenWardrobe", ctx: typer.Context) -> Iterable[str]:
    return [seam.name for seam in _half(wardrobe, ctx).seams]


def _measures(wardrobe: "OpenWardrobe", ctx: typer.Context) -> Iterable[str]:
    return wardrobe.evaluator.summary(given(ctx, "node")).measures


def _steps(wardrobe: "OpenWardrobe", ctx: typer.Context) -> Iterable[str]:
    return [step.id for step in wardrobe.evaluator.worked(given(ctx, "node")).steps]


def _conflicts(wardrobe: "OpenWardrobe", ctx: typer.Context) -> Iterable[str]:  # noqa: ARG001
    from trueup.lineage.replay.findings import finding_ids  # noqa: PLC0415

    yield from (conflict.id for conflict in wardrobe.state.open_conflicts)
    yield from finding_ids(wardrobe.evaluator)


def _remedies(wardrobe: "OpenWardrobe", ctx: typer.Context) -> Iterable[str]:
    conflict = wardrobe.conflict(given(ctx, "conflict"))
    return [remedy.name for remedy in conflict.remedies]


def edges_of(argument: str) -> Complete:
    """Return a completion that offers the edges of the node another argument names."""
    return offering(lambda wardrobe, ctx: wardrobe.evaluator.draft(given(ctx, argument)).edge_names)


def _places(wardrobe: "OpenWardrobe", ctx: typer.Context) -> Iterable[str]:
    from trueup.lineage.garments.notes import places  # noqa: PLC0415

    garment = wardrobe.state.garment(given(ctx, "garment"))
    return places(wardrobe.evaluator_at(garment.cut_from).draft(garment.pattern))


def symptoms(ctx: typer.Context, incomplete: str) -> list[str]:  # noqa: ARG001
    """Offer the vocabulary of symptoms."""
    from trueup.lineage.symptoms.rows import SYMPTOMS  # noqa: PLC0415

    return [word for word in (*SYMPTOMS, "other") if word.startswith(incomplete)]


def _notes(wardrobe: "OpenWardrobe", ctx: typer.Context) -> Iterable[str]:  # noqa: ARG001
    return [note.id for garment in wardrobe.state.garments.values() for note in garment.notes]


def _corrections(wardrobe: "OpenWardrobe", ctx: typer.Context) -> Iterable[str]:
    from trueup.lineage.garments.mending import ancestry, corrections_of  # noqa: PLC0415
    from trueup.lineage.garments.notes import find_note  # noqa: PLC0415

    state = wardrobe.state
    garment, _ = find_note(state, given(ctx, "note"))
    names = ancestry(garment.pattern, state) & state.nodes.keys()
    return [each for name in sorted(names) for each in corrections_of(state.nodes[name])]


def _corners(wardrobe: "OpenWardrobe", ctx: typer.Context) -> Iterable[str]:
    full_name = given(ctx, "edge")
    piece, _, edge = full_name.partition(".")
    found = wardrobe.evaluator.draft(given(ctx, "node")).edge(piece, edge)
    return [f"50% from {corner}" for corner in (found.starts_at, found.ends_at)]


def nodes(ctx: typer.Context, incomplete: str) -> list[str]:
    """Offer the names of blocks and patterns, which are those of their files: none is read."""
    return _by_file(ctx, incomplete, "blocks", "patterns")


def nodes_and_conflicts(ctx: typer.Context, incomplete: str) -> list[str]:
    """Offer the names of blocks and patterns, and the ids of the conflicts that wait."""
    return [*nodes(ctx, incomplete), *conflicts(ctx, incomplete)]


def nodes_and_garments(ctx: typer.Context, incomplete: str) -> list[str]:
    """Offer the names of all that has a history."""
    return _by_file(ctx, incomplete, "blocks", "patterns", "garments")


def garments(ctx: typer.Context, incomplete: str) -> list[str]:
    """Offer the names of garments, which are those of their files: none is read."""
    return _by_file(ctx, incomplete, "garments")


def bodies(ctx: typer.Context, incomplete: str) -> list[str]:
    """Offer the names of the wearers of whom something was measured: none is read."""
    return _by_file(ctx, incomplete, "bodies")


def _by_file(ctx: typer.Context, incomplete: str, *folders: str) -> list[str]:
    folder = Path(given(ctx, "folder") or ".")
    found: list[str] = []
    with suppress(OSError):
        for kept_in in folders:
            found += [file.stem for file in (folder / kept_in).glob("*.toml")]
    return sorted(name for name in found if name.startswith(incomplete))


darts = offering(_darts)
edges = offering(_edges)
pieces = offering(_pieces)
seams = offering(_seams)
measures = offering(_measures)
steps = offering(_steps)
conflicts = offering(_conflicts)
remedies = offering(_remedies)
corners = offering(_corners)
places = offering(_places)
notes = offering(_notes)
corrections = offering(_corrections)

"""The chain of a node and the recorded steps, on the page."""

from collections.abc import Iterator, Sequence

from rich.console import RenderableType
from rich.padding import Padding

from cli.render.page import said
from cli.render.steps import amounts
from cli.render.table import PlainTable
from lineage.records import NodeRecord, StepRecord
from lineage.store import Commit
from lineage.wardrobe import STEPS, UNDOES


def history_lines(node: NodeRecord | None, commits: Sequence[Commit]) -> Iterator[RenderableType]:
    """Yield a node's chain, when there is one, and the recorded steps, newest first."""
    if node is not None:
        yield said(f"The chain of {node.name}", "bold")
        yield said(_origin(node))
        if node.steps:
            heads = ("step", "made as", "kind", "with", "why")
            yield PlainTable(heads, [_row(step) for step in node.steps])
        yield ""
        yield said("What was done, newest first", "bold")
    undone = {commit.trailers[UNDOES] for commit in commits if UNDOES in commit.trailers}
    for commit in commits:
        yield said(f"{commit.subject}{' (taken back)' if commit.id in undone else ''}")
        when = commit.when.strftime("%Y-%m-%d %H:%M")
        steps = [f"step {commit.trailers[STEPS]}"] if commit.trailers.get(STEPS) else []
        for line in (", ".join([commit.id[:10], when, *steps]), *commit.body.split("\n")):
            if line.strip():
                yield Padding(said(line), (0, 0, 0, 2))


def _origin(node: NodeRecord) -> str:
    if node.draft is not None:
        body = ", ".join(f"{name} {amount}" for name, amount in node.draft.body.items())
        return f"drafted by {node.draft.system} from {body}"
    parents = []
    for parent in node.parents:
        pieces = f" ({', '.join(parent.pieces)})" if parent.pieces else ""
        hold = f", staying on version {parent.hold[:10]}" if parent.hold else ""
        parents.append(f"{parent.name}{pieces}{hold}")
    return f"derived from {' and '.join(parents)}"


def _row(step: StepRecord) -> tuple[str, str, str, str, str]:
    return step.id, step.role.value, step.kind, amounts(step) or "-", step.why or "-"

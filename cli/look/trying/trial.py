"""Try a step: what would become of every pattern below, told as soon as it is found."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import count

from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line
from trueup.cli.look.trying import became
from trueup.cli.look.trying.step import TriedStep
from trueup.cli.render.replay import is_exception, tally
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.errors import CannotStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files import graph
from trueup.lineage.proposal import Proposal
from trueup.lineage.replay.replay import PatternReplay

_MOST_PICTURES = 100
"""Patterns of which a picture is drawn; of more, where there is more to say of one."""

_FIRST_NUMBER = 1_000
"""Figures of a trial are numbered from here: those of the page that shows them come before."""


@dataclass
class _Trial:
    """A trial under way: the lines said, and what pictures are to be drawn from."""

    desk: Desk
    tried: TriedStep
    said: list[Line] = field(default_factory=list)
    after: Evaluator | None = None
    drawn: dict[str, Draft | None] = field(default_factory=dict)
    outcomes: list[PatternReplay] = field(default_factory=list)

    def say(self, **line: object) -> None:
        self.said.append(line)
        self.desk.say(line)

    def take(self, outcome: PatternReplay, after: Evaluator) -> None:
        """Tell what became of the step in a pattern."""
        if self.after is None:
            self.after = after
            self._require_possible(after)
        self.outcomes.append(outcome)
        if len(self.drawn) < _MOST_PICTURES or is_exception(outcome):
            # What was evaluated just now is at hand; what was kept of before would have to be
            # evaluated, and no row waits for that.
            is_at_hand = after.ran[-1:] == [outcome.name]
            self.drawn[outcome.name] = after.draft(outcome.name) if is_at_hand else None
        html = became.row(self.desk.source, outcome)
        self.say(row=outcome.name, rank=became.rank(outcome), html=str(html))

    def _require_possible(self, after: Evaluator) -> None:
        """Raise CannotStep, as it would be in the end, before any pattern is told of."""
        node, changed = self.tried.node, self.tried.of
        before = {each.step for each in self.desk.wardrobe.evaluator.summary(node).problems}
        for problem in after.summary(node).problems:
            if problem.step == changed if changed else problem.step not in before:
                raise CannotStep(node, problem.error)

    def pictures(self, proposal: Proposal) -> None:
        """Draw what moves, the node itself first, then the patterns as they are ranked."""
        wardrobe, node = self.desk.wardrobe, self.tried.node
        numbers = count(_FIRST_NUMBER)
        after = self.after or wardrobe.evaluator_of(wardrobe.state.with_nodes(proposal.edit.nodes))
        ranked = sorted(self.outcomes, key=became.rank)
        for name in (node, *(each.name for each in ranked if each.name in self.drawn)):
            new = self.drawn.get(name) or after.draft(name)
            html = became.picture(name, self.desk.before(name), new, lambda: next(numbers))
            self.say(picture=name, html=html)


def tried(desk: Desk, step: TriedStep) -> Iterator[Line]:
    """Yield nothing, and say all that a step would do: rows, the whole, then pictures.

    Raises what proposing it raises. What was worked out is kept, and said at once the next time.
    """
    about = ("trial", step.node, *step.about)
    lines = desk.kept.get(about)
    if lines is None:
        lines = _worked_out(desk, step)
        desk.kept.keep(about, lines)
    else:
        for line in lines:
            desk.say(line)
    yield {"whole": True}


def _worked_out(desk: Desk, step: TriedStep) -> tuple[Line, ...]:
    trial = _Trial(desk, step)
    state = desk.wardrobe.state
    state.node(step.node)
    below = graph.in_order(state.graph, graph.descendants(state.graph, [step.node]))
    trial.say(version=desk.version, below=[[each, desk.source.addresses[each]] for each in below])
    desk.wardrobe.became = trial.take
    proposal = step.propose(desk.wardrobe)
    desk.wardrobe.became = None
    outcomes = proposal.replay.patterns
    trial.say(
        own=str(became.own(desk.source, proposal)),
        tally=tally(outcomes) if outcomes else "No pattern derives from it.",
    )
    trial.pictures(proposal)
    return tuple(trial.said)

"""A promotion as a JSON document: what a step did, and what became of the pattern it left."""

from trueup.cli.command_line import CommandLine
from trueup.cli.json import forms as json_forms
from trueup.cli.json.forms import Form, mm
from trueup.lineage.promotion.promoting import Promotion


def promotion(made: Promotion, commit: str | None, commands: CommandLine) -> Form:
    """Return a promotion; `commit` is None for one that is not recorded."""
    found = made.outcome.difference
    return {
        "promotion": {
            "from": made.outcome.node,
            "to": made.outcome.ancestor,
            "exact": made.outcome.is_exact,
            "edges": [
                {
                    "edge": each.edge,
                    "moved_mm": mm(each.moved),
                    "before_mm": mm(each.before),
                    "after_mm": mm(each.after),
                }
                for each in found.edges
            ],
            "darts": [
                {
                    "dart": each.dart,
                    "moved_mm": mm(each.moved),
                    "before_mm": mm(each.before),
                    "after_mm": mm(each.after),
                }
                for each in found.darts
            ],
            "others": list(found.others),
        },
        **json_forms.proposal(made.proposal, commit, commands),
    }

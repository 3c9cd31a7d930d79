"""What joining two makers' work brought, as a JSON document."""

from trueup.cli.command_line import CommandLine
from trueup.cli.json import forms as json_forms
from trueup.cli.json.forms import Form
from trueup.lineage.merging.joining import Joining
from trueup.lineage.replay.replay import Replay


def joining(made: Joining | None, commit: str | None, commands: CommandLine) -> Form:
    """Return what a joining did; `made` None where there was nothing, `commit` for a preview."""
    if made is None:
        return {"joined": None}
    known = commands if commit is not None else None
    return {
        "joined": {
            "ours": made.ours,
            "theirs": made.theirs,
            "commit": commit,
            "says": made.subject,
            "by_git_before": made.is_recorded,
        },
        "notes": [
            {"what": n.what, "place": n.place, "says": n.says, "steps": list(n.steps)}
            for n in made.notes
        ],
        "contradictions": [json_forms.conflict(each, known) for each in made.contradictions],
        "conflicts": [json_forms.conflict(each, known) for each in made.conflicts],
        "their_steps": [_replay(each, known) for each in made.looked_over.theirs],
        "our_steps": [_replay(each, known) for each in made.looked_over.ours if each.patterns],
        "settled": [each.id for each in made.looked_over.settled],
    }


def _replay(found: Replay, commands: CommandLine | None) -> Form:
    return {
        "node": found.cause.node,
        "steps": [json_forms.step(each) for each in found.cause.steps],
        "patterns": [json_forms.pattern(each, commands) for each in found.patterns],
    }

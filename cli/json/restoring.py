"""What was wrong with a wardrobe and what became of it, as a JSON document."""

from trueup.cli.json.forms import Form
from trueup.cli.render.restoring import trouble_sentence
from trueup.cli.wording.words import worded
from trueup.geometry.units import Unit
from trueup.lineage.restoring.findings import KnownVersion, Restored, Trouble


def restored(made: Restored, *, preview: bool) -> Form:
    """Return what was found, what of it is still so, and where the old lies."""
    return {
        "whole": made.is_whole,
        "preview": preview,
        "findings": [_finding(each) for each in made.findings],
        "remaining": [_finding(each) for each in made.remaining],
        "aside": None if made.aside is None else str(made.aside),
        "commit": made.commit,
        "edited_by_hand": list(made.edited),
        "stopped": None if made.stopped is None else str(made.stopped),
    }


def _finding(each: Trouble) -> Form:
    return {
        "wrong": each.wrong.value,
        "place": each.place,
        "cure": each.cure.value if each.cure else None,
        "help": each.help.value if each.help else None,
        "reason": worded(each.reason, Unit.MILLIMETRE),
        "version": _version(each.version) if each.version else None,
        "lost": [_version(step) for step in each.lost],
        "count": each.count,
        "says": trouble_sentence(each),
    }


def _version(each: KnownVersion) -> Form:
    when = each.when.isoformat() if each.when else None
    return {"id": each.id, "when": when, "subject": each.subject}

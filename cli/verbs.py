"""The verbs as a maker meets them: begin, make steps, read, cut cloth, write files, put right.

A verb's module is `trueup.cli.commands.<room>.<verb>` and is loaded when the verb is asked for, so
that none waits for what the others need. It holds a function of the verb's name, or `verb()` where
more than a plain command is made of it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib import import_module
from typing import Any

from trueup.cli.options.made import plain


@dataclass(frozen=True)
class Verb:
    """A verb of the program, the room of `commands` it is in, and its help in one sentence."""

    name: str
    room: str
    summary: str

    def command(self) -> Any:
        """Load the verb and return its command."""
        word = self.name.replace("-", "_")
        module = import_module(f"trueup.cli.commands.{self.room}.{word}")
        made = getattr(module, "verb", None)
        return made() if made else plain(getattr(module, word))


_ROOMS = {
    "begin": {
        "start": "Start a wardrobe in a new or empty folder.",
        "demo": "Play a sample wardrobe into a folder and show what a correction does to it.",
        "body": "Write down what was measured of a wearer, or show it, with what changed since.",
        "draft": "Draft a block from body measurements.",
        "trace": (
            "Make a block of a drawing: an SVG of any editor, a DXF, or a photograph of card or "
            "paper."
        ),
        "derive": "Derive a pattern from a block or another pattern.",
        "graft": "Make the style of a pattern again on the block of another body.",
        "sizes": "Make a pattern in every size of a table, in one step, or list the sizes it has.",
    },
    "steps": {
        "style": "Change a block or pattern for its looks.",
        "correct": "Correct the fit of a block or pattern; every pattern derived from it follows.",
        "remeasure": (
            "Draft a block anew from other body measurements; every pattern derived from it "
            "follows."
        ),
        "amend": "Change the amounts of a step that was made; what comes after it is done again.",
        "drop": "Take a step out; what comes after it is done again without it.",
        "undo": "Take the last step back, by a new step; nothing that was recorded is ever lost.",
        "decide": "Settle a conflict, or anything `check` finds, by one of its remedies.",
        "promote": (
            "Move a correction made on a pattern up to the block or pattern where the fault lies."
        ),
    },
    "reading": {
        "check": "Check that a block or pattern is true.",
        "measure": "Measure a block or pattern: seam lines as sewn, widths, darts and ease.",
        "walk": "Walk the seams: lay each seam line along its mate, stepping over darts.",
        "tree": "Show every block and the patterns derived from it.",
        "origin": (
            "Say where each edge got its shape: in which block or pattern, and by which step."
        ),
        "look": (
            "Look at the wardrobe on a live page, and try corrections on it before you record them."
        ),
        "compare": (
            "Compare two versions of a block or pattern, or two of them: which edges moved, and "
            "how far."
        ),
        "conflicts": "List the conflicts that wait for a decision, parents first.",
        "history": "Read back what was done, newest first.",
        "explain": (
            "Tell how a block or pattern came to be: every step from the first block on, in words."
        ),
    },
    "garments": {
        "cut": "Record a garment: cloth cut from one exact version of a pattern.",
        "garments": (
            "List the garments that were cut, how far each has come, and its open fit notes."
        ),
        "garment": (
            "Show one garment: what it was cut from, whether that was corrected since, its fit "
            "notes."
        ),
        "alter": (
            "Say what can still be done on a garment's cloth, now that its pattern was corrected."
        ),
        "note": "Write down what is seen on a worn garment: a fit note.",
        "resolve": (
            "Mark a fit note as mended by a correction of its pattern, or of what that derives "
            "from."
        ),
        "shared": "Say who shares a fault, and where one correction would mend the most.",
        "diagnose": "Say what to check for a symptom, in order, and what correction may mend it.",
        "fit-from": (
            "Turn what was pinned on a garment into corrections of its pattern, or of the block "
            "above."
        ),
    },
    "files": {
        "export": "Write a block or pattern as a file for other tools, at true scale.",
        "sheet": "Print a block or pattern at true scale as PDF, with a cover and test squares.",
        "book": (
            "Write the wardrobe as a book: one HTML file for any browser, which needs nothing else."
        ),
        "report": (
            "Write a report: steps, reasons, effects, verdicts, decisions, open conflicts and "
            "garments."
        ),
    },
    "upkeep": {
        "keep": "Record what you edited by hand in the wardrobe's files, as a step of its own.",
        "mend": "Join the work of another maker, as one step that loses no change of either.",
        "restore": "Say what is wrong with a wardrobe, and mend it.",
    },
}

VERBS: Mapping[str, Verb] = {
    name: Verb(name, room, summary)
    for room, verbs in _ROOMS.items()
    for name, summary in verbs.items()
}

"""A representative command for every verb: what it is run on, and what it may write."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from tests.faults.scenes import STORE


class Writes(Enum):
    """What a command writes."""

    STEP = "a step of the wardrobe"
    STEPS = "a wardrobe from nothing, step by step"
    WHOLE = "what is damaged"
    FILE = "one file outside the wardrobe"
    NOTHING = "nothing"


@dataclass(frozen=True)
class Case:
    """One command, the scene it is run in, and the file it writes where it writes one."""

    name: str
    scene: str
    words: tuple[str, ...]
    writes: Writes
    file: str = ""

    @property
    def verb(self) -> str:
        """The verb of the command; empty for the bare command."""
        return "" if self.words == STORE else self.words[0]

    @property
    def store(self) -> str:
        """The wardrobe's folder below `place`."""
        return "new" if self.scene == "nothing" else "store"


_BODY = "--bust 92cm --waist 70cm --back-length 40cm --sleeve-length 57cm"

_STEPS = {
    "body": "body Ada --waist 70cm --date 2025-03-09 --taken-by Mina --words shift",
    "body, a new one": f"body Bert {_BODY} --date 2025-03-09",
    "draft": f"draft second {_BODY}",
    "draft --for": "draft second --for Ada --sleeve-length 57cm",
    "trace": "trace things/village.svg traced",
    "derive": "derive tunic --from blouse",
    "graft": "graft blouse --onto own --as grafted",
    "sizes": "sizes vest --table things/sizes.csv",
    "derive, of two": "derive gown --from blouse:front,back --from own:sleeve",
    "style": "style blouse widen-neck --by 10mm",
    "style, bound": "style blouse widen-neck --by bust/90",
    "correct": "correct village shorten-shoulder --by 6mm --why gapes",
    "correct --mends": "correct easy scoop-armhole --piece front --by 4mm --mends {ada}",
    "correct --from": "correct village --from things/fitting.toml",
    "remeasure": "remeasure village --why grown",
    "remeasure, given": "remeasure village --sleeve-length 55cm",
    "amend": "amend blouse {blouse} --by 25mm",
    "drop": "drop easy {easy}",
    "undo": "undo",
    "decide": "decide {conflict} {remedy} --why agreed",
    "decide to accept": "decide {conflict} accept",
    "cut": "cut own --wearer Cora --date 2025-03-08",
    "note": "note adas-blouse bust-tight --place bust --date 2025-03-09",
    "note --photo": (
        "note adas-blouse bust-tight --place bust --date 2025-03-09 --photo things/photo.jpg"
    ),
    "garment --status": "garment adas-blouse --status worn",
    "garment --forget": "garment berts-vest --forget --why mistaken",
    "resolve": "resolve {bert} --by {village}",
    "promote": "promote own {own} --accept-difference",
}

_AFTER_EDITS = {
    "style, after edits": "style blouse widen-neck --by 10mm",
    "correct, after edits": "correct village shorten-shoulder --by 6mm",
    "keep": "keep",
    "note, after edits": "note adas-blouse bust-tight --place bust --date 2025-03-09",
}

_AFTER_A_LATE_EDIT = {
    "keep, saved late": "keep",
    "style, saved late": "style blouse widen-neck --by 10mm",
}

_FILES = {
    "sheet": ("sheet blouse {file}", "out/sheet.pdf"),
    "sheet --only-moved": ("sheet blouse {file} --only-moved", "out/moved.pdf"),
    "export, SVG": ("export blouse {file}", "out/blouse.svg"),
    "export, DXF": ("export blouse {file}", "out/blouse.dxf"),
    "export, PDF": ("export blouse {file}", "out/blouse.pdf"),
    "export, PNG": ("export blouse {file}", "out/blouse.png"),
    "export, CSV": ("export blouse {file}", "out/blouse.csv"),
    "export, JSON": ("export blouse {file}", "out/blouse.json"),
    "book": ("book {file}", "out/book.html"),
    "report": ("report {file}", "out/report.md"),
    "fit-from --write": ("fit-from blouse --pinned front.side=8mm --write {file}", "out/fit.toml"),
    "tree --picture": ("tree --picture {file}", "out/tree.svg"),
    "tree --picture --force": ("tree --picture {file} --force", "out/there.svg"),
    "walk --picture": ("walk blouse --picture {file}", "out/walk.svg"),
    "compare --picture": ("compare village --picture {file}", "out/compare.png"),
    "conflicts --picture": ("conflicts village --picture {file}", "out/conflicts.svg"),
    "alter --picture": ("alter berts-vest --picture {file}", "out/alter.svg"),
}

_READING = {
    "attention": "",
    "check": "check blouse",
    "measure": "measure blouse",
    "walk": "walk blouse",
    "tree": "tree",
    "sizes, listed": "sizes village",
    "origin": "origin blouse",
    "history": "history",
    "explain": "explain blouse",
    "report, printed": "report",
    "compare": "compare village",
    "sheet --cut-list": "sheet blouse --cut-list",
    "conflicts": "conflicts",
    "look": "look --no-browser --idle 0",
    "body": "body Ada",
    "bodies": "body",
    "history --body": "history --body Ada",
    "garments": "garments",
    "garment": "garment adas-blouse",
    "alter": "alter berts-vest",
    "shared": "shared --all",
    "diagnose": "diagnose adas-blouse",
    "fit-from": "fit-from blouse --pinned front.side=8mm",
    "correct --preview": "correct village shorten-shoulder --by 6mm --preview",
    "restore": "restore",
    "restore --preview": "restore --preview",
    "promote --preview": "promote own {own} --accept-difference --preview",
}


def _all() -> Iterator[Case]:
    yield Case("start", "nothing", ("start", "new", "--unit", "cm"), Writes.STEPS)
    for name, words in _STEPS.items():
        yield Case(name, "theatre", (*words.split(), *STORE), Writes.STEP)
    for name, words in _AFTER_EDITS.items():
        yield Case(name, "edited", (*words.split(), *STORE), Writes.STEP)
    for name, words in _AFTER_A_LATE_EDIT.items():
        yield Case(name, "edited late", (*words.split(), *STORE), Writes.STEP)
    yield Case("restore", "damaged", ("restore", *STORE), Writes.WHOLE)
    yield Case("mend", "fetched", ("mend", *STORE), Writes.STEP)
    yield Case("mend, another clone", "fetched", ("mend", "other", *STORE), Writes.STEP)
    yield Case("mend, half joined", "stopped", ("mend", *STORE), Writes.STEP)
    for name, (words, file) in _FILES.items():
        filled = words.replace("{file}", file).split()
        yield Case(name, "theatre", (*filled, *STORE), Writes.FILE, file)
    for name, words in _READING.items():
        yield Case(f"{name} (reads)", "theatre", (*words.split(), *STORE), Writes.NOTHING)
    yield Case("demo", "nothing", ("demo", "new"), Writes.STEPS)


CASES = {case.name: case for case in _all()}
NEXT_STEP = ("style", "own", "lengthen", "--by", "1cm", *STORE)
"""The step of the next writer, on a pattern that no case touches in the same way."""
NEXT_IN_NEW = ("draft", "next", *_BODY.split(), "-C", "new")
"""The same in a wardrobe that was only just started."""

"""What the thread that owns the wardrobe has before it: the wardrobe as it is, ready to be asked.

The wardrobe is looked at anew with each thing asked. Others write to it, too.
"""

import hashlib
from collections import OrderedDict
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from trueup.cli.book.source import BookSource
from trueup.cli.command_line import CommandLine
from trueup.cli.look.owning.kept_answers import KeptAnswers
from trueup.cli.look.owning.line import Line
from trueup.cli.look.phone_door import PhoneDoor
from trueup.cli.opening import OpenToRead
from trueup.cli.patience import patience
from trueup.geometry.units import Unit
from trueup.lineage.errors import WardrobeError
from trueup.lineage.evaluation.lanes import Processes
from trueup.lineage.store import Commit
from trueup.lineage.writable import WritableWardrobe

if TYPE_CHECKING:
    from trueup.cli.look.drawing_at_hand import DrawingAtHand
    from trueup.geometry.pieces.draft import Draft

_MOST_DRAFTS = 256
_MOST_VERSIONS = 64


class Desk:
    """A wardrobe that is open for long, read as it is whenever something is asked.

    `most` versions of each node are told on its page. What is put into `later` is done once there
    is time, and not at all when something is asked before. `say` tells a line of the answer under
    way from within what works it out, and raises where nobody waits for it any more; `kept` are
    answers about the wardrobe as it is. By `phone` a note may come for one garment; `drawing` is
    the last one that was handed over to be traced.
    """

    def __init__(
        self, wardrobe: WritableWardrobe, most: int, phone: PhoneDoor | None = None
    ) -> None:
        self.wardrobe = wardrobe
        self.phone = phone
        self.drawing: DrawingAtHand | None = None
        self._most = most
        self._source: BookSource | None = None
        self._before: OrderedDict[str, Draft] = OrderedDict()
        self._heads: OrderedDict[str, str] = OrderedDict()
        self.later: list[Callable[[Desk], Iterator[Line]]] = []
        self.kept = KeptAnswers()
        self.say: Callable[[Line], None] = _say_nothing

    @contextmanager
    def at_work(
        self, require_wanted: Callable[[], None], deliver: Callable[[Line], None]
    ) -> Iterator[None]:
        """Do something on the wardrobe as it is now.

        Between two nodes `require_wanted` is asked, which raises where it is given up; `deliver`
        takes the lines that are said.
        """

        def say(line: Line) -> None:
            require_wanted()
            deliver(line)

        if self.wardrobe.look_again():
            self.let_go()
        self.say = say
        self.wardrobe.progress = lambda _done, _of: require_wanted()
        try:
            yield
        finally:
            self.wardrobe.progress = None
            self.wardrobe.became = None
            self.say = _say_nothing

    def let_go(self) -> None:
        """Forget what was kept of the wardrobe as it was."""
        self._source = None
        self._before.clear()
        self.kept.clear()

    @property
    def unit(self) -> Unit | None:
        """Return the unit that lengths are told in; None where the wardrobe cannot be read."""
        try:
            return self.wardrobe.state.unit
        except WardrobeError:
            return None

    @property
    def source(self) -> BookSource:
        """Return what the pages of the wardrobe as it is are made from."""
        if self._source is None:
            with patience(self.wardrobe):
                sound = self.wardrobe.evaluator.sound()
            reading = OpenToRead(self.wardrobe, sound, self.commands)
            self._source = BookSource(reading, self._most)
        return self._source

    @property
    def commands(self) -> CommandLine:
        """Return what writes commands: for whoever stands in the wardrobe's folder."""
        return CommandLine()

    @property
    def version(self) -> str:
        """Return what the wardrobe as it is is known by: its last step, and edits since."""
        head, edits = self.wardrobe.base, self.wardrobe.edits
        digest = hashlib.sha256(head.encode())
        for path in sorted(edits.written):
            digest.update(repr((path, edits.written[path])).encode())
        found = digest.hexdigest()
        self._heads[found] = head
        if len(self._heads) > _MOST_VERSIONS:
            self._heads.popitem(last=False)
        return found

    def since(self, version: str) -> Sequence[Commit]:
        """Return the steps that were recorded since a version, newest first, as far as is known."""
        if version not in self._heads:
            return ()
        return tuple(self.wardrobe.history(beyond=[self._heads[version]]))

    def before(self, name: str) -> "Draft":
        """Return the geometry of a node as it is; some are kept, for they are asked for often."""
        if name not in self._before:
            self._before[name] = self.wardrobe.evaluator.draft(name)
            if len(self._before) > _MOST_DRAFTS:
                self._before.popitem(last=False)
        return self._before[name]


def _say_nothing(_: Line) -> None:
    """Say it to nobody."""


@contextmanager
def desk_of(folder: Path, most: int, phone: PhoneDoor | None = None) -> Iterator[Desk]:
    """Open a wardrobe for long; raises NotAWardrobe, GitMissing, Damaged, NoSuchGarment."""
    # Other processes would have to be forked off beside the threads that serve.
    with WritableWardrobe.open(folder, Processes(1)) as wardrobe:
        state = wardrobe.state
        if phone is not None:
            state.garment(phone.garment)
        yield Desk(wardrobe, most, phone)

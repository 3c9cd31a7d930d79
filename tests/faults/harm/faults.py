"""What can be wrong after a fault: the kinds of finding, and how each is told."""

from dataclasses import dataclass
from enum import Enum

from tests.faults.watching.orders import Order, WritingCall


class Wrong(Enum):
    """A promise that was not kept."""

    HALF_DONE = "half done"
    TOLD_FALSELY = "told falsely"
    LOST = "lost"
    BLOCKED = "blocked"
    UNWHOLE = "unwhole"
    LITTER = "litter"


@dataclass(frozen=True)
class Finding:
    """One promise not kept, by which command, and at which writing call."""

    case: str
    order: Order
    hit: WritingCall | None
    wrong: Wrong
    says: str

    def __str__(self) -> str:
        again = f"--case '{self.case}' --mode {self.order.mode.name} --at {self.order.at}"
        return f"{self.wrong.value}: {self.case} {again}\n    at {self.hit}\n    {self.says}"

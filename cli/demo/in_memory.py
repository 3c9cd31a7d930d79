"""Play a list of steps without a folder and without git: what a tale comes to, to read from."""

import datetime

from trueup.cli.demo.playing import changes_told, parents_told
from trueup.cli.demo.story import StoryStep, Tale
from trueup.lineage.files.records import BlockDraft, Role, Settings
from trueup.lineage.files.state import State
from trueup.lineage.replay import edits
from trueup.lineage.replay.edits import Edit

DAY = datetime.date(2025, 3, 1)


def state_of(tale: Tale) -> State:
    """Return the blocks and patterns that a tale builds, its garments and decisions aside.

    Raises what `Wardrobe` raises for a step that names what is not there.
    """
    state = State(Settings(tale.name), {})
    for number, told in enumerate(tale.step):
        edit = _edit(state, told, f"{number:040x}")
        if edit is not None:
            state = state.with_nodes(edit.nodes)
    return state


def _edit(state: State, told: StoryStep, head: str) -> Edit | None:
    if told.draft:
        return edits.new_block(state, told.draft, BlockDraft(told.system, told.body))
    if told.derive:
        return edits.new_child(state, told.derive, parents_told(told), told.block)
    node = told.style or told.correct
    if not node:
        return None
    role = Role.STYLE if told.style else Role.CORRECTION
    changes = changes_told(told.changes, state.unit)
    return edits.add_steps(state, head, node, changes, role, told.why, DAY)

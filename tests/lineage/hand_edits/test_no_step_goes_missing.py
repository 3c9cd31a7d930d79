"""Whatever an editor does that was open while steps were recorded, no step is lost in silence."""

import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.lineage.making import change, child
from tests.lineage.stepping import done
from tests.sharing.copied import copied
from trueup.geometry.units import Unit
from trueup.lineage.errors import NothingToChange
from trueup.lineage.files.reading import read_node
from trueup.lineage.files.records import NodeRecord, Role, StepRecord, replace
from trueup.lineage.files.writing import node_text
from trueup.lineage.hand_edits.errors import OpenedEarlier
from trueup.lineage.hand_edits.joined import Texts, joined
from trueup.lineage.hand_edits.named import named_apart
from trueup.lineage.hand_edits.opened_from import FileVersion, opened_from
from trueup.lineage.hand_edits.said import said_by
from trueup.lineage.hand_edits.taking_up import TakenUp
from trueup.lineage.wardrobe import Wardrobe

PATH = "patterns/flat.toml"
KINDS = ("lower-neck", "scoop-armhole", "lengthen")
Edit = Callable[[str], str]


# --- what an editor does --------------------------------------------------------------------------


def tables(text: str) -> list[str]:
    """Return what comes before the steps of a file, and each step's table with what follows."""
    start, *steps = text.split("[[steps]]\n")
    return [start, *(f"[[steps]]\n{step}" for step in steps)]


def comment(number: int) -> Edit:
    return lambda text: f"{text}# remark {number}\n"


def new_step(number: int) -> Edit:
    fields = f'id = "mine{number}"\nrole = "style"\nkind = "widen-neck"\nby = "{number % 9 + 1}mm"'
    return lambda text: text if fields in text else f"{text}\n[[steps]]\n{fields}\n"


def amount(number: int) -> Edit:
    def change_it(text: str) -> str:
        parts = tables(text)
        place = number % len(parts)
        parts[place] = parts[place].replace('by = "', f'by = "{number % 9 + 1}0', 1)
        return "".join(parts)

    return change_it


def without_a_step(number: int) -> Edit:
    def take_out(text: str) -> str:
        parts = tables(text)
        if len(parts) > 1:
            del parts[1 + number % (len(parts) - 1)]
        return "".join(parts)

    return take_out


edits = st.lists(
    st.tuples(st.sampled_from([comment, new_step, amount, without_a_step]), st.integers(1, 99)).map(
        lambda each: each[0](each[1])
    ),
    min_size=1,
    max_size=3,
)


def edited(text: str, by: list[Edit]) -> str:
    for each in by:
        text = each(text)
    return text


# --- the rule by itself, on many histories --------------------------------------------------------


@dataclass(frozen=True)
class Story:
    """The versions of a file, oldest first, and which of them were edits by hand."""

    versions: list[bytes]
    by_hand: list[bool]


@st.composite
def stories(draw: st.DrawFn) -> Story:
    node = child("flat")
    versions, by_hand = [node_text(node)], [False]
    for number in range(draw(st.integers(1, 5))):
        if draw(st.integers(0, 3)) == 0:
            text = versions[-1].decode() + f"# taken up {number}\n"
            versions.append(text.encode())
            by_hand.append(True)
            continue
        node = later(draw, read_node(PATH, versions[-1]), number)
        versions.append(node_text(node, versions[-1]))
        by_hand.append(False)
    return Story(versions, by_hand)


def later(draw: st.DrawFn, node: NodeRecord, number: int) -> NodeRecord:
    """Draw what a verb makes of a node: a step more, another amount, a step less."""
    what = draw(st.sampled_from(["add", "add", "add", "amend", "drop"]))
    if what == "add" or not node.steps:
        made = StepRecord(f"s{number}", Role.STYLE, draw(st.sampled_from(KINDS)))
        return replace(node, steps=(*node.steps, replace(made, values={"by": f"{number + 1}mm"})))
    index = draw(st.integers(0, len(node.steps) - 1))
    before, after = node.steps[:index], node.steps[index + 1 :]
    if what == "drop":
        return replace(node, steps=(*before, *after))
    amended = replace(node.steps[index], values={"by": f"{number + 11}mm"}, why="amended")
    return replace(node, steps=(*before, amended, *after))


@given(stories(), st.data(), edits)
@settings(max_examples=300)
def test_the_rule_keeps_every_step_that_its_editor_did_not_take_out(
    story: Story, data: st.DataObject, by: list[Edit]
) -> None:
    start = data.draw(st.integers(0, len(story.versions) - 1))
    opened = story.versions[start].decode()
    text = edited(opened, by).encode()
    now = story.versions[-1]
    versions = [FileVersion(*each) for each in zip(story.versions, story.by_hand, strict=True)][
        ::-1
    ]
    found = opened_from(text, versions)
    content = text
    if found is not versions[0]:
        assert found.content is not None
        texts = Texts(PATH, found.content, text, now)
        content = joined(texts, lambda *_: None, Unit.MILLIMETRE) or b""
        if not content or said_by(content) == said_by(now):
            return  # refused: nothing is recorded, and all that it lacks is named
    missing = {each.id for each in named_apart(PATH, now, content).missing}
    taken_out = {each.id for each in named_apart(PATH, opened.encode(), text).missing}
    newest = {step.id for step in read_node(PATH, now).steps}
    opened_with = {step.id for step in read_node(PATH, opened.encode()).steps}
    assert missing <= taken_out
    assert not missing & (newest - opened_with)


# --- the whole, on the disk -----------------------------------------------------------------------


def record(wardrobe: Wardrobe, what: str, node: str, number: int) -> None:
    steps = wardrobe.state.node(node).steps
    if what == "add" or not steps:
        lower = change("lower-neck", piece=("front", "back")[number % 2], by=f"{number % 4 + 1}mm")
        done(wardrobe.propose_steps(node, [lower], Role.CORRECTION, "it gapes"), wardrobe)
    elif what == "amend":
        step = steps[number % len(steps)]
        values = {"by": f"{number % 5 + 1}mm"}
        try:
            done(wardrobe.propose_amend(node, step.id, values, "a little"), wardrobe)
        except NothingToChange:
            return
    else:
        done(wardrobe.propose_drop(node, steps[number % len(steps)].id), wardrobe)


def taken_up(wardrobe: Wardrobe) -> tuple[TakenUp | None, str]:
    """Return what became of edits by hand, or the sentence they are refused with."""
    try:
        return wardrobe.take_up_hand_edits(), ""
    except OpenedEarlier as error:
        return None, str(error)


recorded_between = st.lists(
    st.tuples(
        st.sampled_from(["add", "add", "amend", "drop"]),
        st.sampled_from(["village", "flat", "flat"]),
        st.integers(0, 9),
    ),
    max_size=3,
)


@given(recorded_between, recorded_between, edits)
@settings(max_examples=12)
def test_no_step_is_missing_afterwards_unless_it_is_named(
    made: Path,
    before: list[tuple[str, str, int]],
    between: list[tuple[str, str, int]],
    by: list[Edit],
) -> None:
    with tempfile.TemporaryDirectory() as place:
        folder = copied(made, Path(place) / "wardrobe")
        with Wardrobe.open(folder) as wardrobe:
            for each in before:
                record(wardrobe, *each)
            file = folder / PATH
            text = edited(file.read_text(), by)
            for each in between:
                record(wardrobe, *each)
            last = file.read_bytes()
            known = {step.id for node in wardrobe.state.nodes.values() for step in node.steps}
            file.write_text(text)
        with Wardrobe.open(folder) as wardrobe:
            head = wardrobe.head
            taken, refusal = taken_up(wardrobe)
            if refusal:
                lacking = named_apart(PATH, last, text.encode()).missing
                assert all(each.id in refusal for each in lacking)
                assert wardrobe.head == head
                assert file.read_text() == text
                return
            named = {each.id for each in taken.step.taken_out} if taken else set()
            there = {step.id for node in wardrobe.state.nodes.values() for step in node.steps}
            assert known - there <= named
            assert wardrobe.hand_edits() == ()

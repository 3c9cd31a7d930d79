import datetime
import difflib
from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from trueup.geometry.said import said
from trueup.lineage.errors import CannotKeep
from trueup.lineage.files.reading import STEP_FIELDS, read_node, read_settings
from trueup.lineage.files.records import (
    BlockDraft,
    ConflictKind,
    ConflictRecord,
    ConflictState,
    Decision,
    NodeRecord,
    ParentRecord,
    Remedy,
    Role,
    Settings,
    StepRecord,
    replace,
)
from trueup.lineage.files.writing import node_text, settings_text
from trueup.lineage.limits import DEEPEST_TABLE

BY_HAND = """\
# The blouse of the first act.
format = 1
name = "blouse"   # as on the rail
season = "spring" # a field of the maker's own

[[parents]]
name = "village" # the old one
colour = "blue"

# --- what was done for looks
[[steps]]
id = "a1"
role = "style"
kind = "lower-neck"
piece = "front" # only in front
by = "20mm"

[[steps]]
id = "b2"
role = "style"
kind = "embroider" # not known to this program
colours = ["red", "gold"]
thread = { weight = 40, silk = true }

[notes]
# a table of the maker's own
text = "let out in May"
"""

KEPT = ("id", "kind", "arose_at")

texts = st.text(
    st.characters(codec="utf-8", exclude_categories=("Cs",)), max_size=12
)  # control characters among them
ids = st.from_regex(r"[a-z0-9][a-z0-9-]{0,8}", fullmatch=True)
commits = st.text("0123456789abcdef", min_size=40, max_size=40)
dates = st.none() | st.dates(datetime.date(1900, 1, 1))
amounts = st.floats(-1e6, 1e6)
keys = st.from_regex(r"[a-z][a-z_]{0,8}", fullmatch=True).filter(
    lambda key: key not in (*STEP_FIELDS, "values")
)
values = st.dictionaries(
    keys,
    texts
    | st.integers(-1000, 1000)
    | amounts
    | st.booleans()
    | st.lists(texts, max_size=2)
    | st.dictionaries(keys, texts, max_size=2)
    | st.lists(st.dictionaries(keys, texts, min_size=1, max_size=2), min_size=1, max_size=2),
    max_size=3,
)


def steps() -> st.SearchStrategy[StepRecord]:
    return st.builds(
        StepRecord,
        ids,
        st.sampled_from(Role),
        ids,
        st.integers(1, 9),
        values,
        texts,
        dates,
        st.none() | ids,
        st.none() | ids,
    )


def conflicts() -> st.SearchStrategy[ConflictRecord]:
    return st.builds(
        ConflictRecord,
        id=ids,
        kind=st.sampled_from(ConflictKind),
        arose_at=st.just("blouse"),
        piece=texts,
        edge=texts,
        code=texts,
        says=texts,
        correction=texts,
        corrected=texts,
        change=texts,
        before_mm=st.none() | amounts,
        after_mm=st.none() | amounts,
        allowed_mm=st.none() | st.tuples(amounts, amounts),
        excess_mm=amounts,
        since=texts,
        state=st.sampled_from(ConflictState),
        remedies=st.lists(
            st.builds(Remedy, ids, st.none() | amounts, texts, st.none() | ids, values), max_size=2
        ).map(tuple),
        decisions=st.lists(st.builds(Decision, ids, texts, dates), max_size=2).map(tuple),
    )


def parents() -> st.SearchStrategy[ParentRecord]:
    pieces = st.none() | st.lists(ids, min_size=1, max_size=3).map(tuple)
    return st.builds(ParentRecord, ids, pieces, st.none() | commits)


def several(of: st.SearchStrategy[Any], key: str, least: int = 0) -> st.SearchStrategy[Any]:
    def one(each: Any) -> Any:
        return getattr(each, key)

    return st.lists(of, min_size=least, max_size=3, unique_by=one).map(tuple)


def nodes() -> st.SearchStrategy[NodeRecord]:
    more = {"steps": several(steps(), "id"), "conflicts": several(conflicts(), "id")}
    measured = st.dictionaries(keys.filter(lambda key: key != "system"), texts, max_size=3)
    drafted = st.builds(
        NodeRecord,
        name=st.just("blouse"),
        is_block=st.just(True),
        draft=st.builds(BlockDraft, texts, measured),
        **more,
    )
    derived = st.builds(
        NodeRecord,
        name=st.just("blouse"),
        is_block=st.booleans(),
        parents=several(parents(), "name", 1),
        **more,
    )
    return drafted | derived


def read(text: bytes, node: NodeRecord) -> NodeRecord:
    return read_node(node.path, text)


@given(nodes())
@settings(max_examples=80)
def test_what_was_written_is_read_back(node: NodeRecord):
    assert read(node_text(node), node) == node


FIELDS = st.sets(
    st.sampled_from([name for name in ConflictRecord.__struct_fields__ if name not in KEPT])
)


@st.composite
def a_step_later(draw: st.DrawFn, old: NodeRecord) -> NodeRecord:
    """Draw a record as a step leaves it: some tables are gone, some say otherwise, some are new."""

    def later(olds: Any, news: Any, fields: st.SearchStrategy[set[str]]) -> Any:
        stay = [each for each in olds if draw(st.booleans())]
        changed = [
            replace(each, **{field: getattr(other, field) for field in draw(fields)})
            for each, other in zip(stay, news, strict=False)
        ]
        known = {each.id for each in olds}
        added = [each for each in news if each.id not in known]
        return (*changed, *stay[len(changed) :], *added)

    new = draw(nodes())
    of_a_step = st.sets(st.sampled_from(["values", "why", "date", "fitting"]))
    return replace(
        old,
        steps=later(old.steps, new.steps, of_a_step),
        conflicts=later(old.conflicts, new.conflicts, FIELDS),
    )


@given(st.data())
@settings(max_examples=80)
def test_a_file_brought_from_one_record_to_another_says_the_other(data: st.DataObject):
    old = data.draw(nodes())
    new = data.draw(a_step_later(old))
    brought = node_text(new, node_text(old))
    assert read(brought, new) == new
    assert node_text(new, brought) == brought


@given(nodes())
@settings(max_examples=60)
def test_first_conflicts_are_written_alike_with_and_without_a_comment_in_the_file(new: NodeRecord):
    text = node_text(replace(new, conflicts=()))
    assert node_text(new, b"# mine\n" + text) == b"# mine\n" + node_text(new, text)
    assert read(node_text(new, text), new) == new


@given(nodes(), several(conflicts(), "id"), several(conflicts(), "id"))
@settings(max_examples=60)
def test_other_conflicts_leave_all_that_stands_above_them_as_it_was(
    node: NodeRecord, first: tuple[ConflictRecord, ...], then: tuple[ConflictRecord, ...]
):
    above = node_text(replace(node, conflicts=()))
    new = replace(node, conflicts=then)
    text = node_text(new, node_text(replace(node, conflicts=first), above))
    assert text.startswith(above.rstrip(b"\n") + b"\n")
    assert read(text, new) == new


@pytest.mark.parametrize("mine", ["# mine\n", 'mine = "kept"\n'])
def test_what_a_maker_wrote_into_a_conflict_stays_when_it_says_otherwise(mine: str):
    conflict = ConflictRecord("seam-1", ConflictKind.SEAM, "blouse", "sleeve", "cap", "seam", "x")
    node = NodeRecord("blouse", False, (ParentRecord("village"),), conflicts=(conflict,))
    text = node_text(node).replace(b'code = "seam"\n', f'code = "seam"\n{mine}'.encode())
    new = replace(node, conflicts=(replace(conflict, says="y"),))
    written = node_text(new, text)
    assert read(written, new) == new
    assert mine.encode() in written


@st.composite
def with_comments(draw: st.DrawFn, text: str) -> tuple[str, list[str], bool]:
    """Draw a file with comments between its tables and at its end; say whether they end it."""
    lines: list[str] = []
    said: list[str] = []

    def comment() -> None:
        for _ in range(draw(st.integers(0, 2))):
            said.append(f"# number {len(said)}")
            lines.append(said[-1])

    for line in text.rstrip("\n").split("\n"):
        if line in ("[[parents]]", "[[steps]]", "[[conflicts]]"):
            comment()
        lines.append(line)
    is_set_off = draw(st.booleans())
    lines += [""] if is_set_off else []
    count = len(said)
    comment()
    ends = is_set_off and len(said) > count
    return "\n".join(lines) + draw(st.sampled_from(["", "\n", "\n\n"])), said, ends


@given(st.data())
@settings(max_examples=80)
def test_comments_beside_the_tables_and_at_the_end_of_a_file_stay(data: st.DataObject):
    old = data.draw(nodes())
    text, said, ends = data.draw(with_comments(node_text(old).decode()))
    new = data.draw(a_step_later(old))
    brought = node_text(new, text.encode())
    assert read(brought, new) == new
    lines = brought.decode().split("\n")
    assert all(lines.count(each) == 1 for each in said)
    if ends:
        assert [line for line in lines if line][-1] == said[-1]


def test_a_file_whose_last_line_is_not_ended_takes_a_step():
    step = StepRecord("c3", Role.CORRECTION, "scoop-armhole", values={"piece": "front"})
    start = BY_HAND[: BY_HAND.index("\n[notes]")].rstrip()
    for text in (start, f"{start}\n# the last word"):
        old = read_node("patterns/blouse.toml", text.encode())
        new = replace(old, steps=(*old.steps, step))
        written = node_text(new, text.encode())
        assert read(written, new) == new
        assert text.encode() in written


def edited(change: Any) -> tuple[list[str], list[str], NodeRecord]:
    """Return the lines a change takes out of the maker's file and puts in, and what it says."""
    old = read_node("patterns/blouse.toml", BY_HAND.encode())
    new = change(old)
    text = node_text(new, BY_HAND.encode())
    assert read(text, new) == new
    moves = [
        line
        for line in difflib.ndiff(BY_HAND.splitlines(), text.decode().splitlines())
        if line[0] in "+-"
    ]
    out = [line[2:] for line in moves if line[0] == "-"]
    return out, [line[2:] for line in moves if line[0] == "+"], new


def test_nothing_changes_where_nothing_changed():
    assert edited(lambda node: node)[:2] == ([], [])


def test_a_new_step_leaves_every_other_line_as_it_was():
    step = StepRecord("c3", Role.CORRECTION, "scoop-armhole", values={"piece": "front"})
    out, put_in, _ = edited(lambda node: replace(node, steps=(*node.steps, step)))
    assert out == []
    assert [line for line in put_in if line] == [
        "[[steps]]",
        'id = "c3"',
        'role = "correction"',
        'kind = "scoop-armhole"',
        "version = 1",
        'piece = "front"',
    ]


def test_other_amounts_of_a_step_change_one_line():
    def amended(node: NodeRecord) -> NodeRecord:
        first = replace(node.steps[0], values={"piece": "front", "by": "25mm"})
        return replace(node, steps=(first, *node.steps[1:]))

    assert edited(amended)[:2] == (['by = "20mm"'], ['by = "25mm"'])


def test_a_comment_beside_a_value_stays_when_the_value_changes():
    def amended(node: NodeRecord) -> NodeRecord:
        first = replace(node.steps[0], values={"piece": "back", "by": "20mm"})
        return replace(node, steps=(first, *node.steps[1:]))

    assert edited(amended)[:2] == (
        ['piece = "front" # only in front'],
        ['piece = "back" # only in front'],
    )


def test_a_dropped_step_takes_only_its_own_table_along():
    out, put_in, _ = edited(lambda node: replace(node, steps=node.steps[:1]))
    assert put_in == []
    assert {'colours = ["red", "gold"]', "[notes]"} & set(out) == {'colours = ["red", "gold"]'}


def test_a_conflict_may_be_the_first_table_of_its_kind():
    conflict = ConflictRecord("seam-1", ConflictKind.SEAM, "blouse", "sleeve", "cap", "seam", "x")
    out, put_in, node = edited(lambda node: replace(node, conflicts=(conflict,)))
    assert out == []
    assert "[[conflicts]]" in put_in
    assert node.conflicts == (conflict,)


def test_holding_a_parent_keeps_the_makers_own_fields_of_it():
    held = "1" * 40
    out, put_in, _ = edited(
        lambda node: replace(node, parents=(replace(node.parents[0], hold=held),))
    )
    assert out == []
    assert [line for line in put_in if line] == [f'hold = "{held}"']


def test_lists_of_tables_written_in_one_line_keep_what_they_say():
    text = (
        b'format = 1\nname = "blouse"\n# by hand\n'
        b'parents = [{name = "village", colour = "blue"}]\n'
        b'steps = [{id = "a1", role = "style", kind = "lower-neck", piece = "front", by = "2cm"}]\n'
        b'other = "mine" # kept\n'
    )
    old = read_node("patterns/blouse.toml", text)
    step = StepRecord("b2", Role.STYLE, "widen-neck", values={"by": "5mm"})
    held = replace(old.parents[0], hold="1" * 40)
    new = replace(old, steps=(*old.steps, step), parents=(held,))
    written = node_text(new, text)
    assert read(written, new) == new
    tables = tomlkit.parse(written.decode()).unwrap()
    assert tables["other"] == "mine"
    assert tables["parents"][0]["colour"] == "blue"
    assert b"# by hand" in written
    assert b"# kept" in written


def test_files_with_windows_line_ends_stay_readable():
    text = BY_HAND.replace("\n", "\r\n").encode()
    old = read_node("patterns/blouse.toml", text)
    step = StepRecord("c3", Role.STYLE, "widen-neck", values={"by": "5mm"})
    new = replace(old, steps=(*old.steps, step))
    assert read(node_text(new, text), new) == new


@given(texts, st.sampled_from(["mm", "cm", "in"]))
def test_settings_are_read_back(name: str, unit: str):
    given_settings = Settings(name, unit)
    assert read_settings("wardrobe.toml", settings_text(given_settings)) == given_settings


def test_a_reason_for_a_reason_can_be_read_again() -> None:
    says = said("would-wave", measured=4.3, corner="neck centre")
    for what in ("with-amount", "cannot-change", "step-left-out", "on-side", "made-with"):
        says = said(what, says, said("as-far-as", by=120.5), by=301.0)
    remedy = Remedy("refit-cap", 1.5, says, "refit-cap", {"to": "30mm"})
    conflict = ConflictRecord(
        "impossible-1", ConflictKind.IMPOSSIBLE, "flat", "front", "neck", "impossible:a", says,
        remedies=(remedy,),
    )  # fmt: skip
    node = NodeRecord("flat", False, (ParentRecord("village"),), conflicts=(conflict,))
    assert read_node(node.path, node_text(node)) == node


def test_what_could_not_be_read_again_is_not_written() -> None:
    says = said("would-wave", measured=4.3)
    for _ in range(DEEPEST_TABLE):
        says = said("with-amount", says, by=1.0)
    conflict = ConflictRecord(
        "impossible-1", ConflictKind.IMPOSSIBLE, "flat", "front", "neck", "impossible:a", says
    )
    node = NodeRecord("flat", False, (ParentRecord("village"),), conflicts=(conflict,))
    with pytest.raises(CannotKeep):
        node_text(node)

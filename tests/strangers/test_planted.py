"""What a stranger plants in a wardrobe is refused in one sentence, or is as if it were not there.

A sample of what `run_all` tries whole.
"""

from collections.abc import Sequence

import pytest

from tests.strangers.dividing import divide, judged
from tests.strangers.ordeal import Case
from tests.strangers.planted.everything import ANOTHER_HISTORY, PLANTED, pipes_in
from tests.strangers.watched import Watched
from tests.warm import Answer

HARMLESS = (
    "settings: hooks",
    "settings: hooks by a setting",
    "settings: filters",
    "settings: aliases",
    "settings: a promise to fetch",
    "settings: remotes as git once wrote them",
    "history: grafts",
    "history: grafts where trueup names none",
    "history: replaced commits",
    "history: http-alternates",
    "history: a commit graph with other parents",
    "references: odd names among the loose",
    "references: log of HEAD: garbage",
    "references: packed 'refs/heads/--upload-pack=x'",
    "left behind: FETCH_HEAD holds a branch to fetch",
    "left behind: ORIG_HEAD holds a way out",
    "left behind: CHERRY_PICK_HEAD holds many commits",
    "left behind: MERGE_MSG holds garbage",
    "left behind: a place for new objects that runs",
    "left behind: an unfinished step: '{outside}/canary\\n'",
    "left behind: a cache that deletes",
    "left behind: work trees elsewhere",
    "left behind: modules",
    "files: .gitmodules that is huge",
    "files: .gitattributes as a pipe",
    "files: .gitignore as a pipe",
    "files: index: fsmonitor",
)
"""As if they were not there, all together."""

TRIED = (
    *("settings: include of a pipe elsewhere", "settings: includeIf of an endless file"),
    "settings: include behind a section with a hash of a file elsewhere",
    "settings: include behind a section with a semicolon of a file elsewhere",
    *(
        "settings: settings as pipe",
        "settings: settings as huge",
        "settings: settings of the work tree",
    ),
    *("settings: hooks behind a link", "history: alternates that hold the latest version"),
    *(
        "history: .idx of a pack: pipe",
        "history: .rev of a pack: garbage",
        "history: a tree: unending",
    ),
    *("history: a tree: another", "history: a tree: link", "history: shallow of garbage"),
    "history: an index of many packs",
    *(
        "references: HEAD is 'ref: refs/heads/../../../outside/reference'",
        "references: HEAD is huge",
    ),
    *("references: HEAD is a pipe", "references: the branch is 'ref: {outside}/reference'"),
    *("references: packed '../x'", "references: packed references that are huge"),
    *("references: log of HEAD: link to nothing", "references: log of HEAD: pipe"),
    *("references: log of refs/heads/main: folder", "left behind: MERGE_HEAD holds an option"),
    *("left behind: AUTO_MERGE is a pipe", "left behind: the lock index.lock is a pipe"),
    *("left behind: trueup/step is a pipe", "left behind: trueup/making leads out"),
    *("left behind: trueup/step is huge", "left behind: trueup/waiting is a folder"),
    *("left behind: links where new content waits", "left behind: a cache that never ends"),
    "left behind: commondir",
    *("files: info/attributes as a pipe", "files: info/sparse-checkout as a pipe"),
    *("files: index: split from elsewhere", "files: index: split from a pipe"),
    *("files: index: entries that lead out", "files: index: garbage", "files: index: pipe"),
    *("files: recorded 40000 b'Blocks'", "files: recorded 120000 b'.gitmodules'"),
    *(
        "files: blocks leads out",
        "files: blocks/village.toml never ends",
        "files: photos is a pipe",
    ),
)
"""Each by itself: one sentence, or the answers of the clean wardrobe."""


def test_names_are_those_of_what_is_planted() -> None:
    assert [name for name in (*HARMLESS, *TRIED) if name not in PLANTED] == []
    assert len(PLANTED) > 400


def test_what_does_no_harm_is_as_if_it_were_not_there(
    trueup: Watched, built: tuple[object, object], clean: list[Answer], tmp_path: object
) -> None:
    found: list[str] = []
    places = iter(range(1000))

    def passes(names: Sequence[str]) -> bool:
        case = Case.of(built, tmp_path / str(next(places)))  # type: ignore[arg-type,operator]
        for name in names:
            PLANTED[name](case, case.folder)
        refused, wrong = judged(trueup, case, clean)
        if len(names) == 1:
            found.extend(f"{names[0]}: {each}" for each in wrong)
            found.extend([f"{names[0]} is refused"] if refused else [])
        return not refused and not wrong

    divide(HARMLESS, passes)
    assert found == []


@pytest.mark.parametrize("name", TRIED)
def test_what_is_planted_is_refused_or_as_if_it_were_not_there(
    trueup: Watched, clean: list[Answer], case: Case, name: str
) -> None:
    PLANTED[name](case, case.folder)
    another = name.startswith(ANOTHER_HISTORY)
    _, wrong = judged(trueup, case, clean, another_history=another)
    assert wrong == []


@pytest.mark.parametrize("name", TRIED[::4])
def test_what_is_planted_in_a_clone_is_refused_or_as_if_it_were_not_there(
    trueup: Watched, clean: list[Answer], case: Case, name: str
) -> None:
    PLANTED[name](case, case.clone)
    another = name.startswith(ANOTHER_HISTORY)
    _, wrong = judged(trueup, case, clean, "clone", another_history=another)
    assert wrong == []


@pytest.mark.parametrize(
    "file", [".git/config", ".git/HEAD", ".git/index", "wardrobe.toml", "garments/linen.svg"]
)
def test_no_file_is_waited_for(trueup: Watched, clean: list[Answer], case: Case, file: str) -> None:
    pipes_in(case.folder)[f"{file} is a pipe"](case, case.folder)
    _, wrong = judged(trueup, case, clean)
    assert wrong == []

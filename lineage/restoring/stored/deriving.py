"""Find again what is missing: in the working files, in git's index, between versions, in a clone.

Whatever is found is laid down on the bench under the id it has; so nothing wrong is ever found.
"""

from collections.abc import Callable, Collection
from pathlib import Path

from trueup.lineage.restoring.findings import Cure
from trueup.lineage.restoring.stored.bench import Bench
from trueup.lineage.restoring.stored.from_files import lists_in_index, lists_of_files, wanted_files
from trueup.lineage.restoring.stored.from_versions import lists_between
from trueup.lineage.restoring.stored.known import Found, Known, known

_MOST_ROUNDS = 20
"""What is found names more that is missing, one folder deeper each time."""

Source = Callable[[Known], Found]


def derive(
    made: Bench,
    folder: Path,
    starts: Collection[str],
    begins: Collection[str],
    in_clone: Source | None,
) -> tuple[Known, dict[str, Cure]]:
    """Find what can be found; return what is known then, and how each thing was found.

    `in_clone` looks in another clone, where there is one.
    """
    found: dict[str, Cure] = {}
    now = known(made, starts, begins)
    sources: list[tuple[Cure, Source]] = [
        (Cure.FROM_FILES, lambda now: wanted_files(folder, now.wanted, made.letters)),
        (Cure.FROM_INDEX, lambda _: lists_in_index(folder, made.letters)),
        (Cure.FROM_FILES, lambda _: lists_of_files(folder, made.letters)),
        (Cure.FROM_VERSIONS, lists_between),
    ]
    if in_clone is not None:
        sources.insert(0, (Cure.FROM_CLONE, in_clone))
    is_new = True
    for _ in range(_MOST_ROUNDS):
        if not is_new or not now.wanted:
            break
        is_new = False
        for cure, source in sources:
            before = len(found)
            for object_id, content in source(now):
                if object_id in now.wanted and object_id not in found:
                    made.put(object_id, content)
                    found[object_id] = cure
            if len(found) > before:
                is_new = True
                now = known(made, starts, begins)
    return now, found

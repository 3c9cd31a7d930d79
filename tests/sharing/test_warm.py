"""What a process that runs the command says is heard line by line, however it comes."""

from pathlib import Path

from tests.warm import Warm

NOBODY = 2**22 - 1
AT_ONCE = f"echo '\"ready\"'; read -r asked; printf '{NOBODY}\\n0\\n'; read -r more"


def test_a_command_that_ends_at_once_does_not_count_as_hanging(tmp_path: Path) -> None:
    for stream in ("out", "err"):
        (tmp_path / stream).write_text("said")
    with Warm(tmp_path, ("sh", "-c", AT_ONCE)) as trueup:
        answer = trueup("tree", hangs=2.0)
    assert (answer.code, answer.out) == (0, "said")

"""Git's own settings of a wardrobe: can git use them, and what can be kept of damaged ones?

They are read from a copy, by a git that works elsewhere, so that nothing they name takes effect.
"""

import re
from collections.abc import Iterator
from itertools import pairwise

from trueup.lineage.restoring.stored.bench import Bench, plain_settings

_SECTION = re.compile(rb"^[ \t]*\[", re.MULTILINE)
_YES_OR_NO = {"true", "false", "yes", "no", "on", "off", "1", "0", ""}
_SWITCHES = {
    *("core.bare", "core.filemode", "core.ignorecase", "core.precomposeunicode"),
    *("core.symlinks", "core.logallrefupdates"),
}
_EXTENSIONS = {"extensions.objectformat", "extensions.noop", "extensions.worktreeconfig"}


def are_usable(made: Bench, content: bytes | None) -> bool:
    """Return whether git would open a repository with these settings, and find its things."""
    if content is None:
        return False
    found = _read(made, content)
    if found is None:
        return False
    version = found.get("core.repositoryformatversion", "")
    if version not in ("0", "1"):
        return False
    for key, value in found.items():
        switches = _YES_OR_NO | {"always"} if key.endswith("updates") else _YES_OR_NO
        if key in _SWITCHES and value.lower() not in switches:
            return False
        if version == "1" and key.startswith("extensions.") and key not in _EXTENSIONS:
            return False
    stored = found.get("extensions.objectformat", "sha1") if version == "1" else "sha1"
    return stored.lower() == ("sha256" if made.letters == 64 else "sha1")


def keeps_logs(made: Bench, content: bytes | None) -> bool:
    """Return whether git is to note where branches stood, as it does unless told otherwise."""
    found = _read(made, content) if content else None
    value = (found or {}).get("core.logallrefupdates", "true")
    return value.lower() not in ("false", "no", "off", "0")


def put_right(made: Bench, content: bytes | None) -> bytes:
    """Return plain settings, with every other section of the damaged ones that can be read."""
    kept = [
        section
        for section in _sections(content or b"")
        if (found := _read(made, section))
        and not any(key.startswith(("core.", "extensions.", "include")) for key in found)
    ]
    new = plain_settings(made.letters) + b"".join(kept)
    return new if are_usable(made, new) else plain_settings(made.letters)


def _sections(content: bytes) -> Iterator[bytes]:
    starts = [found.start() for found in _SECTION.finditer(content)]
    for start, stop in pairwise([*starts, len(content)]):
        text = content[start:stop]
        yield text if text.endswith(b"\n") else text + b"\n"


def _read(made: Bench, content: bytes) -> dict[str, str] | None:
    """Return every setting by its key; None where git cannot read them."""
    copy = made.git.git_dir / "settings"
    copy.write_bytes(content)
    answer = made.git.ask("config", "--file", str(copy), "--no-includes", "--null", "--list")
    if answer.status != 0:
        return None
    found = {}
    for line in answer.output.decode(errors="replace").split("\0")[:-1]:
        key, says, value = line.partition("\n")
        found[key] = value if says else "true"
    return found

"""Which file names a wardrobe takes, from its maker and from a stranger.

A path is always written the way git writes it: relative to the wardrobe, parts joined by "/".
"""

import unicodedata
from collections.abc import Iterable

from trueup.lineage.errors import UnsafePath

SETTINGS = "wardrobe.toml"
"""The file that makes a folder a wardrobe."""

FOLDERS = ("blocks", "bodies", "garments", "patterns", "photos")
"""The folders a wardrobe owns; anything beside them is the maker's own business."""

OWN_FOLDER = "trueup"
"""The folder inside git's own that holds what a step needs while it is on its way."""

MADE_READY = "restoring-"
"""How the files in it begin that are made ready to stand in for what is damaged."""

FIRST_FILES = {".gitattributes": b"* -text\n"}
"""Written once, at the start: line ends are never changed."""

_HIDDEN = {*FIRST_FILES, ".gitignore"}  # wardrobes were started with one, and makers keep their own

_LONGEST_PART = 255  # bytes; the limit of every file system in common use
_LONGEST_PATH = 1024  # bytes; the shortest limit of a whole path among them
_WINDOWS_CHARACTERS = frozenset('<>:"|?*')
_WINDOWS_DEVICES = frozenset(
    ["con", "prn", "aux", "nul"]
    + [f"{port}{number}" for port in ("com", "lpt") for number in range(1, 10)]
)


_HIDDEN_BY, _BACKUP_BY = ".", "~"
_HIDDEN_WITHIN, _BACKUP_WITHIN = f"/{_HIDDEN_BY}", f"{_BACKUP_BY}/"


def is_nobodys(name: str) -> bool:
    """Tell whether a file or folder of this name is hidden, or a backup an editor left ("x~").

    Neither is ever part of a step, nor is anything inside.
    """
    return name[0] == _HIDDEN_BY or name[-1] == _BACKUP_BY


def is_owned(path: str) -> bool:
    """Tell whether `path` is one of the wardrobe's own files, no part of it being `is_nobodys`."""
    # Asked of every file by every command; part by part that takes twice as long.
    if path.startswith(_HIDDEN_BY) or path.endswith(_BACKUP_BY):
        return False
    if _HIDDEN_WITHIN in path or _BACKUP_WITHIN in path:
        return False
    folder, below, _ = path.partition("/")
    return path == SETTINGS or (bool(below) and folder in FOLDERS)


def require_contained(path: str) -> None:
    """Refuse a path that could lead out of the wardrobe or into git's own files.

    Raises `UnsafePath`. This much is asked of every file read, whoever recorded it.
    """
    if not path:
        raise UnsafePath(path, "it is empty")
    if path.startswith("/"):
        raise UnsafePath(path, "it starts at the root of the disk")
    if "\\" in path:
        raise UnsafePath(path, "it holds a backslash")
    # What is printable holds neither, and is told in one go.
    if not path.isprintable() and any(unicodedata.category(each) in {"Cc", "Cs"} for each in path):
        raise UnsafePath(path, "it holds a character that cannot be printed")
    for part in path.split("/"):
        if part in {"", ".", ".."}:
            raise UnsafePath(path, f'it holds the step "{part}"')
        if _is_git_folder(part):
            raise UnsafePath(path, "it lies among git's own files")


def require_writable_name(path: str) -> None:
    """Refuse a path that git, or any system a wardrobe may be carried to, could not hold.

    Raises `UnsafePath`. This is asked of every file a step writes.
    """
    require_contained(path)
    if len(path.encode()) > _LONGEST_PATH:
        raise UnsafePath(path, "it is too long")
    if path in _HIDDEN:
        return
    for part in path.split("/"):
        if part.startswith("."):
            raise UnsafePath(path, "it is hidden")
        if len(part.encode()) > _LONGEST_PART:
            raise UnsafePath(path, "it is too long")
        if part[-1] in " .":
            raise UnsafePath(path, "a part of it ends in a dot or a space")
        if _WINDOWS_CHARACTERS & set(part):
            raise UnsafePath(path, 'it holds one of < > : " | ? *')
        if part.split(".")[0].rstrip().casefold() in _WINDOWS_DEVICES:
            raise UnsafePath(path, "it is the name of a device on some systems")
        if any(unicodedata.category(character) == "Cf" for character in part):
            raise UnsafePath(path, "it holds a character that cannot be seen")


def require_room_beside(paths: Iterable[str], others: Iterable[str]) -> None:
    """Refuse new files that would stand where a folder stands, or clash with another's name.

    `paths` are the new files, `others` all that will be beside them. Raises `UnsafePath`.
    """
    files = set(others)
    folders = {folder: file for file in files for folder in _folders_above(file)}
    spelled = {name.casefold(): name for name in sorted({*files, *folders})}
    for path in paths:
        if path in folders:
            raise UnsafePath(path, f"it is the folder of {folders[path]}")
        above = _folders_above(path)
        for folder in above:
            if folder in files:
                raise UnsafePath(path, f"{folder} is a file and not a folder")
        for name in (*above, path):
            same = spelled.setdefault(name.casefold(), name)
            if same != name:
                raise UnsafePath(path, f"it differs from {same} only in capital letters")
        files.add(path)
        folders.update(dict.fromkeys(above, path))


def _folders_above(path: str) -> list[str]:
    parts = path.split("/")
    return ["/".join(parts[:depth]) for depth in range(1, len(parts))]


def _is_git_folder(part: str) -> bool:
    """Tell whether some system would take `part` for ".git"."""
    # macOS drops characters that cannot be seen, Windows drops dots and spaces at the end and
    # knows the folder by its short name too.
    seen = part
    if not part.isascii():
        seen = "".join(c for c in part if unicodedata.category(c) != "Cf")
    return seen.casefold().rstrip(". ").split(":")[0] in {".git", "git~1"}

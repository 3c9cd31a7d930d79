"""The id git gives to all files of a version, worked out from their list.

Git lists a tree without looking whether it is what its id says. Whoever keeps a list for longer
keeps it under the id that follows from it.
"""

import hashlib
from collections import defaultdict
from collections.abc import Mapping

PLAIN = "100644"
_FOLDER = b"40000"


def tree_id(files: Mapping[str, str], special: Mapping[str, tuple[str, str]], like: str) -> str:
    """Return the id of the tree that holds these files, in the kind of hash of `like`.

    `files` are plain ones by their paths, with the ids of their content; the mode of others, and
    their ids, stand in `special`.
    """
    folders: dict[str, list[tuple[bytes, bytes]]] = defaultdict(list)
    for path, blob in files.items():
        folder, _, name = path.rpartition("/")
        if path not in special:
            key = name.encode()
            folders[folder].append((key, b"100644 %b\0%b" % (key, bytes.fromhex(blob))))
    for path, (mode, blob) in special.items():
        folder, _, name = path.rpartition("/")
        key = name.encode()
        folders[folder].append((key, b"%b %b\0%b" % (mode.encode(), key, bytes.fromhex(blob))))
    for folder in list(folders):
        above = folder
        while above:
            above = above.rpartition("/")[0]
            folders.setdefault(above, [])
    for folder in sorted(folders, key=lambda each: each.count("/"), reverse=True):
        if folder:
            above, _, name = folder.rpartition("/")
            found = bytes.fromhex(_digest(folders[folder], like))
            key = name.encode()
            # Git sorts a folder as if its name ended in a stroke.
            folders[above].append((key + b"/", b"%b %b\0%b" % (_FOLDER, key, found)))
    return _digest(folders[""], like)


def _digest(entries: list[tuple[bytes, bytes]], like: str) -> str:
    content = b"".join(entry for _, entry in sorted(entries))
    digest = hashlib.sha256() if len(like) == 64 else hashlib.sha1(usedforsecurity=False)
    digest.update(b"tree %d\0" % len(content))
    digest.update(content)
    return digest.hexdigest()

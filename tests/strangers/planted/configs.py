"""What a stranger can write into git's settings so that git reads, runs or waits elsewhere."""

from collections.abc import Mapping
from pathlib import Path

from tests.strangers.ordeal import Case
from tests.strangers.planted.putting import Plant, config, huge, link, pipe, put
from tests.strangers.settings import plumbing

_HOOKS = (
    *("applypatch-msg", "pre-applypatch", "post-applypatch", "pre-commit", "pre-merge-commit"),
    *("prepare-commit-msg", "commit-msg", "post-commit", "pre-rebase", "post-checkout"),
    *("post-merge", "pre-push", "pre-receive", "update", "proc-receive", "post-receive"),
    *("post-update", "reference-transaction", "push-to-checkout", "pre-auto-gc", "post-rewrite"),
    *("sendemail-validate", "fsmonitor-watchman", "post-index-change", "p4-changelist"),
    "p4-pre-submit",
)


def _including(heading: str, target: str) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        pipe(case.outside / "pipe")
        pipe(folder / "more")
        place = target.format(outside=case.outside, folder=folder)
        config(folder, f"{heading}\n\tpath = {place}\n")

    return plant


_INCLUDES: Mapping[str, str] = {
    "include": "[include]",
    "include in capitals": "[INCLUDE]",
    "include behind spaces": "   [include]",
    "include behind another section": "[core][include]",
    "include behind a section with a hash": '[evil "#"][include]',
    "include behind a section with a semicolon": '[evil "a;b"][include]',
    "include behind a long line": f"[core]\n\tevil = {'x' * 5000} \\\n y\n[include]",
    "include after a carriage return": "[core]\r\n[include]",
    "include with a name": '[include "x"]',
    "includeIf gitdir": '[includeIf "gitdir:/"]',
    "includeIf gitdir in capitals": '[IncludeIf "gitdir/i:/"]',
    "includeIf branch": '[includeIf "onbranch:**"]',
    "includeIf remote": '[remote "x"]\n\turl = x\n[includeIf "hasconfig:remote.*.url:**"]',
}
_TARGETS: Mapping[str, str] = {
    "a file elsewhere": "{outside}/canary",
    "a pipe elsewhere": "{outside}/pipe",
    "a pipe in the wardrobe": "../more",
    "a way out": "../../outside/pipe",
    "itself": "config",
    "an endless file": "/dev/zero",
    "the keyboard": "/dev/tty",
}


def _worktree_settings(case: Case, folder: Path) -> None:
    config(folder, "[core]\n\trepositoryFormatVersion = 1\n[extensions]\n\tworktreeConfig = true\n")
    lines = f"[core]\n\tworktree = {case.outside}\n\tfsmonitor = {case.program}\n\tbare = true\n"
    config(folder, f"{lines}[include]\n\tpath = {case.canary}\n", "config.worktree")


def _settings_as(how: str) -> Plant:
    def plant(case: Case, folder: Path) -> None:
        place = folder / ".git" / "config"
        clean = place.read_bytes()
        match how:
            case "pipe":
                pipe(place)
            case "link":
                put(case.outside / "config", clean)
                link(place, case.outside / "config")
            case "huge":
                huge(place, clean, b"# nothing\n")
            case "huge line":
                huge(place, clean + b"[x]\n\ty = ", b"x")
            case "zeros":
                huge(place, clean)
            case "many sections":
                put(place, clean + b"".join(b'[x "%d"]\n\ty=1\n' % n for n in range(200_000)))

    return plant


def _hooks(case: Case, folder: Path) -> None:
    for name in _HOOKS:
        place = folder / ".git" / "hooks" / name
        put(place, case.program.read_bytes())
        place.chmod(0o755)


def _hooks_linked(case: Case, folder: Path) -> None:
    for name in _HOOKS:
        place = case.outside / "hooks" / name
        put(place, case.program.read_bytes())
        place.chmod(0o755)
    link(folder / ".git" / "hooks", case.outside / "hooks")


def _hooks_as_pipes(case: Case, folder: Path) -> None:
    for name in _HOOKS:
        pipe(folder / ".git" / "hooks" / name)


def _hooks_by_setting(case: Case, folder: Path) -> None:
    _hooks_linked(case, folder)
    config(folder, f"[core]\n\thooksPath = {case.outside}/hooks\n")


def _filters(case: Case, folder: Path) -> None:
    each = "".join(f"\t{how} = {case.program}\n" for how in ("clean", "smudge", "process"))
    config(folder, f'[filter "evil"]\n{each}\trequired = true\n')
    config(folder, f'[diff "evil"]\n\ttextconv = {case.program}\n\tcommand = {case.program}\n')
    config(folder, f'[merge "evil"]\n\tdriver = {case.program} %A\n')
    lines = b"* filter=evil diff=evil merge=evil working-tree-encoding=UTF-16 ident text eol=crlf\n"
    put(folder / ".git" / "info" / "attributes", lines)
    put(folder / ".gitattributes", lines)
    put(folder / "patterns" / ".gitattributes", lines)


def _aliases(case: Case, folder: Path) -> None:
    lines = "".join(f"\t{verb} = !{case.program}\n" for verb in plumbing())
    config(folder, f"[alias]\n{lines}")


def _promisor(case: Case, folder: Path) -> None:
    config(folder, "[core]\n\trepositoryFormatVersion = 1\n[extensions]\n\tpartialClone = origin\n")
    lines = f"\turl = ext::{case.program} %S\n\tpromisor = true\n\tuploadpack = {case.program}\n"
    config(folder, f'[protocol]\n\tallow = always\n[remote "origin"]\n{lines}')
    for pack in (folder / ".git" / "objects" / "pack").glob("*.pack"):
        put(pack.with_suffix(".promisor"))


def _remotes_of_old(case: Case, folder: Path) -> None:
    put(folder / ".git" / "remotes" / "origin", f"URL: ext::{case.program}\n".encode())
    put(folder / ".git" / "branches" / "origin", f"ext::{case.program}\n".encode())


PLANTED: Mapping[str, Plant] = {
    **{f"{name} of a file elsewhere": _including(heading, _TARGETS["a file elsewhere"])
       for name, heading in _INCLUDES.items()},
    **{f"include of {name}": _including("[include]", target) for name, target in _TARGETS.items()},
    **{f"includeIf of {name}": _including('[includeIf "gitdir:/"]', target)
       for name, target in _TARGETS.items()},
    **{f"settings as {how}": _settings_as(how)
       for how in ("pipe", "link", "huge", "huge line", "zeros", "many sections")},
    "settings of the work tree": _worktree_settings,
    "settings of the work tree as a pipe": lambda _, folder: pipe(folder / ".git/config.worktree"),
    "hooks": _hooks,
    "hooks behind a link": _hooks_linked,
    "hooks as pipes": _hooks_as_pipes,
    "hooks by a setting": _hooks_by_setting,
    "filters": _filters,
    "aliases": _aliases,
    "a promise to fetch": _promisor,
    "remotes as git once wrote them": _remotes_of_old,
}  # fmt: skip

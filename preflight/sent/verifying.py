"""Whether a folder still holds what was sealed: changed, missing, added and renamed are told apart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import msgspec

from preflight.facts import Digests
from preflight.reporting.wording import counted, file_name, listed, moment
from preflight.sent.seal import Seal


class Differences(msgspec.Struct, frozen=True):
    """What is not as it was sealed; names of files, sorted."""

    changed: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    added: tuple[str, ...] = ()
    renamed: tuple[tuple[str, str], ...] = ()
    """The name then, and now."""
    declaration: bool = False
    """filing.toml is not as it was. It is not uploaded: by itself it changes nothing of what is sent."""

    @property
    def same(self) -> bool:
        """Whether what is about to be uploaded is what was checked."""
        return not (self.changed or self.missing or self.added or self.renamed)


def compare_with_seal(
    seal: Seal,
    now: Iterable[Digests],
    unreadable: Iterable[str] = (),
    left_out: Iterable[str] = (),
    declaration: Digests | None = None,
) -> Differences:
    """The folder as it is now beside its seal. A file that cannot be read is not known to be the same: changed."""
    then = {one.file: _bytes(one) for one in seal.files}
    here: dict[str, tuple[str, ...]] = {one.file: _bytes(one) for one in now} | dict.fromkeys(unreadable, ())
    gone = {name: content for name, content in then.items() if here.get(name) != content}
    come = {name: content for name, content in here.items() if then.get(name) != content}
    renamed = tuple(_moved(gone, come))
    for before, after in renamed:
        del gone[before], come[after]
    return Differences(
        changed=tuple(sorted(gone.keys() & come.keys())),
        missing=tuple(sorted(gone.keys() - come.keys())),
        added=tuple(sorted([*(come.keys() - gone.keys()), *(set(left_out) - set(seal.left_out))])),
        renamed=renamed,
        declaration=declaration != seal.declaration,
    )


def told(differences: Differences, seal: Seal) -> str:
    """In one line."""
    if differences.same:
        many = f"the {counted(len(seal.files), 'file')}" if len(seal.files) != 1 else "the one file"
        line = f"SAME: {many} in the folder are what passed on {moment(seal.sealed)}"
        line = line.replace("the one file in the folder are", "the one file in the folder is")
    else:
        line = f"NOT THE SAME as what passed on {moment(seal.sealed)}: {'; '.join(_parts(differences))}"
    return f"{line}; filing.toml, which is not uploaded, has changed" if differences.declaration else line


def replaced(differences: Differences, earlier: Seal) -> str:
    """In one line: what is not as it was under the seal that was written over."""
    was = f"in the place of the seal of {moment(earlier.sealed)}"
    line = f"{was}, of the same files" if differences.same else f"{was}; since then {'; '.join(_parts(differences))}"
    return f"{line}; filing.toml has changed" if differences.declaration else line


def _parts(found: Differences) -> Iterator[str]:
    for word, names in (("changed", found.changed), ("missing", found.missing), ("added", found.added)):
        if names:
            yield f"{word}: {listed(map(file_name, names))}"
    if found.renamed:
        yield f"renamed: {listed(f'{file_name(a)} to {file_name(b)}' for a, b in found.renamed)}"


def _bytes(one: Digests) -> tuple[str, ...]:
    return str(one.bytes), one.sha256, one.sha512, one.sha1


def _moved(gone: Mapping[str, Sequence[str]], come: Mapping[str, Sequence[str]]) -> Iterator[tuple[str, str]]:
    """Names whose bytes stand under another name now; of several with the same bytes the first with the first."""
    free: dict[Sequence[str], list[str]] = {}
    for name in sorted(come, reverse=True):
        free.setdefault(come[name], []).append(name)
    for name in sorted(gone):
        if places := free.get(gone[name]):
            yield name, places.pop()

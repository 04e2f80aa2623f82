"""The seal: files with their digests, and the verdict on them, frozen after a pass (schemas/seal.schema.json)."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterable, Sequence
from typing import Literal

import msgspec

from preflight.datafiles import DataMistakes
from preflight.facts import Digests
from preflight.reporting.machine import encoded
from preflight.reporting.report import BundleHead, Named, Report, SignedOff


class RulebookUsed(msgspec.Struct, frozen=True):
    """By what it was checked."""

    id: str
    edition: dt.date
    sha256: str
    extensions: tuple[str, ...] = ()
    """Id and digest of house requirements that were added."""


class Accepted(msgspec.Struct, frozen=True):
    """A finding that a reviewer accepted."""

    finding: str
    requirement: str
    message: str
    signed_off: SignedOff


class Answered(msgspec.Struct, frozen=True):
    """A question that a reviewer answered."""

    question: str
    value: str
    by: str
    on: dt.date
    note: str = ""


class Seal(msgspec.Struct, frozen=True, kw_only=True, rename={"schema_id": "schema"}):
    """The whole seal. `digest` is the SHA-256 of all that stands before it: a change by accident shows."""

    schema_id: Literal["preflight-seal/1"] = "preflight-seal/1"
    sealed: str
    """When, RFC 3339."""
    tool: Named
    rulebook: RulebookUsed
    bundle: BundleHead
    verdict: Literal["pass"]
    headline: str
    signed_off: tuple[Accepted, ...]
    answers: tuple[Answered, ...]
    open_questions: tuple[str, ...]
    files: tuple[Digests, ...]
    declaration: Digests | None
    """filing.toml: it is not uploaded, but what it says was taken into account."""
    left_out: tuple[str, ...]
    """What stands in the folder and was not looked at."""
    digest: str = ""


def make_seal(
    report: Report, files: Iterable[Digests], declaration: Digests | None, left_out: Iterable[str], sealed: dt.datetime
) -> Seal:
    """The seal of a report that passed.

    Raises DataMistakes if it did not pass, or if the files are no more those that were checked.
    """
    every = tuple(sorted(files, key=lambda one: one.file))
    if report.verdict != "pass":
        raise DataMistakes([f"{report.headline}: only what passes is sealed"])
    if changed := _changed(report, every):
        raise DataMistakes(
            [
                f"{name} changed while it was checked; let other programs finish with it, then seal again"
                for name in changed
            ]
        )
    book = report.rulebook
    open_seal = Seal(
        sealed=sealed.isoformat(timespec="seconds"),
        tool=report.tool,
        rulebook=RulebookUsed(
            book.id, book.edition, book.sha256, tuple(f"{one.id} {one.sha256}" for one in book.extensions)
        ),
        bundle=report.bundle,
        verdict="pass",
        headline=report.headline,
        signed_off=tuple(
            Accepted(f.id, f.requirement, f.message, f.signed_off) for f in report.findings if f.signed_off
        ),
        answers=tuple(
            Answered(q.id, q.answer.value, q.answer.by, q.answer.on, q.answer.note) for q in report.by_hand if q.answer
        ),
        open_questions=tuple(q.id for q in report.by_hand if not q.answer),
        files=every,
        declaration=declaration,
        left_out=tuple(sorted(left_out)),
    )
    return msgspec.structs.replace(open_seal, digest=_digest(open_seal))


def seal_to_json(seal: Seal) -> bytes:
    """Indented by 2, ending with a line feed: the one form in which a seal is valid."""
    return encoded(seal)


def seal_from_json(raw: bytes) -> Seal:
    """The reverse. Raises DataMistakes for what is no seal, and for one of which any byte was changed."""
    try:
        seal = msgspec.json.decode(raw, type=Seal)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise DataMistakes([f"this is no seal of preflight ({error})"]) from error
    if seal.digest != _digest(seal) or raw != seal_to_json(seal):
        raise DataMistakes(["this seal was changed after it was made, and proves nothing; seal the folder again"])
    return seal


def _changed(report: Report, files: Sequence[Digests]) -> list[str]:
    checked = {d.file: (d.sha256, d.bytes) for d in report.documents if d.sha256}
    now = {one.file: (one.sha256, one.bytes) for one in files}
    return sorted(name for name in checked.keys() | now.keys() if checked.get(name) != now.get(name))


def _digest(seal: Seal) -> str:
    return hashlib.sha256(msgspec.json.encode(msgspec.structs.replace(seal, digest=""))).hexdigest()

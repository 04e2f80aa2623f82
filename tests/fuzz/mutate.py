"""Changes the sample PDFs at random and reads them: every run must end in a report.

By hand: `python tests/fuzz/mutate.py --count 2000 --seed 1 --seconds 3600`. Whole bundles are changed and checked by
the engine, with real workers. Printed are counts of outcomes, and for each crash the seed: `--seed S --count 1`
repeats it, `--keep FOLDER` leaves its files there.
"""

from __future__ import annotations

import argparse
import contextlib
import datetime as dt
import functools
import io
import json
import random
import re
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import pikepdf
from jsonschema import Draft202012Validator

from preflight import engine
from preflight.datafiles import schema
from preflight.plugging import Registry, built_in, registry_of
from preflight.reading import Limits, read_files
from preflight.reporting.machine import to_json
from preflight.reporting.renderer import to_text

BUNDLES = Path(__file__).resolve().parents[2] / "sample_bundles"
LARGEST = 400_000
"""Bytes of a sample; a larger one takes time and shows no more."""
LIMITS = Limits(seconds=30, page_seconds=10, memory=600)
NOON = dt.datetime(2026, 11, 25, 17, tzinfo=dt.UTC)

TOKENS = (
    *(b"0", b"-1", b"1e38", b"99999999999", b"2147483647", b"-0.00001", b"null", b"true", b"()", b"<>", b"[", b"]"),
    *(b"<<", b">>", b"/Kids", b"/Parent", b"1 0 R", b"2 0 R", b"99 0 R", b"endstream", b"endobj", b"stream\n"),
    *(b"/FlateDecode", b"/Form", b"/Type0", b"/Type3", b"<FEFFD800>", b"(\\377\\376)", b"Do", b"Tj", b"q", b"Q", b"BT"),
)
_TOKEN = re.compile(rb"-?\d+\.?\d*|/[A-Za-z0-9]+|<<|>>|\[|\]|\b[A-Za-z]{1,3}\b")
_OBJECT = re.compile(rb"\d+ 0 obj\b.*?\bendobj", re.DOTALL)


@dataclass(frozen=True)
class Edit:
    """One change. `where` and `other` are shares of a file; `size` and `value` mean what the kind makes of them."""

    kind: str
    where: float
    other: float
    size: int
    value: int


def changed(data: bytes, edits: Sequence[Edit], donor: bytes) -> bytes:
    """The bytes after all edits; `donor` is the file from which pieces are spliced in."""
    for edit in edits:
        data = KINDS[edit.kind](data, edit, donor)
    return data


def _flip(data: bytes, edit: Edit, _: bytes) -> bytes:
    at = _at(data, edit.where)
    return (
        data[:at]
        + bytes(b ^ (edit.value & 0xFF or 1) for b in data[at : at + edit.size % 4 + 1])
        + data[at + edit.size % 4 + 1 :]
    )


def _cut(data: bytes, edit: Edit, _: bytes) -> bytes:
    at = _at(data, edit.where)
    return data[:at] + data[at + edit.size :]


def _cut_end(data: bytes, edit: Edit, _: bytes) -> bytes:
    return data[: _at(data, edit.where)]


def _repeat(data: bytes, edit: Edit, _: bytes) -> bytes:
    at = _at(data, edit.where)
    return data[:at] + data[at : at + edit.size] * (edit.value % 8 + 1) + data[at:]


def _splice(data: bytes, edit: Edit, donor: bytes) -> bytes:
    at, start = _at(data, edit.where), _at(donor, edit.other)
    return data[:at] + donor[start : start + edit.size] + data[at + edit.value % (edit.size + 1) :]


def _token(data: bytes, edit: Edit, _: bytes) -> bytes:
    """Another word in the place of the next one."""
    found = _TOKEN.search(data, _at(data, edit.where))
    if not found:
        return data
    return data[: found.start()] + TOKENS[edit.value % len(TOKENS)] + data[found.end() :]


def _swap(data: bytes, edit: Edit, _: bytes) -> bytes:
    """Two objects change places, their numbers stay."""
    found = list(_OBJECT.finditer(data))
    if len(found) < 2:
        return data
    one, two = sorted((_pick(found, edit.where), _pick(found, edit.other)), key=lambda m: m.start())
    if one.start() == two.start():
        return data
    first, second = (m[0].partition(b" obj") for m in (one, two))
    return b"".join(
        (
            *(data[: one.start()], first[0], first[1], second[2]),
            *(data[one.end() : two.start()], second[0], second[1], first[2], data[two.end() :]),
        )
    )


KINDS = {
    "flip": _flip,
    "cut": _cut,
    "cut end": _cut_end,
    "repeat": _repeat,
    "splice": _splice,
    "token": _token,
    "swap": _swap,
}


def _at(data: bytes, share: float) -> int:
    return int(share * len(data))


def _pick(found: list[re.Match[bytes]], share: float) -> re.Match[bytes]:
    return found[min(len(found) - 1, int(share * len(found)))]


def random_edits(chance: random.Random) -> list[Edit]:
    """One to six edits; words are changed more often than the rest, for they get furthest."""
    kinds = [*KINDS, "token", "token", "token", "swap"]
    return [
        Edit(
            chance.choice(kinds),
            chance.random(),
            chance.random(),
            chance.choice((1, 4, 30, 500)),
            chance.getrandbits(16),
        )
        for _ in range(chance.randint(1, 6))
    ]


@functools.cache
def samples(bundle: str = "*") -> tuple[tuple[str, bytes], ...]:
    """Name and bytes of the sample PDFs, each as it is and with everything in it unpacked."""
    found = []
    for path in sorted(BUNDLES.glob(f"{bundle}/*.pdf")):
        if path.stat().st_size <= LARGEST:
            found += [(path.name, path.read_bytes()), (path.name, unpacked(path))]
    return tuple(found)


@functools.cache
def unpacked(path: Path) -> bytes:
    """The same document without compression, so that a change reaches what is in its streams."""
    out = io.BytesIO()
    try:
        with pikepdf.open(path) as pdf:
            decode = pikepdf.StreamDecodeLevel.generalized
            pdf.save(out, compress_streams=False, stream_decode_level=decode, static_id=True,
                     object_stream_mode=pikepdf.ObjectStreamMode.disable)  # fmt: skip
    except pikepdf.PdfError:  # one of the samples is broken on purpose
        return path.read_bytes()
    return out.getvalue()


def changed_bundle(seed: int) -> dict[str, bytes]:
    """The files of one bundle by name, all of its PDFs changed."""
    chance = random.Random(seed)
    bundles = sorted({path.parent.name for path in BUNDLES.glob("*/*.pdf")})
    own = samples(chance.choice(bundles))
    files: dict[str, bytes] = {}
    for name in dict(own):
        data = chance.choice([d for n, d in own if n == name])
        files[name] = changed(data, random_edits(chance), chance.choice(samples())[1])
    return files


def outcomes(folder: Path, registry: Registry) -> Iterator[str]:
    """Check the folder; what became of each file, in words without numbers. Raises whatever goes wrong."""
    seen = []

    def read(*arguments: object, **more: object) -> object:
        seen.extend(read_files(*arguments, **more, limits=LIMITS, workers=2))  # type: ignore[arg-type]
        return tuple(seen)

    engine.read_files = read  # type: ignore[assignment]
    report = engine.check_folder(folder, engine.Request(), now=NOON, registry=registry)
    errors = [e.message for e in Draft202012Validator(schema("report")).iter_errors(json.loads(to_json(report)))]
    if errors or not to_text(report):
        raise AssertionError(f"the report is not as its schema: {errors[:1]}")
    for facts in seen:
        own = "ours: " if facts.reader_failed else "unread: "
        yield own + _kind(facts.unread) if facts.unread else "read"
        yield from {f"page: {_kind(page.unread)}" for page in facts.pages if page.unread}


def _kind(reason: str) -> str:
    return re.sub(r"\d+", "N", re.sub(r"\(qpdf: .*", "(qpdf)", reason))


BAD = ("stopped unexpectedly", "failed on it", "out of turn", "agreed form", "too large", "could not be started")
"""Words of reasons that tell of a bug of ours or of a library."""


def main() -> int:
    """Run as asked; 1 if anything went wrong."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--count", type=int, default=100, help="changed files, at least")
    options.add_argument("--seed", type=int, default=1, help="of the first bundle; the next ones follow")
    options.add_argument("--seconds", type=float, default=600, help="no bundle is begun after so long")
    options.add_argument("--keep", type=Path, help="folder for the files of bundles that went wrong")
    asked = options.parse_args()
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    tally, wrong, files, seed, began = Counter[str](), 0, 0, asked.seed, time.monotonic()
    registry = registry_of(built_in())
    with contextlib.suppress(KeyboardInterrupt):
        while files < asked.count and time.monotonic() - began < asked.seconds:
            bundle = changed_bundle(seed)
            trouble, found = _one(bundle, registry)
            trouble += [word for word in found if any(bad in word for bad in BAD)]
            if trouble:
                wrong += 1
                print(f"seed {seed}: {'; '.join(trouble)}", flush=True)  # noqa: T201
                if asked.keep:
                    _write(asked.keep / str(seed), bundle)
            tally.update(found)
            files, seed = files + len(bundle), seed + 1
    print(f"{files} changed files in {seed - asked.seed} bundles, {time.monotonic() - began:.0f} s, {wrong} wrong")  # noqa: T201
    for word, number in tally.most_common():
        print(f"{number:6} {word}")  # noqa: T201
    return 1 if wrong else 0


def _one(bundle: dict[str, bytes], registry: Registry) -> tuple[list[str], list[str]]:
    """What went wrong with the program, and what became of the files."""
    with tempfile.TemporaryDirectory() as name:
        _write(Path(name), bundle)
        try:
            return [], list(outcomes(Path(name), registry))
        except Exception as error:  # noqa: BLE001  whatever it is, the run goes on and tells it
            return [f"no report: {type(error).__name__}: {str(error)[:200]}"], []


def _write(folder: Path, bundle: dict[str, bytes]) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in bundle.items():
        (folder / name).write_bytes(data)


if __name__ == "__main__":
    sys.exit(main())

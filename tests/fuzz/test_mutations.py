"""Changed samples, read in this process: any bytes at all end in facts or in a reason, and never in an exception."""

from __future__ import annotations

import faulthandler
import io
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from mutate import KINDS, Edit, changed, samples

from preflight.facts import Entry
from preflight.reading import Limits
from preflight.reading.document import read
from preflight.reading.frames import Job, read_answer, write_frame
from preflight.reading.progress import Reading

PATIENCE = 60
"""Seconds for one file; then the process ends and says where it was."""
EXAMPLES = int(os.environ.get("PREFLIGHT_MUTATIONS", "60"))

pytestmark = [pytest.mark.hostile, pytest.mark.slow]

SHARES = st.floats(0, 0.999)
EDITS = st.builds(
    Edit, st.sampled_from([*KINDS]), SHARES, SHARES, st.sampled_from([1, 4, 30, 500]), st.integers(0, 65535)
)


@pytest.mark.timeout(0)
@settings(
    max_examples=EXAMPLES, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck), database=None
)
@given(st.data())
def test_any_change_ends_in_facts_or_in_a_reason(tmp_path: Path, data) -> None:
    files = [bytes_ for _, bytes_ in samples()]
    edits = data.draw(st.lists(EDITS, min_size=1, max_size=5))
    path = tmp_path / "changed.pdf"
    path.write_bytes(changed(data.draw(st.sampled_from(files)), edits, data.draw(st.sampled_from(files))))
    reading = Reading(Entry(path.name, path.stat().st_size), Limits(seconds=20))
    faulthandler.dump_traceback_later(PATIENCE, exit=True)
    try:
        for answer in read(Job(str(path))):
            reading.take(_through_the_pipe(answer))
    finally:
        faulthandler.cancel_dump_traceback_later()
    facts = reading.facts()
    assert reading.finished
    assert facts.unread or facts.pages
    assert "out of turn" not in (facts.unread or "")


def _through_the_pipe(answer):
    pipe = io.BytesIO()
    write_frame(pipe, answer)
    pipe.seek(0)
    heard = read_answer(pipe)
    assert heard is not None
    return heard[0]


@pytest.mark.timeout(300)
def test_the_command_for_long_runs_ends_well_and_counts() -> None:
    command = [sys.executable, str(Path(__file__).with_name("mutate.py")), "--count", "6", "--seed", "7"]
    ended = subprocess.run(command, capture_output=True, text=True, check=False)
    assert ended.returncode == 0, ended.stdout + ended.stderr
    assert "0 wrong" in ended.stdout

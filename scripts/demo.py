"""Checks a faulty sample bundle and shows its report; ends 0 although the verdict is FAIL."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

SAMPLE = Path(__file__).resolve().parents[1] / "sample_bundles" / "hurried"
DAY = "2026-11-25"
"""A fixed day, so that the demonstration looks the same tomorrow."""


def main() -> int:
    """0 if the check ran to its end and found the faults that were planted, else its exit code."""
    command = [sys.executable, "-P", "-m", "preflight", "check", str(SAMPLE), "--filing-date", DAY, "--no-cache"]
    sys.stdout.write(f"preflight check sample_bundles/{SAMPLE.name} --filing-date {DAY}\n\n")
    sys.stdout.flush()
    code = subprocess.run(command, check=False).returncode  # noqa: S603 - our own program
    if code != 1:
        sys.stderr.write(f"the sample should fail (exit code 1), but the check ended with {code}\n")
        return code or 1
    program = Path(sys.executable).with_name("preflight")
    try:
        shown = program.relative_to(Path.cwd())
    except ValueError:
        shown = program
    sys.stdout.write(f"\nThe sample fails on purpose. For a folder of your own, type:\n\n    {shown} check FOLDER\n")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())

"""Checks a faulty sample bundle and shows its report; ends 0 although the verdict is FAIL."""

from __future__ import annotations

import shlex
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
    switch_on, program = _typed(Path(sys.prefix), Path.cwd(), windows=sys.platform == "win32")
    sys.stdout.write(
        "\nThe sample fails on purpose. For a folder of your own, first switch the program on, once in each new "
        f"terminal window:\n\n    {switch_on}\n\nthen type, with your folder:\n\n    preflight check FOLDER\n\n"
        f"or, without switching it on:\n\n    {program} check FOLDER\n"
    )
    return 0


def _typed(environment: Path, here: Path, *, windows: bool) -> tuple[str, str]:
    """What switches the environment on, and what calls the program without that, as they are typed in this folder."""
    shown = environment.relative_to(here) if environment.is_relative_to(here) else environment
    if windows:
        return str(shown / "Scripts" / "Activate.ps1"), str(shown / "Scripts" / "preflight")
    return f". {shlex.quote(str(shown / 'bin' / 'activate'))}", shlex.quote(str(shown / "bin" / "preflight"))


if __name__ == "__main__":
    raise SystemExit(main())

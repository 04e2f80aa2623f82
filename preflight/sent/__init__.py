"""What proves, after the check, what was checked: pure functions of digests and report."""

from preflight.sent.refusing import refused
from preflight.sent.seal import Seal, make_seal, seal_from_json, seal_to_json
from preflight.sent.verifying import Differences, compare_with_seal, replaced, told

__all__ = [
    "Differences",
    "Seal",
    "compare_with_seal",
    "make_seal",
    "refused",
    "replaced",
    "seal_from_json",
    "seal_to_json",
    "told",
]

"""For every test, here and in the plug-ins."""

from __future__ import annotations

import os

os.environ["PREFLIGHT_CACHE"] = "off"
"""No test uses the cache of the person who runs it. Set before any test module copies the environment."""

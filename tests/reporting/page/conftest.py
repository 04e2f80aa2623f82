"""One headless browser for all tests of the page, and the pages that it opens."""

from __future__ import annotations

import base64
import json
import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import numpy.typing as npt
import pytest
from selenium import webdriver
from selenium.webdriver.chrome.service import Service

PROGRAMS = ("chromium", "chromedriver")
SWITCHES = ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars")
"""No sandbox: the pages are ours, and tests often run as root."""
AXE = Path(__file__).resolve().parents[3] / ".axe" / "node_modules" / "axe-core" / "axe.min.js"
"""Fetched by .ci/run, never kept in the repository."""


class Browser:
    """A browser that opens one page after the other and tells what it did."""

    def __init__(self, driver: webdriver.Chrome) -> None:
        self._driver = driver
        self.run = driver.execute_script
        self.wait = driver.execute_async_script

    def open(self, page: Path, width: int = 1100) -> None:
        """The page at this width, with nothing heard so far."""
        self._driver.get("about:blank")
        self._command("Emulation.setDeviceMetricsOverride", width=width, height=900, deviceScaleFactor=1, mobile=False)
        self.complaints()
        self.requests()
        self._driver.get(page.as_uri())

    def complaints(self) -> list[str]:
        """What stands on its console since it was last asked."""
        return [entry["message"] for entry in self._driver.get_log("browser")]

    def requests(self) -> list[str]:
        """Every address that it asked for since it was last asked."""
        events = [json.loads(entry["message"])["message"] for entry in self._driver.get_log("performance")]
        return [e["params"]["request"]["url"] for e in events if e["method"] == "Network.requestWillBeSent"]

    def picture(self, left: float, top: float, width: float, height: float, scale: float) -> npt.NDArray[np.uint8]:
        """A part of the page as it is painted, in pixels of the page; rows of blue, green and red."""
        clip = {"x": left, "y": top, "width": width, "height": height, "scale": scale}
        made = self._command("Page.captureScreenshot", format="png", captureBeyondViewport=True, clip=clip)
        raw = np.frombuffer(base64.b64decode(made["data"]), np.uint8)
        return np.asarray(cv2.imdecode(raw, cv2.IMREAD_COLOR), dtype=np.uint8)

    def printed(self) -> bytes:
        """The page as PDF, without the colours of grounds, as an office printer has it."""
        made = self._command("Page.printToPDF", printBackground=False, preferCSSPageSize=True)
        return base64.b64decode(made["data"])

    def press(self, key: str) -> None:
        """Press and let go of one key."""
        code = {"Tab": 9, "Enter": 13}[key]
        text = {"text": "\r"} if key == "Enter" else {}
        for kind in ("keyDown", "keyUp"):
            more = {"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code, **text}
            self._command("Input.dispatchKeyEvent", **more)

    def _command(self, name: str, **arguments: Any) -> Any:
        return self._driver.execute_cdp_cmd(name, arguments)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """The one of the system; without it the tests are skipped and say so."""
    found = {name: os.environ.get(name.upper()) or shutil.which(name) for name in PROGRAMS}
    if missing := [name for name, path in found.items() if not path]:
        pytest.skip(f"not installed: {', '.join(missing)} (Debian: apt-get install chromium chromium-driver)")
    options = webdriver.ChromeOptions()
    options.binary_location = found["chromium"]
    for switch in SWITCHES:
        options.add_argument(switch)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = webdriver.Chrome(options=options, service=Service(found["chromedriver"]))
    yield Browser(driver)
    driver.quit()


@pytest.fixture(scope="session")
def axe() -> str:
    """The source of axe-core, which looks for what keeps people out (MPL-2.0, from npm)."""
    if not AXE.is_file():
        pytest.skip("axe-core is not there: npm install --prefix .axe axe-core")
    return AXE.read_text(encoding="utf-8")

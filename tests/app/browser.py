"""The app in a real browser, headless: what it was sent is read as a person reads the page."""

import base64
import json
import os
import shutil
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, Self

import pyte
import pytest
from selenium.common.exceptions import WebDriverException
from selenium.webdriver import ActionChains, Chrome, ChromeOptions
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.support.wait import WebDriverWait

from tests.app.terminal import PATIENCE_SECONDS

_PATHS = ("chromium", "chromedriver")
# The first two for a container without a screen; the others keep it from asking around.
_SWITCHES = (
    "--headless=new",
    "--no-sandbox",
    "--enable-unsafe-swiftshader",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


def need_a_browser() -> None:
    """Skip the test where there is no Chromium; where everything must be tested, fail."""
    missing = [name for name in _PATHS if not shutil.which(name)]
    if missing and os.environ.get("CHROMIUM") == "needed":
        pytest.fail(f"there is no {missing[0]}")
    if missing:
        pytest.skip(f"there is no {missing[0]} on this machine: the page was not tried")


def started() -> Chrome:
    """Chromium, which takes about as long to start as a test takes with it."""
    options = ChromeOptions()
    options.binary_location = shutil.which("chromium") or ""
    for switch in _SWITCHES:
        options.add_argument(switch)
    options.set_capability("goog:loggingPrefs", {"performance": "ALL", "browser": "ALL"})
    return Chrome(options=options, service=Service(shutil.which("chromedriver")))


class Browser:
    """Chromium with a tablet's screen, on the page at `url`; leaves it at the end of a `with`."""

    def __init__(self, chromium: Chrome, url: str, width: int = 1180, height: int = 820) -> None:
        self._driver = chromium
        chromium.delete_all_cookies()
        for kind in ("performance", "browser"):
            chromium.get_log(kind)  # type: ignore[no-untyped-call]
        self._screen = pyte.Screen(200, 60)
        self._stream = pyte.ByteStream(self._screen)
        screen = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False}
        self._do("Emulation.setDeviceMetricsOverride", screen)
        self._do("Emulation.setTouchEmulationEnabled", {"enabled": True})
        self._driver.get(url)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._driver.get("about:blank")

    def tap(self, x: int, y: int) -> None:
        self._do(
            "Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]}
        )
        self._do("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})

    def open_again(self) -> None:
        """Tap the button of a page that was closed."""
        self._read()
        self._screen.reset()
        place = self._driver.find_element("id", "again").rect
        self.tap(place["x"] + place["width"] // 2, place["y"] + place["height"] // 2)

    def press(self, keys: str) -> None:
        """Press `keys` once something on the page takes them."""
        self._until(
            lambda: self._driver.execute_script("return document.activeElement !== document.body")
        )
        ActionChains(self._driver).send_keys(keys).perform()

    @property
    def driver(self) -> Chrome:
        """The browser itself, for what only one test asks of it."""
        return self._driver

    @property
    def page(self) -> str:
        """What the page says outside the terminal."""
        return str(self._driver.execute_script("return document.body?.innerText ?? ''"))

    def status_of(self, path: str) -> int:
        """What the server answers when the page asks for `path`."""
        script = "return fetch(arguments[0]).then(answer => answer.status)"
        return int(self._driver.execute_script(script, path))

    def connects(self, path: str) -> bool:
        """Whether the page can open a websocket at `path`."""
        script = """
            const line = new WebSocket(`ws://${location.host}${arguments[0]}`);
            return new Promise(done => {
                line.onopen = () => { line.close(); done(true); };
                line.onerror = () => done(false);
            });
        """
        return bool(self._driver.execute_script(script, path))

    def wait_for_page(self, words: str) -> None:
        """Wait until the page itself says `words`."""
        self._until(lambda: words in self.page)

    def wait_for(self, *words: str) -> None:
        """Wait until all `words` stand on the screen of the app."""
        end = time.monotonic() + PATIENCE_SECONDS
        while missing := [each for each in words if each not in self.text]:
            if time.monotonic() > end:
                raise AssertionError(f"never saw {missing}; last seen:\n{self.text}\n{self.page}")
            time.sleep(0.05)
            self._read()

    @property
    def text(self) -> str:
        """What stands on the screen of the app."""
        return "\n".join(line.rstrip() for line in self._screen.display).rstrip()

    @property
    def complaints(self) -> list[str]:
        """What the browser found wrong with the page."""
        return [entry["message"] for entry in self._driver.get_log("browser")]  # type: ignore[no-untyped-call]

    def picture(self, path: Path) -> None:
        self._driver.save_screenshot(str(path))

    def _until(self, there: Callable[[], object]) -> None:
        # A page that is just giving way to the next one has no answer.
        wait = WebDriverWait(self._driver, PATIENCE_SECONDS, 0.05, [WebDriverException])
        wait.until(lambda _: there())

    def _do(self, command: str, details: dict[str, Any]) -> None:
        self._driver.execute_cdp_cmd(command, details)

    def _read(self) -> None:
        for entry in self._driver.get_log("performance"):  # type: ignore[no-untyped-call]
            message = json.loads(entry["message"])["message"]
            if message["method"] == "Network.webSocketFrameReceived":
                frame = message["params"]["response"]
                if frame["opcode"] == 2:
                    self._stream.feed(base64.b64decode(frame["payloadData"]))

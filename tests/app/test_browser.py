"""The app in a real browser: a cut is ticked by a tap and by a key, and is on disk."""

import re
import signal
import time
from datetime import UTC, datetime
from pathlib import Path

from selenium.webdriver import Chrome
from selenium.webdriver.common.keys import Keys

from tests.app.browser import Browser
from tests.app.serving import address, served
from tests.app.terminal import PATIENCE_SECONDS
from tests.samples import plan_of, project_of
from workbench.making.batch import replay
from workbench.making.events import Event
from workbench.store.database import Workshop

SAMPLE = Path(__file__).parents[2] / "sample_projects" / "regatta_thanks.toml"
MIDDLE_OF_THE_PROMPT = (500, 300)
PAST_A_BOUNCE = 0.5


def ticked(home: Path) -> int:
    """How many steps of the first batch are done, as they stand on disk."""
    batch = Workshop.open(home).batch(1)
    return replay(batch.plan, batch.events).done


def begin_batch(home: Path) -> None:
    Workshop.open(home).create_batch(project_of(SAMPLE.stem), None, plan_of(SAMPLE.stem))


def test_a_cut_is_ticked_by_a_tap_and_by_the_space_bar(tmp_path: Path, chromium: Chrome) -> None:
    begin_batch(tmp_path)
    with served(home=tmp_path) as process, Browser(chromium, address(process)) as browser:
        browser.wait_for("Resume")
        browser.press(Keys.ENTER)
        browser.wait_for("step 1 of")
        time.sleep(PAST_A_BOUNCE)
        browser.tap(*MIDDLE_OF_THE_PROMPT)
        browser.wait_for("step 2 of")
        assert ticked(tmp_path) == 1
        time.sleep(PAST_A_BOUNCE)
        browser.press(" ")
        browser.wait_for("step 3 of")
        assert ticked(tmp_path) == 2
        # Another window on the same batch, as the terminal on the table beside the tablet.
        Workshop.open(tmp_path).append(1, Event("ticked", 3, datetime.now(UTC)), 3)
        browser.wait_for("step 4 of")
        browser.picture(tmp_path / "page.png")
        assert all("ping" in complaint for complaint in browser.complaints)
    assert ticked(tmp_path) == 3


def test_a_page_that_was_closed_is_opened_again_by_a_tap(tmp_path: Path, chromium: Chrome) -> None:
    with (
        served(str(SAMPLE), home=tmp_path) as process,
        Browser(chromium, address(process)) as browser,
    ):
        browser.wait_for("2 Pieces")
        browser.press("q")
        browser.wait_for_page("A batch under way waits")
        browser.picture(tmp_path / "closed.png")
        browser.open_again()
        browser.wait_for("2 Pieces")
        process.send_signal(signal.SIGINT)
        browser.wait_for_page("trimtally serve was ended")
        browser.picture(tmp_path / "ended.png")


def test_a_tablet_that_goes_to_sleep_keeps_what_is_not_saved(
    tmp_path: Path, harbour: Path, chromium: Chrome
) -> None:
    with served(str(harbour), home=tmp_path / "home") as process:
        url = address(process)
        with Browser(chromium, url) as browser:
            browser.wait_for("2 Pieces")
            browser.press(Keys.ARROW_DOWN + "d")
            browser.wait_for("copy of panel")
        with Browser(chromium, url) as browser:
            browser.wait_for("that were not saved")
            browser.press(Keys.ENTER)
            browser.wait_for("copy of panel")


def test_a_tablet_in_the_network_is_asked_for_the_word(tmp_path: Path, chromium: Chrome) -> None:
    with served("--address", "0.0.0.0", home=tmp_path, word=True) as process:
        url = re.sub(r"//.*:", "//127.0.0.1:", address(process))
        assert process.stdout
        word = process.stdout.readline().split()[-1]
        with Browser(chromium, url) as browser:
            assert "access word" in browser.page
            assert browser.status_of("/static/js/textual.js") == 401
            assert not browser.connects("/ws")
            browser.picture(tmp_path / "door.png")
            browser.press("not this one" + Keys.ENTER)
            browser.wait_for_page("That is not the word")
            browser.press(word + Keys.ENTER)
            browser.wait_for("Open a file")
            assert browser.connects("/ws")


def test_a_written_guide_is_handed_to_the_browser(tmp_path: Path, chromium: Chrome) -> None:
    project = tmp_path / "scraps.toml"
    project.write_bytes((SAMPLE.parent / "one_card_from_scraps.toml").read_bytes())
    with (
        served(str(project), home=tmp_path) as process,
        Browser(chromium, address(process)) as browser,
    ):
        browser.wait_for("2 Pieces")
        browser.press("5")
        browser.wait_for("inches first", "THE CARD")
        handed: list[str] = browser.driver.execute_script(
            "window.handed = []; window.open = address => window.handed.push(address);"
            "return window.handed"
        )
        assert handed == []
        browser.press(Keys.ENTER)
        browser.wait_for("Write the guide to")
        browser.press(Keys.ENTER)
        browser.wait_for("Written:")
        end = time.monotonic() + PATIENCE_SECONDS
        while not handed and time.monotonic() < end:
            handed = browser.driver.execute_script("return window.handed")
        script = (
            "return fetch(arguments[0]).then(got => got.arrayBuffer().then(file => "
            "[got.status, got.headers.get('Content-Disposition'), file.byteLength]))"
        )
        fetched = browser.driver.execute_script(script, handed[0])
        assert fetched[0] == 200
        assert "scraps.pdf" in fetched[1]
        assert fetched[2] == (tmp_path / "scraps.pdf").stat().st_size
        assert browser.driver.execute_script(script, handed[0])[0] == 404

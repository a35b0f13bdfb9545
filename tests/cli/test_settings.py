"""What holds for all batches, listed and changed from the command line."""

import json
from collections.abc import Callable

import pytest

from workbench.cli import main
from workbench.cli.preference_table import ALL, Kept
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.preferences import preferences_of
from workbench.store.pricing import pricing_of

Say = Callable[..., str]


@pytest.fixture
def say(capsys: pytest.CaptureFixture[str]) -> Say:
    def say(*words: str, code: int = 0) -> str:
        assert main(["settings", *words]) == code
        told = capsys.readouterr()
        return told.out if code == 0 else told.err

    return say


CHANGED = {
    "longest-cut": "13 in",
    "rule": "400 mm",
    "least-strip": "3/4 in",
    "inch-marks": "1/32 in",
    "millimetre-marks": "1/2 mm",
    "patterned-at-once": "3",
    "cardstock-at-once": "2",
    "vellum-at-once": "2",
    "other-at-once": "50",
    "even-within": "1/32 in",
    "units": "mm",
    "bell": "yes",
    "voice": "yes",
    "pace": "estimates",
    "post": "uk",
    "spare-room": "1/4 in",
    "keys": "tick=space,t",
    "currency": "JPY",
    "hour": "18.50 EUR",
    "margin": "30",
    "extras": "envelope = 0.12; glue = 0.35 a batch",
    "least-side": "2 in",
    "least-area": "13/2",
}


def test_everything_set_in_forms_is_listed(say: Say) -> None:
    assert [line.partition(" = ")[0] for line in say().splitlines()] == list(CHANGED)
    assert not Workshop.open().exists  # looking makes no workshop
    told = json.loads(say("--json"))
    assert told["longest-cut"]["value"] == "12 1/2 in"
    assert "20 s to set the guide" in told["pace"]["about"]


@pytest.mark.parametrize("name", CHANGED)
def test_what_is_set_is_shown_as_it_was_written_and_set_back(say: Say, name: str) -> None:
    value = CHANGED[name]
    usual = say(name).splitlines()[0]
    assert usual != f"{name} = {value}"
    assert say(name, value).splitlines()[0] == f"{name} = {value}"
    assert say(name).splitlines()[0] == f"{name} = {value}"
    assert say(name, "usual").splitlines()[0] == usual


def test_what_is_shown_is_what_the_workshop_keeps(say: Say) -> None:
    for name, value in CHANGED.items():
        if name != "currency":
            say(name, value)
    workshop = Workshop.open()
    kept = Kept(preferences_of(workshop), pricing_of(workshop), Drawer(workshop).least_useful)
    for one in ALL:
        assert one.read(kept, one.shown(kept)) == kept
    assert kept.preferences.unit == "mm"
    assert str(kept.pricing.hourly) == "18.50 EUR"
    assert kept.preferences.trimmer.at_once["patterned"] == 3


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("marign", "30"), "did you mean “margin”?"),
        (("margin", "100"), "100 % cannot be kept"),
        (("margin", "-1"), "margin: “-1” is less than nothing"),
        (("hour", "18,505"), "finer than EUR is paid"),
        (("hour", "a lot"), "no amount of money"),
        (("currency", "euro"), "no currency"),
        (("units", "ells"), "no unit here"),
        (("bell", "loud"), "neither yes nor no"),
        (("post", "mars"), "no post is called “mars”"),
        (("longest-cut", "0"), "nothing or less"),
        (("longest-cut", "far"), "far"),
        (("inch-marks", "1/10"), "no rule is divided"),
        (("cardstock-at-once", "51"), "51 sheets cannot be cut at once"),
        (("keys", "tack=space"), "no command is called"),
        (("keys", "tick=p"), '"p" is the key of pause there'),
        (("keys", "tick=q"), '"q" is the key of leave there'),
        (("keys", "tick=t pause=t"), '"t" is the key of pause there'),
        (("longest-cut", "1", "parsec"), "longest-cut: “1 parsec” ends in “parsec”"),
        (("extras", "glue"), "no extra"),
        (("least-area", "6 by 1"), "no area"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(say: Say, words: tuple[str, ...], said: str) -> None:
    assert said in (told := say(*words, code=2))
    assert told.count("\n") == 1
    assert not Workshop.open().exists


def test_words_that_belong_together_need_no_quotation_marks(say: Say) -> None:
    assert say("longest-cut", "15", "1/4", "in").splitlines()[0] == "longest-cut = 15 1/4 in"
    # A key that another command gives up may be taken.
    assert say("keys", "tick=p", "pause=k").splitlines()[0] == "keys = tick=p pause=k"


def test_amounts_finer_than_another_currency_pays_are_refused(say: Say) -> None:
    say("hour", "18.50")
    assert "finer than JPY is paid" in say("currency", "JPY", code=2)
    assert say("hour").startswith("hour = 18.50 EUR")

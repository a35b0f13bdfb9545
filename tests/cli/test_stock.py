"""The drawer from the command line: said in words and in JSON, refused in one line."""

import json
import shutil
from collections.abc import Callable
from contextlib import nullcontext
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.effort import FOR_SHEETS
from tests.making.plans import HARBOUR, PLAN
from tests.store.drawing import LAST, begin, stocked, ticked
from workbench.cli import main
from workbench.craft.money import Price
from workbench.planning import Watch
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.drawer_projects import fresh_stock

SAMPLES = Path(__file__).parents[2] / "sample_projects"
Say = Callable[..., str]


@pytest.fixture
def say(capsys: pytest.CaptureFixture[str]) -> Say:
    def say(*words: object, code: int = 0) -> str:
        assert main([str(word) for word in words]) == code
        told = capsys.readouterr()
        return told.out if code == 0 else told.out + told.err

    return say


@pytest.fixture
def drawer(workshop_folder: Path) -> Drawer:
    return Drawer(Workshop.open(workshop_folder))


def data(text: str) -> Any:
    return json.loads(text)


def add(say: Say, name: str = "kite stripe", sheets: int = 6) -> None:
    say("stock", "add", name, "--size", "12 x 12 in", "--sheets", sheets, "--price", "7,20 / 12")


def test_stock_is_added_used_counted_listed_and_taken_back(say: Say) -> None:
    add(say)
    add(say, "moth dot", 2)
    assert "4 free" in say("stock", "use", "kite stripe", 2)
    assert "3 free" in say("stock", "use", "kite stripe", 1, "--thrown")
    assert "8 free" in say("stock", "buy", "kite stripe", 5)
    assert "7 free" in say("stock", "count", "kite stripe", 7)
    (paper,) = data(say("stock", "list", "KITE", "--json"))["papers"]
    assert {key: paper[key] for key in ("bought", "on_hand", "used", "thrown")} == {
        "bought": 11,
        "on_hand": 7,
        "used": 2,
        "thrown": 2,
    }
    assert data(say("stock", "undo", "--json")) == {"taken_back": "count 7 of “kite stripe”"}
    assert "8 free" in say("stock", "list", "kite")
    assert data(say("stock", "audit", "--json")) == {"agrees": True, "found": []}


def test_that_there_is_nothing_is_said(say: Say) -> None:
    assert "The drawer is empty." in say("stock", "list")
    add(say)
    assert "Nothing in the drawer has these words." in say("stock", "list", "moth")
    assert "No backups" in say("restore")


def test_a_row_without_a_name_is_told_by_its_place(say: Say, tmp_path: Path) -> None:
    file = tmp_path / "stock.csv"
    file.write_text("name,kind,size,sheets,colours\n,cardstock,A4,3,\nfawn,cardstock,A4,3,cream\n")
    told = say("stock", "import", file, code=2).splitlines()
    assert told[0].startswith("row 2: refused (it has no name")
    assert told[1] == "row 3: fawn: added"


def test_the_least_offcut_is_told_as_the_rule_shows_it(say: Say) -> None:
    assert "from about 1 3/16 in a side" in say("stock", "least", "--side", "30 mm")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("stock", "use", "moth dot", 1), 'no paper "moth dot"; choose one from its list'),
        (("stock", "use", "kite", 1), 'no paper "kite"; did you mean "kite stripe"?'),
        (("stock", "use", "kite stripe", 0), "“0” is too small; give 1 at least"),
        (("stock", "buy", "kite stripe", 0), "“0” is too small; give 1 at least"),
        (("stock", "import", "nowhere.csv"), "there is no such file; check the name"),
        (("stock", "use", "kite stripe", 9), "6 free sheets, and 9 are asked for"),
        (("stock", "use", "kite stripe", -1), "less than nothing"),
        (("stock", "add", "x", "--size", "large"), "large"),
        (("stock", "add", "x", "--size", "A4", "--price", "cheap"), "no amount of money"),
        (("stock", "add", "x", "--size", "A4", "--kind", "wallpaper"), "no kind"),
        (("stock", "add", "x", "--size", "A4", "--colours", "mauvish"), "teal, ivory or sea green"),
        (
            ("stock", "add", "x", "--size", "A4", "--sheets", "9" * 11),
            "too large; give 100000 at most",
        ),
        (("stock", "export", "stock.pdf"), "let it end in .csv or .toml"),
        (("stock", "make", "nowhere"), "no such folder"),
        (("stock", "adopt"), "give FILE or --batch"),
        (("stock", "sell"), "invalid choice"),
        (("stock", "pricing", "--margin", 100), "100 % cannot be kept"),
        (("stock", "pricing", "--currency", "euro"), "“EURO” is no currency"),
        (("stock", "pricing", "--extra", "glue"), "no extra"),
        (("stock", "pricing", "--extra", "glue = 1 a year"), "neither a card nor a batch"),
        (("stock", "least", "--side", "wide"), "wide"),
        (("stock", "least", "--area", "6 by 1"), "no area"),
        (("stock", "least", "--area", "-1"), "area: “-1” is less than nothing"),
        (("stock", "clear", "--days", 36_501), "give 0 to"),
        (("batch", "show", 7), "no batch 7"),
        (("batch", "show", "one"), "“one” is not a whole number"),
        (("batch", "abandon", 7), "no batch 7"),
        (("restore", "nowhere.sqlite"), "no such file"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(
    say: Say, words: tuple[object, ...], said: str
) -> None:
    add(say)
    told = say(*words, code=2)
    assert said in told
    assert told.count("\n") == 1


def test_a_file_is_taken_in_after_its_preview(say: Say, tmp_path: Path) -> None:
    add(say)
    file = tmp_path / "stock.csv"
    say("stock", "export", file)
    text = file.read_text(encoding="utf-8").replace(",6,", ",9,") + "moth dot,vellum,A4,1\r\n"
    file.write_text(text, encoding="utf-8")
    told = say("stock", "import", file)
    assert "row 2: kite stripe: counted again (6 → 9)" in told
    assert "row 3: moth dot: added" in told
    assert "6 free" in say("stock", "list")
    assert data(say("stock", "import", file, "--yes", "--json"))["written"]
    assert "9 free" in say("stock", "list")
    file.write_text(text + "kite,wallpaper,A4,1\r\n", encoding="utf-8")
    refused = data(
        say("stock", "import", file, "--yes", "--json", code=2).partition("\n}\n")[0] + "}"
    )
    assert (refused["refused"], refused["written"]) == (1, False)


def test_what_can_be_made_and_what_to_buy(
    say: Say, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    watch = Watch(limits=FOR_SHEETS)
    monkeypatch.setattr("workbench.cli.plans.watched", lambda: nullcontext(watch))
    for name in ("regatta_thanks", "rainy_day_slimline"):
        shutil.copy(SAMPLES / f"{name}.toml", tmp_path)
    project = tmp_path / "regatta_thanks.toml"
    said = say("stock", "adopt", project)
    assert "lantern dot is taken from the drawer: 1 sheet free\n" in said
    more = project.read_text().replace("sheets = 10", "sheets = 12").split("stock =")
    again = tmp_path / "again.toml"
    again.write_text("\n".join([more[0], *(part.split("\n", 1)[1] for part in more[1:])]))
    told = "night harbour is taken from the drawer: 10 sheets free; the file said 12 sheets"
    assert told in say("stock", "adopt", again)
    again.unlink()
    first, second = data(say("stock", "make", tmp_path, "--json"))
    assert (first["title"], first["makeable"]) == ("Regatta supper thank-yous", 9)
    assert (second["makeable"], bool(second["missing"])) == (0, True)
    said = say("stock", "shop", project)
    assert "No paper needs to be bought." in said
    # A card of 5 x 7 in goes in an A7 envelope, 5 1/4 × 7 1/4 in, as the trade's tables have it.
    assert "9 × envelope US A7, 5 1/4 × 7 1/4 in" in said
    twice = data(say("stock", "shop", project, project, "--json"))
    assert {one["paper"] for one in twice["papers"]} >= {"lantern dot", "night harbour"}
    assert [one["count"] for one in twice["envelopes"]] == [18]
    assert say("stock", "shop", project, project, "--csv").startswith("what,size,count,for\n")
    assert "a sheet: " in say("stock", "uses", "lantern dot", tmp_path)
    assert data(say("plan", project, "--json"))["shortages"] == []
    say("stock", "count", "lantern dot", 0)
    assert "lantern dot" in say("plan", project, code=3)


def test_batches_are_listed_shown_given_and_abandoned(say: Say, drawer: Drawer) -> None:
    batch = begin(drawer, stocked(drawer, 3))
    other = begin(drawer, fresh_stock(drawer, stocked(drawer, 3)))
    ticked(drawer.workshop, batch, LAST)
    ticked(drawer.workshop, other, 2)
    assert [line["state"] for line in data(say("batch", "list", "--json"))] == [
        "under way",
        "finished",
    ]
    say("batch", "give", batch, 2, "Aunt Wren")
    refused = say("batch", "give", batch, 3, "Uncle Finch", code=2)
    assert "it has no card 3; its cards are numbers 1 to 2" in refused
    say("stock", "pricing", "--extra", "stamp = 1.10", "--hourly", 12)
    shown = data(say("batch", "show", batch, "--json"))
    assert shown["recipients"] == {"2": "Aunt Wren"}
    assert shown["papers"] == sorted(paper.name for paper in HARBOUR.papers)
    # By hand: eleven minutes between twelve ticks, 2.20, and two stamps, 2.20.
    assert (shown["minutes"], shown["cost"]["whole"]) == (11, "4.40 EUR")
    year = data(say("batch", "year", 2026, "--json"))
    assert (year["cards"], year["sheets"], year["minutes"], year["months"][2]) == (2, 3, 11, 2)
    # By hand, as in the costs: 21 of 165.5 sq in, 0.1269.
    assert year["waste"] == 0.1269
    assert data(say("batch", "resume", other, "--json"))["next_step"] == 3
    say("batch", "abandon", other)
    assert "abandoned" in say("batch", "resume", other, code=2)
    assert "it is abandoned; begin another" in say("batch", "abandon", other, code=2)
    assert drawer.audit() == ()


def test_the_drawer_takes_no_papers_of_a_project_that_cannot_be_written(
    say: Say, tmp_path: Path
) -> None:
    project = Path(shutil.copy(SAMPLES / "regatta_thanks.toml", tmp_path))
    project.chmod(0o444)
    assert "marked read-only" in say("stock", "adopt", project, code=2)
    assert "The drawer is empty" in say("stock", "list")


def test_a_batch_begun_before_is_adopted(say: Say, drawer: Drawer) -> None:
    batch = drawer.workshop.create_batch(HARBOUR, None, PLAN)
    assert len(data(say("stock", "adopt", "--batch", batch, "--json"))["papers"]) == 3
    assert "1 reserved" in say("stock", "list")


def test_the_workshop_is_kept_and_put_back(say: Say, tmp_path: Path) -> None:
    add(say)
    copy = tmp_path / "copy.sqlite"
    say("backup", copy)
    assert "--over" in say("backup", copy, code=2)
    assert "no such folder" in say("backup", tmp_path / "elsewhere" / "copy.sqlite", code=2)
    assert not (tmp_path / "elsewhere").exists()
    say("stock", "use", "kite stripe", 6)
    assert "What was there lies in" in say("restore", copy)
    assert "6 free" in say("stock", "list")
    assert "No backups were made" in say("restore")


def test_offcuts_to_clear_out(say: Say, drawer: Drawer) -> None:
    ticked(drawer.workshop, begin(drawer, stocked(drawer, 2)), LAST)
    assert "worth keeping" in say("stock", "clear")
    assert len(data(say("stock", "clear", "--days", 0, "--json"))["offcuts"]) == 2
    assert data(say("stock", "clear", "--days", 0, "--yes", "--json"))["cleared"] == 2
    assert drawer.listing().offcuts == ()


HUGE = "9" * 23
BEYOND = "9" * 5000  # more digits than Python reads
ODD = [
    "",
    "-1",
    HUGE,
    BEYOND,
    f"1 / {BEYOND}",
    "1e9",
    "nan",
    "\x1b[2J",
    "日本",
    "a" * 3000,
    "--",
    "/dev/null",
    ".",
]


@pytest.mark.parametrize("odd", ODD, ids=range(len(ODD)))
def test_whatever_is_given_is_answered_in_a_line(
    odd: str, drawer: Drawer, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    begin(drawer, stocked(drawer, 3))
    asked = [
        *(["stock", do, "net weave", odd] for do in ("use", "buy", "count")),
        *(["stock", do, odd, "1"] for do in ("use", "buy", "count")),
        *(["stock", do, odd] for do in ("list", "import", "adopt", "shop")),
        *(["stock", do, f"--{option}={odd}"] for do, option in _OPTIONS),
        *(["stock", "add", "x", "--size=A4", f"--{option}={odd}"] for option in _DESCRIBED),
        ["stock", "make", odd if odd != "." else str(tmp_path)],
        ["stock", "uses", odd, str(tmp_path)],
        ["stock", "adopt", "--batch", odd],
        *(["batch", do, odd] for do in ("show", "resume", "abandon", "year")),
        ["batch", "give", "1", odd, "x"],
        ["batch", "give", odd, "1", "x"],
    ]
    for words in asked:
        code = main(words)
        told = capsys.readouterr()
        assert code in (0, 2), (words, told.err)
        assert "\x1b" not in told.out + told.err
        assert code == 0 or told.out or told.err
    assert main(["stock", "list", "--json"]) == 0
    assert drawer.audit() == ()


_OPTIONS = [("clear", "days"), ("least", "side"), ("least", "area"), ("pricing", "hourly")]
_OPTIONS += [("pricing", "margin"), ("pricing", "currency"), ("pricing", "extra")]
_DESCRIBED = (
    *("sheets", "kind", "print", "colours", "run", "weight", "thickness", "strip"),
    *("pad", "price", "lies", "note", "tag"),
)


def test_no_more_sheets_lie_there_than_a_paper_may_have(say: Say) -> None:
    add(say)
    for words in (("buy", "kite stripe", 99_999), ("count", "kite stripe", 100_001)):
        assert "100000 at most" in say("stock", *words, code=2)
    assert "6 free" in say("stock", "list")


def test_a_batch_is_told_though_a_paper_was_paid_in_another_currency(
    say: Say, drawer: Drawer
) -> None:
    ticked(drawer.workshop, begin(drawer, stocked(drawer)), LAST)
    paper = drawer.paper(1)
    drawer.change(1, replace(paper.paper, price=Price.read("450 JPY")))
    said = say("batch", "show", 1)
    assert "12 of 12" in said or "finished" in said.casefold()
    assert f"price of {paper.data.name}: it is in JPY, which cannot be added to EUR" in said
    assert data(say("batch", "show", 1, "--json"))["cost"] is None
    say("settings", "currency", "JPY")
    assert data(say("batch", "show", 1, "--json"))["cost"]["whole"].endswith(" JPY")

"""The drawer: what goes in, what batches take and give back, and the way back from each."""

import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest

from tests.making.plans import FOG, GULL, HARBOUR, NET, PLAN, size
from tests.store.drawing import (
    LAST,
    begin,
    happen,
    put_in_stock,
    stocked,
    sums,
    taken_again,
    ticked,
    ways,
)
from workbench.craft.errors import CraftError
from workbench.craft.money import Price
from workbench.craft.paper import Offcut, Strip
from workbench.craft.stock import Counts, LeastUseful, Move, StockPaper
from workbench.making.batch import abandoning, taking_back, tick
from workbench.making.events import Event
from workbench.planning import PartId, Shortage
from workbench.store.database import Workshop
from workbench.store.drawer import Drawer
from workbench.store.drawer_lines import OffcutLine
from workbench.store.drawer_projects import adopt_batch, adopt_papers, fresh_stock
from workbench.store.errors import WorkshopError
from workbench.store.lots import StockShortError

STRIP = size("2 1/4", "4 3/4")


@pytest.fixture
def drawer(tmp_path: Path) -> Drawer:
    return Drawer(Workshop.open(tmp_path / "home"))


def offcuts(drawer: Drawer) -> list[tuple[str, object, int]]:
    return [(line.name, line.measures, line.counts.on_hand) for line in drawer.listing().offcuts]


def only_offcut(drawer: Drawer) -> OffcutLine:
    (found,) = drawer.listing().offcuts
    return found


# Counts


def test_counts_that_do_not_add_up_are_refused() -> None:
    Counts(9, 4, 2, 2, 1)
    with pytest.raises(CraftError):
        Counts(9, 4, 2, 2, 2)
    with pytest.raises(CraftError):
        Counts(1, 2, -1, 0, 0)
    with pytest.raises(CraftError):
        Move(bought=1)


def test_the_tables_themselves_refuse_counts_that_do_not_add_up(drawer: Drawer) -> None:
    stocked(drawer)
    with drawer.workshop.reading() as connection:
        for wrong in ("bought = 8", "on_hand = -1, used = 10", "thrown = 1"):
            with pytest.raises(sqlite3.IntegrityError):
                connection.execute(f"UPDATE lots SET {wrong} WHERE id = 1")


# By hand


def test_everything_said_of_a_paper_is_kept(drawer: Drawer) -> None:
    paper = replace(HARBOUR.papers[1], sheets=24, weight="80 lb text", thickness="0.1 mm")
    stock = StockPaper(
        replace(paper, strip=Strip("left", size(1, 1).width)),
        pad="harbour pad",
        price=Price.read("12.95 EUR / 24"),
        lies="drawer 3",
        tags=("sea", "blue"),
        note="from the fair",
    )
    assert drawer.paper(drawer.add(stock)).paper == stock


def test_by_hand_sheets_come_in_are_used_lost_and_counted(drawer: Drawer) -> None:
    paper = drawer.add(StockPaper(replace(HARBOUR.papers[0], sheets=6)))
    drawer.buy(paper, 4)
    drawer.use(paper, 3)
    drawer.throw(paper, 1)
    assert sums(drawer)[FOG] == (10, 6, 0, 3, 1)
    drawer.count(paper, 4)
    assert sums(drawer)[FOG] == (10, 4, 0, 3, 3)
    drawer.count(paper, 7)
    assert sums(drawer)[FOG] == (13, 7, 0, 3, 3)
    with pytest.raises(StockShortError, match="7 free sheets, and 8 are asked for"):
        drawer.use(paper, 8)
    assert drawer.audit() == ()


def test_every_change_by_hand_is_taken_back_the_last_first(drawer: Drawer) -> None:
    before = drawer.listing()
    paper = drawer.add(StockPaper(replace(HARBOUR.papers[0], sheets=6)))
    stages = [drawer.listing()]
    for change in (
        lambda: drawer.count(paper, 2),
        lambda: drawer.change(paper, replace(drawer.paper(paper).paper, lies="box 2")),
        lambda: drawer.split(paper, ["fog one", "fog two"], 1),
        lambda: drawer.add_offcuts(paper, STRIP, 3),
        lambda: drawer.clear_out([only_offcut(drawer).id]),
        lambda: drawer.merge([line.id for line in drawer.papers()]),
        lambda: drawer.remove(paper),
    ):
        change()
        stages.append(drawer.listing())
    for stage in reversed(stages):
        assert [line[:3] for line in drawer.papers()] == [line[:3] for line in stage.papers]
        assert sums(drawer) == {line.data.name: line.counts.as_tuple for line in stage.papers}
        assert drawer.audit() == ()
        assert drawer.undo()
    assert drawer.listing() == before
    assert drawer.undo() is None


def test_a_pad_is_split_and_its_papers_still_say_so(drawer: Drawer) -> None:
    pad = drawer.add(StockPaper(replace(HARBOUR.papers[1], name="sea pad", sheets=24)))
    drawer.split(pad, ["wave", "shell", "rope"], 8)
    assert [(line.data.name, line.counts.on_hand) for line in drawer.papers()] == [
        ("rope", 8),
        ("sea pad", 0),
        ("shell", 8),
        ("wave", 8),
    ]
    assert drawer.find("shell").data.pad == "sea pad"
    with pytest.raises(StockShortError):
        drawer.split(pad, ["kelp"], 1)


def test_papers_are_found_by_name_or_number(drawer: Drawer) -> None:
    first, second = (drawer.add(StockPaper(HARBOUR.papers[0])) for _ in range(2))
    third = drawer.add(StockPaper(HARBOUR.papers[1]))
    assert drawer.find(NET).id == third
    assert drawer.find(str(second)).id == second
    with pytest.raises(WorkshopError, match=f"2 papers are called .*say {first}, {second}"):
        drawer.find(FOG)
    with pytest.raises(WorkshopError, match="no paper"):
        drawer.find("moth dot")


# Batches


def test_a_batch_reserves_when_begun_and_uses_as_it_is_cut(drawer: Drawer) -> None:
    batch = begin(drawer, stocked(drawer, 2))
    assert sums(drawer) == dict.fromkeys((FOG, GULL, NET), (2, 1, 1, 0, 0))
    ticked(drawer.workshop, batch, 1)  # the two prints in one stack
    assert sums(drawer)[NET] == (2, 1, 0, 1, 0)
    assert sums(drawer)[FOG] == (2, 1, 1, 0, 0)
    ticked(drawer.workshop, batch, 4)
    assert sums(drawer)[FOG] == (2, 1, 0, 1, 0)
    happen(drawer.workshop, batch, taking_back)
    assert sums(drawer)[FOG] == (2, 1, 1, 0, 0)
    assert drawer.audit() == ()


def test_planning_sees_free_sheets_and_offcuts_only(drawer: Drawer) -> None:
    project = stocked(drawer, 2)
    drawer.add_offcuts(drawer.find(NET).id, STRIP, 2)
    stale = replace(project, offcuts=(Offcut(NET, size(3, 3), 9), Offcut(FOG, size(4, 4))))
    begin(drawer, project)
    fresh = fresh_stock(drawer, stale)
    assert [paper.sheets for paper in fresh.papers] == [1, 1, 1]
    assert fresh.offcuts == (Offcut(NET, STRIP, 2),)
    stranger = replace(
        HARBOUR, papers=tuple(replace(paper, stock="0123456789ab") for paper in HARBOUR.papers)
    )
    assert fresh_stock(drawer, stranger) == stranger
    assert fresh_stock(drawer, HARBOUR) == HARBOUR


def test_a_batch_that_finds_too_few_is_not_begun(drawer: Drawer) -> None:
    project = stocked(drawer, 1)
    begin(drawer, project)
    with pytest.raises(StockShortError, match="0 free sheets, and 1 are asked for; plan"):
        begin(drawer, project)
    assert len(drawer.workshop.batches()) == 1
    assert drawer.audit() == ()


def test_what_a_plan_says_to_buy_comes_in_when_it_is_begun(drawer: Drawer) -> None:
    project = stocked(drawer, 0)
    short = replace(PLAN, shortages=tuple(Shortage(name, 1) for name in (FOG, GULL, NET)))
    drawer.workshop.create_batch(project, None, short)
    assert sums(drawer) == dict.fromkeys((FOG, GULL, NET), (1, 0, 1, 0, 0))
    assert drawer.audit() == ()


def test_a_finished_batch_gives_its_offcuts_back_like_ones_together(drawer: Drawer) -> None:
    project = stocked(drawer, 2)
    for count in (1, 2):
        ticked(drawer.workshop, begin(drawer, project), LAST)
        assert offcuts(drawer) == [(GULL, STRIP, count), (NET, STRIP, count)]
    origins = drawer.origins(drawer.listing().offcuts[0].id)
    assert [(origin.title, origin.offcuts) for origin in origins] == [(HARBOUR.title, 1)] * 2
    happen(drawer.workshop, 2, taking_back)
    assert offcuts(drawer) == [(GULL, STRIP, 1), (NET, STRIP, 1)]
    assert drawer.audit() == ()


def test_offcuts_below_the_least_useful_size_are_not_kept(drawer: Drawer) -> None:
    # The strip is 2 1/4 by 4 3/4 in, which is 10 11/16 sq in.
    assert LeastUseful().keeps(STRIP)
    assert not LeastUseful(area=11).keeps(STRIP)
    project = stocked(drawer, 2)
    begun_before = begin(drawer, project)
    drawer.keep_least_useful(LeastUseful(area=11))
    ticked(drawer.workshop, begin(drawer, project), LAST)
    assert offcuts(drawer) == []
    # A batch goes by what held when it was begun, and so does the audit.
    ticked(drawer.workshop, begun_before, LAST)
    assert offcuts(drawer) == [(GULL, STRIP, 1), (NET, STRIP, 1)]
    assert drawer.audit() == ()


def test_what_the_maker_puts_in_stock_herself_is_what_goes_in(drawer: Drawer) -> None:
    batch = begin(drawer, stocked(drawer, 2))
    ticked(drawer.workshop, batch, 8)
    happen(drawer.workshop, batch, put_in_stock)
    own = size("2 1/4", 6)
    assert offcuts(drawer) == [(GULL, own, 1), (NET, own, 1)]
    ticked(drawer.workshop, batch, LAST - 8)
    assert offcuts(drawer) == [(GULL, own, 1), (NET, own, 1)]
    assert drawer.audit() == ()


def test_an_abandoned_batch_gives_back_what_is_not_opened_and_what_is_left(drawer: Drawer) -> None:
    batch = begin(drawer, stocked(drawer, 2))
    ticked(drawer.workshop, batch, 2)
    happen(drawer.workshop, batch, abandoning)
    assert sums(drawer)[FOG] == (2, 2, 0, 0, 0)
    assert sums(drawer)[NET] == (2, 1, 0, 1, 0)
    # By hand: after two cuts each print lies there as 3 3/4 × 4 3/4, 2 1/4 × 4 3/4 and 6 × 1 1/4.
    pieces = [size("3 3/4", "4 3/4"), STRIP, size(6, "1 1/4")]
    assert {(name, each) for name, each, _ in offcuts(drawer)} == {
        (name, each) for name in (GULL, NET) for each in pieces
    }
    (line,) = drawer.workshop.batches()
    assert line.over
    assert not line.finished
    happen(drawer.workshop, batch, taking_back)
    assert offcuts(drawer) == []
    assert sums(drawer)[FOG] == (2, 1, 1, 0, 0)
    assert drawer.audit() == ()


def test_a_sheet_spoilt_before_it_is_cut_is_thrown_away(drawer: Drawer) -> None:
    batch = begin(drawer, stocked(drawer, 3))
    another = next(mend for mend in ways(0, PartId("S3")) if "uncut" in mend.way)
    happen(drawer.workshop, batch, lambda _, at: Event("mended", another.done, at, another))
    assert sums(drawer)[FOG] == (3, 1, 1, 0, 1)
    happen(drawer.workshop, batch, taking_back)
    assert sums(drawer)[FOG] == (3, 2, 1, 0, 0)
    assert drawer.audit() == ()


def test_a_slip_that_needs_a_sheet_which_another_batch_has_is_said_so(drawer: Drawer) -> None:
    project = stocked(drawer, 2)
    batch, _ = begin(drawer, project), begin(drawer, project)
    ticked(drawer.workshop, batch, 5)
    another = next(mend for mend in ways(5, PartId("S3", (1,))) if "uncut" in mend.way)
    with pytest.raises(StockShortError):
        happen(drawer.workshop, batch, lambda _, at: Event("mended", another.done, at, another))
    assert len(drawer.workshop.events(batch)) == 5
    assert drawer.audit() == ()


def test_what_is_taken_back_must_still_be_there(drawer: Drawer) -> None:
    batch = begin(drawer, stocked(drawer, 2))
    ticked(drawer.workshop, batch, LAST)
    drawer.clear_out(line.id for line in drawer.listing().offcuts)
    with pytest.raises(StockShortError, match="asked for"):
        happen(drawer.workshop, batch, taking_back)
    assert drawer.undo()
    happen(drawer.workshop, batch, taking_back)
    assert drawer.audit() == ()


def test_a_removed_batch_lets_go_of_what_it_reserved(drawer: Drawer) -> None:
    batch = begin(drawer, stocked(drawer, 2))
    ticked(drawer.workshop, batch, 1)
    drawer.workshop.remove_batch(batch)
    assert sums(drawer)[FOG] == (2, 2, 0, 0, 0)
    assert sums(drawer)[NET] == (2, 1, 0, 1, 0)
    assert drawer.audit() == ()


def test_merged_papers_are_one_for_projects_and_batches(drawer: Drawer) -> None:
    project = stocked(drawer, 2)
    batch = begin(drawer, project)
    twin = drawer.add(StockPaper(replace(HARBOUR.papers[1], sheets=5)))
    old = next(line.id for line in drawer.papers() if line.data.name == NET and line.id != twin)
    drawer.merge([twin, old])
    assert sums(drawer)[NET] == (6, 6, 0, 0, 0)  # one of seven stays with the batch
    assert fresh_stock(drawer, project).papers[1].sheets == 6
    assert fresh_stock(drawer, project).papers[1].stock == drawer.paper(twin).key
    happen(drawer.workshop, batch, abandoning)
    assert sums(drawer)[NET] == (7, 7, 0, 0, 0)
    happen(drawer.workshop, batch, taking_back)
    assert sums(drawer)[NET] == (6, 6, 0, 0, 0)
    assert drawer.audit() == ()
    drawer.undo()
    assert drawer.find(str(old)).counts == Counts(2, 1, 1, 0, 0)


# What was made before there was a drawer


def test_a_projects_papers_are_adopted_once(drawer: Drawer) -> None:
    own = replace(HARBOUR, offcuts=(Offcut(NET, STRIP, 2),))
    adopted = adopt_papers(drawer, own)
    assert [paper.sheets for paper in adopted.papers] == [1, 1, 1]
    assert adopted.offcuts == own.offcuts
    assert all(paper.stock for paper in adopted.papers)
    again = adopt_papers(drawer, replace(HARBOUR, title="The same pad in another project"))
    assert [paper.stock for paper in again.papers] == [paper.stock for paper in adopted.papers]
    assert sums(drawer) == dict.fromkeys((FOG, GULL, NET), (1, 1, 0, 0, 0))
    assert drawer.audit() == ()


@pytest.mark.parametrize("done", [0, 3, 5, LAST])
def test_a_batch_begun_before_is_adopted_as_it_stands(drawer: Drawer, done: int) -> None:
    batch = begin(drawer, HARBOUR)
    ticked(drawer.workshop, batch, done)
    assert drawer.papers() == ()
    adopt_batch(drawer, batch)
    assert sums(drawer)[NET] == ((1, 0, 0, 1, 0) if done >= 1 else (1, 0, 1, 0, 0))
    assert sums(drawer)[FOG] == ((1, 0, 0, 1, 0) if done >= 5 else (1, 0, 1, 0, 0))
    assert bool(offcuts(drawer)) == (done == LAST)
    assert drawer.audit() == ()
    if done < LAST:
        happen(drawer.workshop, batch, tick)
        assert drawer.audit() == ()


def test_a_batch_adopted_after_its_project_takes_from_what_that_brought(drawer: Drawer) -> None:
    batch = begin(drawer, HARBOUR)
    adopt_papers(
        drawer, replace(HARBOUR, papers=tuple(replace(p, sheets=4) for p in HARBOUR.papers))
    )
    adopt_batch(drawer, batch)
    assert sums(drawer) == dict.fromkeys((FOG, GULL, NET), (4, 3, 1, 0, 0))


# The audit


@pytest.mark.parametrize(
    ("damage", "said"),
    [
        ("UPDATE lots SET bought = bought + 1, on_hand = on_hand + 1 WHERE id = 1", "movements"),
        ("DELETE FROM movements WHERE batch IS NOT NULL", "movements"),
        ("UPDATE batches SET done = 4", "batch 1"),
        ("DELETE FROM events WHERE seq = 6", "batch 1"),
    ],
)
def test_the_audit_finds_what_does_not_agree(drawer: Drawer, damage: str, said: str) -> None:
    batch = begin(drawer, stocked(drawer, 2))
    ticked(drawer.workshop, batch, 6)
    taken_again(drawer)
    assert drawer.audit() == ()
    with drawer.workshop.reading() as connection:
        connection.execute(damage)
    assert any(said in line for line in drawer.audit())

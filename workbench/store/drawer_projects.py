"""Projects and batches beside the drawer: what they take from it, and what they put in it."""

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from workbench.craft.paper import Offcut, Size
from workbench.craft.project import Project
from workbench.craft.stock import StockPaper, bought
from workbench.store import draws
from workbench.store.drawer import Drawer
from workbench.store.drawer_changes import changing
from workbench.store.drawer_lines import all_papers, one_paper
from workbench.store.lots import lot_of, paper_with
from workbench.store.stock_data import size_kept


def fresh_stock(drawer: Drawer, project: Project) -> Project:
    """The project with the sheets and offcuts that are free now, where it took from the drawer.

    A paper that was merged into another is that one from here on; one that this drawer does
    not know, as in a stranger's file, stays as the file says.
    """
    keys = {paper.stock for paper in project.papers if paper.stock}
    if not keys:
        return project
    with drawer.workshop.reading() as connection:
        free = {key: found for key in keys if (found := _free(connection, key))}
    papers = tuple(
        replace(paper, sheets=free[paper.stock].sheets, stock=free[paper.stock].key)
        if paper.stock in free
        else paper
        for paper in project.papers
    )
    linked = {paper.name: paper.stock for paper in project.papers if paper.stock in free}
    own = [offcut for offcut in project.offcuts if offcut.paper not in linked]
    # Two papers of a project may be one in the drawer: its offcuts are offered once.
    once = {key: name for name, key in reversed(linked.items()) if key}
    drawn = [
        Offcut(once[key], size, count)
        for key in dict.fromkeys(linked.values())
        if key
        for size, count in free[key].offcuts
    ]
    return replace(project, papers=papers, offcuts=(*own, *drawn))


def linked_papers(drawer: Drawer, project: Project) -> frozenset[str]:
    """The names of those of its papers that are in this drawer."""
    linked = [(paper.name, paper.stock) for paper in project.papers if paper.stock]
    if not (linked and drawer.workshop.exists):
        return frozenset()
    with drawer.workshop.reading() as connection:
        return frozenset(name for name, key in linked if _free(connection, key))


def matched_stock(drawer: Drawer, projects: Sequence[Project]) -> tuple[Project, ...]:
    """The projects, each with the stock that it could draw on, whether or not it says so.

    A paper that one did not take from this drawer is taken for the drawer's of the same name
    and kind; where there is none, there is none of it.
    """
    if not projects:
        return ()
    lines = drawer.papers()
    by_name = {(line.data.name, line.data.kind): line.key for line in reversed(lines)}
    keys = {line.key for line in lines}

    def matched(project: Project) -> Project:
        papers = tuple(
            paper
            if paper.stock in keys
            else replace(paper, sheets=0, stock=by_name.get((paper.name, paper.kind)))
            for paper in project.papers
        )
        linked = {paper.name for paper in papers if paper.stock}
        offcuts = tuple(one for one in project.offcuts if one.paper in linked)
        return fresh_stock(drawer, replace(project, papers=papers, offcuts=offcuts))

    return tuple(matched(project) for project in projects)


def adopt_papers(drawer: Drawer, project: Project) -> Project:
    """Put the papers and offcuts of a project in the drawer; returns it with their keys.

    Papers that the drawer knows already, by key or as one that is described alike, are linked
    with it as they are, and their sheets are not counted twice.
    """
    with changing(drawer.workshop, f"adopt the papers of “{project.title}”") as change:
        alike = {line.paper.description.paper: line.key for line in all_papers(change.connection)}
        papers = []
        for paper in project.papers:
            if paper.stock and _free(change.connection, paper.stock):
                papers.append(paper)
                continue
            bare = replace(paper, sheets=0, stock=None)
            if bare not in alike:
                paper_id = change.add(StockPaper(replace(paper, stock=None)))
                for offcut in project.offcuts:
                    if offcut.paper == paper.name:
                        there = lot_of(change.connection, paper_id, offcut.size)
                        change.move(there.id, bought(offcut.count))
                alike[bare] = one_paper(change.connection, paper_id).key
            papers.append(replace(paper, stock=alike[bare]))
    return fresh_stock(drawer, replace(project, papers=tuple(papers)))


def adopt_batch(drawer: Drawer, batch_id: int) -> Mapping[str, int]:
    """Let a batch made before draw on the drawer from now on.

    What it has used and still needs is taken from the papers that are described alike, and
    what they lack comes in with it. Returns the papers it draws on, by their names in it.
    """
    batch = drawer.workshop.batch(batch_id)
    project = adopt_papers(
        drawer,
        replace(
            batch.project,
            papers=tuple(replace(paper, sheets=0) for paper in batch.project.papers),
            offcuts=(),
        ),
    )
    with drawer.workshop.writing() as connection:
        links = draws.links_of(connection, project)
        draws.link(connection, batch_id, batch, links, buying=True)
    return links


class _Free(NamedTuple):
    """What is free of a paper: sheets, and offcuts by size."""

    key: str
    sheets: int
    offcuts: tuple[tuple[Size, int], ...]


def _free(connection: sqlite3.Connection, key: str) -> _Free | None:
    paper_id = paper_with(connection, key)
    if paper_id is None:
        return None
    (own_key,) = connection.execute("SELECT key FROM papers WHERE id = ?", (paper_id,)).fetchone()
    rows = connection.execute(
        "SELECT size, on_hand FROM lots WHERE paper = ? AND (size = '' OR on_hand > 0)", (paper_id,)
    )
    sizes = {size_kept(size): count for size, count in rows}
    sheets = sizes.pop(None, 0)
    offcuts = tuple((size, count) for size, count in sizes.items() if size)
    return _Free(own_key, sheets, offcuts)

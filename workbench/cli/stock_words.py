"""What lies in the drawer, as data and in words."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbench.craft.paper import Size
from workbench.measure.counting import counted

if TYPE_CHECKING:
    from workbench.craft.project import Project
    from workbench.making.possible import Possible
    from workbench.making.shopping import Wanted, WantedEnvelope
    from workbench.store.drawer_lines import OffcutLine, PaperLine
    from workbench.store.stock_preview import Preview


def paper_data(line: "PaperLine") -> dict[str, object]:
    from workbench.store.stock_data import as_builtins

    return {
        "number": line.id,
        "key": line.key,
        **as_builtins(line.paper),
        **_counts_data(line.counts),
    }


def paper_words(line: "PaperLine") -> str:
    counts, paper = line.counts, line.paper
    words = [f"{line.id:>5}  {line.data.name}, {line.data.kind}, {size(paper.paper.size)}"]
    words.append(f"{counts.on_hand} free")
    words += [f"{counts.reserved} reserved"] if counts.reserved else []
    words += [f"in {paper.lies}"] if paper.lies else []
    words += [str(paper.price)] if paper.price else []
    return ", ".join(words)


def adopted_words(name: str, before: "Project", after: "Project") -> str:
    """What a project has of a paper once the drawer counts it, and where it said otherwise."""
    there, said = (_on_hand(project, name) for project in (after, before))
    otherwise = f"; the file said {said}, which is not counted" if said != there else ""
    return f"{name} is taken from the drawer: {there} free{otherwise}"


def _on_hand(project: "Project", name: str) -> str:
    offcuts = sum(offcut.count for offcut in project.offcuts if offcut.paper == name)
    sheets = counted(project.paper(name).sheets, "sheet")
    return f"{sheets} and {counted(offcuts, 'offcut')}" if offcuts else sheets


def offcut_data(line: "OffcutLine") -> dict[str, object]:
    from workbench.measure.writing import write_exact

    size = line.measures
    return {
        "lot": line.id,
        "paper": line.name,
        "width": write_exact(size.width, "mm"),
        "height": write_exact(size.height, "mm"),
        "since": line.since,
        **_counts_data(line.counts),
    }


def offcut_words(line: "OffcutLine") -> str:
    counts = line.counts
    held = f", {counts.reserved} reserved" if counts.reserved else ""
    return f"       offcut of {line.name}, {size(line.measures)}, {counts.on_hand} free{held}"


def _counts_data(counts: Any) -> dict[str, int]:
    names = ("bought", "on_hand", "reserved", "used", "thrown")
    return dict(zip(names, counts.as_tuple, strict=True))


def size(size: Any) -> str:
    from workbench.store.stock_rows import sheet_words

    return sheet_words(size)


def preview_data(found: "Preview", *, written: bool) -> dict[str, object]:
    rows = [
        {"place": row.place, "name": row.name, "fate": row.fate, "why": row.why}
        for row in found.rows
    ]
    return {"rows": rows, "refused": len(found.refused), "written": written}


def preview_words(found: "Preview", *, written: bool) -> Iterator[str]:
    for row in found.rows:
        named = f"{row.place}: {row.name}" if row.name else row.place
        yield f"{named}: {row.fate}" + (f" ({row.why})" if row.why else "")
    if found.refused:
        yield f"{found.in_words}; nothing is taken in before every row can be"
    else:
        yield f"{found.in_words}; " + ("taken in" if written else "give --yes to take it in")


def possible_data(one: "Possible", file: Path) -> dict[str, object]:
    return {
        "file": str(file),
        "title": one.project.title,
        "cards": one.project.card.count,
        "makeable": one.makeable,
        "missing": [{"paper": short.paper, "sheets": short.sheets} for short in one.shortages],
        "offcuts": one.offcuts,
        "trouble": one.trouble,
    }


def possible_words(one: "Possible") -> str:
    words = f"{one.makeable:>5} of {counted(one.project.card.count, 'card')}: {one.project.title}"
    if one.trouble:
        return f"{words}; {one.trouble}"
    missing = ", ".join(f"{short.sheets} of {short.paper}" for short in one.shortages)
    words += f"; missing {missing}" if missing else ""
    return words + (f"; uses {counted(one.offcuts, 'offcut')}" if one.offcuts else "")


def shopping_rows(
    papers: "Sequence[Wanted]", envelopes: "Sequence[WantedEnvelope]"
) -> list[tuple[str, str, str, str]]:
    """What to buy, its size, how many of it, and the projects it is for."""
    rows = [
        (one.paper.name, size(one.paper.size), str(one.sheets), "; ".join(one.projects))
        for one in papers
    ]
    rows += [
        (
            f"envelope {one.envelope.name}",
            size(Size(one.envelope.short, one.envelope.long)),
            str(one.count),
            "; ".join(one.projects),
        )
        for one in envelopes
    ]
    return rows


def shopping_data(
    papers: "Sequence[Wanted]", envelopes: "Sequence[WantedEnvelope]"
) -> dict[str, object]:
    return {
        "papers": [
            {"paper": one.paper.name, "sheets": one.sheets, "projects": list(one.projects)}
            for one in papers
        ],
        "envelopes": [
            {"envelope": one.envelope.name, "count": one.count, "projects": list(one.projects)}
            for one in envelopes
        ],
    }


def csv_table(header: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    import csv
    import io

    from workbench.store.stock_files import safe

    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(header)
    writer.writerows([safe(cell) for cell in row] for row in rows)
    return written.getvalue().rstrip("\n")

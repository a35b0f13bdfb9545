"""What was asked for and what was planned, as bare exact numbers for the checker.

Two ways in, so that each checks the other: the project and the plan as the program holds them, or
the project file's text and the printed JSON, read here without any of the program's code.
All lengths are Fractions of a millimetre.
"""

import re
import tomllib
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from workbench.craft.card import BASE
from workbench.craft.project import Project
from workbench.measure.length import Length
from workbench.planning.result import Assemble, Cut, Plan, Score, Step

# International yard and pound agreement, 1959: one inch is 25.4 mm exactly.
INCH = Fraction(254, 10)


@dataclass(frozen=True)
class Stocked:
    """A paper: sheets on hand of width by height; whether it may be turned.

    `faces` are what a piece cut from it may show, by name: whether one would look repeated.
    `strip`: the edge along which something is printed, and how wide.
    """

    kind: str
    width: Fraction
    height: Fraction
    sheets: int
    turns: bool
    faces: Mapping[str, bool]
    strip: tuple[str, Fraction] | None = None


@dataclass(frozen=True)
class Wanted:
    """A kind of piece, `count` of them on cards and `spare` more, cut from any of `papers`.

    `another`: where several are on one card, each shows another face; else all show the same.
    """

    width: Fraction
    height: Fraction
    papers: tuple[str, ...]
    count: int
    needed: bool
    spare: int = 0
    another: bool = False


@dataclass(frozen=True)
class Order:
    """What was asked for. `layers` gives each layer's piece, back to front.

    `repeat`: pieces that may show the same print, True for any two. `use`: "all", "evenly" or how
    many mixed pieces of each paper.
    """

    title: str
    cards: int
    fold: str
    front: tuple[Fraction, Fraction]
    papers: Mapping[str, Stocked]
    pieces: Mapping[str, Wanted]
    layers: Mapping[str, str]
    offcuts: Mapping[tuple[str, Fraction, Fraction], int]
    apart: tuple[tuple[str, str], ...] = ()
    together: tuple[tuple[str, str], ...] = ()
    fixed: Mapping[int, Mapping[str, str]] = field(default_factory=dict)
    repeat: bool | tuple[tuple[str, str], ...] = False
    use: str | Mapping[str, int] = "as it comes"

    def may_repeat(self, one: str, other: str) -> bool:
        """Whether two pieces may show the same print on a card."""
        if self.repeat is True or self.repeat is False:
            return self.repeat
        return (one, other) in self.repeat or (other, one) in self.repeat

    def paper_of(self, face: str) -> str:
        """The paper with that face; an unknown face is taken for a paper."""
        return next((name for name, paper in self.papers.items() if face in paper.faces), face)

    def mixes(self, wanted: Wanted) -> bool:
        """Whether it is left open what the piece shows."""
        return len(wanted.papers) > 1 or len(self.papers[wanted.papers[0]].faces) > 1

    def shows(self, face: str) -> bool:
        """Whether the face would look repeated on a card."""
        return any(paper.faces.get(face, False) for paper in self.papers.values())


@dataclass(frozen=True)
class Cell:
    """A final part of a sheet, from its bottom left."""

    id: str
    role: str
    piece: str | None
    x: Fraction
    y: Fraction
    width: Fraction
    height: Fraction
    turned: bool


@dataclass(frozen=True)
class Opened:
    """One sheet or offcut that is cut up."""

    id: str
    paper: str
    width: Fraction
    height: Fraction
    offcut: bool
    cells: tuple[Cell, ...]

    @property
    def whole(self) -> bool:
        return not self.offcut


@dataclass(frozen=True)
class Deed:
    """One step."""

    n: int
    do: str
    takes: tuple[str, ...]
    measure: str | None
    mark: Fraction | None
    gives: tuple[tuple[str, str], ...]
    card: int | None


@dataclass(frozen=True)
class Sums:
    """Sheets used and fewest possible, and whether that is called proven."""

    papers: tuple[str, ...]
    sheets: int
    fewest: int
    proven: bool


@dataclass(frozen=True)
class CutSteps:
    """What was planned."""

    title: str
    cards: int
    total: Sums
    cuts: int
    marks: int
    groups: tuple[Sums, ...]
    shortages: Mapping[str, int]
    sheets: tuple[Opened, ...]
    deeds: tuple[Deed, ...]
    dealt: tuple[tuple[int, Mapping[str, str]], ...]


def millimetres(length: Length) -> Fraction:
    """The program's length as a bare number."""
    return length.mm


def asked_by(project: Project) -> Order:
    """The order in a project as the program holds it."""
    card = project.card
    pieces = {
        piece.name: Wanted(
            millimetres(piece.size.width),
            millimetres(piece.size.height),
            piece.papers,
            piece.per_card * card.count,
            piece.needed,
            piece.spare,
            piece.copies == "each another",
        )
        for piece in project.pieces
    }
    front = (millimetres(card.size.width), millimetres(card.size.height))
    return Order(
        title=project.title,
        cards=card.count,
        fold=card.fold,
        front=front,
        papers={
            paper.name: Stocked(
                paper.kind,
                millimetres(paper.size.width),
                millimetres(paper.size.height),
                paper.sheets,
                turns={"none"} == {paper.run, paper.back.run if paper.back else "none"},
                faces=_faces(
                    paper.kind,
                    {paper.name: paper.print}
                    | ({paper.back.name: paper.back.print} if paper.back else {}),
                ),
                strip=(paper.strip.edge, millimetres(paper.strip.width)) if paper.strip else None,
            )
            for paper in project.papers
        },
        pieces={BASE: _base(front, card.fold, card.paper, card.count), **pieces},
        layers=_layers({piece.name: piece.per_card for piece in project.pieces}),
        offcuts=_summed(
            (
                offcut.paper,
                millimetres(offcut.size.width),
                millimetres(offcut.size.height),
                offcut.count,
            )
            for offcut in project.offcuts
        ),
        apart=project.mixing.apart,
        together=project.mixing.together,
        fixed={card.number: card.shows for card in project.mixing.cards},
        repeat=project.mixing.repeat,
        use=project.mixing.use,
    )


def asked_in(text: str) -> Order:
    """The order in a project file, read without the program."""
    file = tomllib.loads(text)
    unit, card, mixing = file["units"], file["card"], file.get("mixing", {})

    def size(thing: dict[str, Any]) -> tuple[Fraction, Fraction]:
        width, height = (_written(side, unit) for side in thing["size"])
        return width, height

    def strip(paper: dict[str, Any]) -> tuple[str, Fraction] | None:
        found = paper.get("strip")
        return found and (found["edge"], _written(found["width"], unit))

    return Order(
        title=file["title"],
        cards=card["count"],
        fold=card["fold"],
        front=size(card),
        papers={
            paper["name"]: Stocked(
                paper["kind"],
                *size(paper),
                paper.get("sheets", 0),
                turns=all(
                    face.get("run", "none") == "none" for face in (paper, paper.get("back", {}))
                ),
                faces=_faces(
                    paper["kind"],
                    {
                        face["name"]: face.get("print", "solid")
                        for face in (paper, paper.get("back", paper))
                    },
                ),
                strip=strip(paper),
            )
            for paper in file["papers"]
        },
        pieces={
            BASE: _base(size(card), card["fold"], card["paper"], card["count"]),
            **{
                piece["name"]: Wanted(
                    *size(piece),
                    tuple(piece["from"]),
                    piece.get("per_card", 1) * card["count"],
                    piece.get("needed", True),
                    piece.get("spare", 0),
                    piece.get("copies", "alike") == "each another",
                )
                for piece in file.get("pieces", [])
            },
        },
        layers=_layers({p["name"]: p.get("per_card", 1) for p in file.get("pieces", [])}),
        offcuts=_summed(
            (offcut["paper"], *size(offcut), offcut.get("count", 1))
            for offcut in file.get("offcuts", [])
        ),
        apart=tuple((one, other) for one, other in mixing.get("apart", [])),
        together=tuple((one, other) for one, other in mixing.get("together", [])),
        fixed={card["number"]: card["shows"] for card in mixing.get("cards", [])},
        repeat=_pairs_or_truth(mixing.get("repeat", False)),
        use=mixing.get("use", "as it comes"),
    )


def planned_by(plan: Plan) -> CutSteps:
    """The work in a plan as the program holds it."""
    totals = plan.totals
    return CutSteps(
        title=plan.title,
        cards=plan.cards,
        total=Sums((), totals.sheets, totals.fewest_possible, totals.proven),
        cuts=totals.cuts,
        marks=totals.marks,
        groups=tuple(
            Sums(group.papers, group.sheets, group.fewest_possible, group.proven)
            for group in plan.groups
        ),
        shortages={shortage.paper: shortage.sheets for shortage in plan.shortages},
        sheets=tuple(
            Opened(
                sheet.id,
                sheet.paper,
                millimetres(sheet.width),
                millimetres(sheet.height),
                sheet.offcut,
                tuple(
                    Cell(
                        str(sheet.part_id(part)),
                        part.role,
                        part.piece,
                        millimetres(part.x),
                        millimetres(part.y),
                        millimetres(part.width),
                        millimetres(part.height),
                        part.turned,
                    )
                    for part in sheet.parts
                ),
            )
            for sheet in plan.sheets
        ),
        deeds=tuple(
            Deed(
                step.n,
                type(step).__name__.lower(),
                tuple(map(str, step.takes)),
                step.measure if isinstance(step, Cut | Score) else None,
                millimetres(step.mark) if isinstance(step, Cut | Score) else None,
                _given(step),
                step.card if isinstance(step, Assemble) else None,
            )
            for step in plan.steps
        ),
        dealt=tuple((deal.card, deal.pieces) for deal in plan.combinations),
    )


def _given(step: Step) -> tuple[tuple[str, str], ...]:
    if not isinstance(step, Cut):
        return ()
    return tuple((str(first), str(rest)) for first, rest in step.gives)


def planned_in(data: Mapping[str, Any]) -> CutSteps:
    """The work in the printed JSON, read without the program."""
    totals = data["totals"]
    return CutSteps(
        title=data["title"],
        cards=data["cards"],
        total=_sums(totals, ()),
        cuts=totals["cuts"],
        marks=totals["marks"],
        groups=tuple(_sums(group, tuple(group["papers"])) for group in data["groups"]),
        shortages={short["paper"]: short["sheets"] for short in data["shortages"]},
        sheets=tuple(
            Opened(
                sheet["id"],
                sheet["paper"],
                _exact(sheet["width"]),
                _exact(sheet["height"]),
                sheet["offcut"],
                tuple(
                    Cell(
                        part["id"],
                        part["role"],
                        part.get("piece"),
                        _exact(part["x"]),
                        _exact(part["y"]),
                        _exact(part["width"]),
                        _exact(part["height"]),
                        part["turned"],
                    )
                    for part in sheet["parts"]
                ),
            )
            for sheet in data["sheets"]
        ),
        deeds=tuple(
            Deed(
                step["n"],
                step["do"],
                tuple(step["takes"]),
                step.get("measure"),
                _exact(step["mark"]) if step.get("mark") else None,
                tuple((first, rest) for first, rest in step.get("gives") or ()),
                step.get("card"),
            )
            for step in data["steps"]
        ),
        dealt=tuple((deal["card"], deal["pieces"]) for deal in data["combinations"]),
    )


def _sums(entry: Mapping[str, Any], papers: tuple[str, ...]) -> Sums:
    return Sums(papers, entry["sheets"], entry["fewest_possible"], entry["proven"])


def _faces(kind: str, prints: Mapping[str, str]) -> dict[str, bool]:
    return {name: kind == "patterned" or look != "solid" for name, look in prints.items()}


def _base(front: tuple[Fraction, Fraction], fold: str, paper: str, count: int) -> Wanted:
    across, up = {"top": (1, 2), "side": (2, 1), "none": (1, 1)}[fold]
    return Wanted(front[0] * across, front[1] * up, (paper,), count, needed=True)


def _layers(per_card: Mapping[str, int]) -> dict[str, str]:
    return {
        name if copy == 1 else f"{name} {copy}": name
        for name, copies in per_card.items()
        for copy in range(1, copies + 1)
    }


def _pairs_or_truth(repeat: Any) -> bool | tuple[tuple[str, str], ...]:
    if repeat is True or repeat is False:
        return bool(repeat)
    return tuple((one, other) for one, other in repeat)


def _summed(offcuts: Any) -> Counter[tuple[str, Fraction, Fraction]]:
    stock: Counter[tuple[str, Fraction, Fraction]] = Counter()
    for paper, width, height, count in offcuts:
        stock[paper, width, height] += count
    return stock


def _exact(text: str) -> Fraction:
    """A JSON length: "21/4 in" or "105 mm"."""
    number, unit = text.split(" ")
    return Fraction(number) * {"in": INCH, "mm": Fraction(1)}[unit]


def _written(value: str | float, unit: str) -> Fraction:
    """A length in a project file, as the samples write it: 5, "5 1/4", "133.5 mm"."""
    found = re.fullmatch(r"(?:(\d+) )?(\d+(?:/\d+|\.\d+)?) ?(in|mm)?", str(value))
    if not found:
        raise ValueError(f"the checker cannot read the length {value!r}")
    whole, rest, own = found.groups()
    return (int(whole or 0) + Fraction(rest)) * {"in": INCH, "mm": Fraction(1)}[own or unit]

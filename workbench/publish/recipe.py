"""The recipe of a batch as data: everything that its pages, its text and its web page say."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture: its SVG document, what it shows in words, its width in millimetres, its scale."""

    svg: str
    alt: str
    width: float
    scale: str = ""


@dataclass(frozen=True, slots=True)
class LayerRow:
    """A layer of the card: the letter that stands for it, its sizes, its place in both units."""

    key: str
    name: str
    count: str
    lead: str
    other: str
    papers: str
    how: str
    corners: str


@dataclass(frozen=True, slots=True)
class PaperRow:
    """A paper to take: how many sheets of which size."""

    swatch: Figure
    name: str
    sheets: str
    lead: str
    other: str
    note: str


@dataclass(frozen=True, slots=True)
class SheetRow:
    """Sheets that are cut alike: what they are called, which papers, what each gives."""

    name: str
    heading: str
    papers: tuple[str, ...]
    gives: tuple[str, ...]
    figure: Figure


@dataclass(frozen=True, slots=True)
class CutLineRow:
    """One numbered cut in words; of what comes off, `finished` says which are done."""

    number: str
    along: str
    takes: tuple[str, ...]
    gives: tuple[tuple[str, bool], ...]
    at_once: int


@dataclass(frozen=True, slots=True)
class SettingRow:
    """A setting of the guide: its mark in both units, where it lies, the minute it begins."""

    lead: str
    other: str
    where: str
    minute: int
    rows: tuple[CutLineRow, ...]


@dataclass(frozen=True, slots=True)
class Task:
    """Work after the cutting: its heading, its minutes, and how it is done."""

    heading: str
    minutes: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CardLook:
    """Cards alike: their numbers, the paper of each mixed piece, and a picture where there is."""

    cards: str
    count: int
    papers: tuple[tuple[str, str], ...]
    figure: Figure | None

    @property
    def named(self) -> str:
        """Which ones: "Card 2", "Cards 1, 3–10"."""
        return f"{'Card' if self.count == 1 else 'Cards'} {self.cards}"


@dataclass(frozen=True, slots=True)
class LeftOver:
    """A leftover worth keeping, and what it is good for."""

    count: int
    lead: str
    other: str
    paper: str
    good_for: str


@dataclass(frozen=True, slots=True)
class Recipe:
    """All of it, in the order of the pages. Lengths are words, the reader's unit first."""

    title: str
    facts: tuple[str, ...]
    units: str
    picture: str
    card: Figure
    inside: Figure | None
    layers: tuple[LayerRow, ...]
    papers: tuple[PaperRow, ...]
    tools: tuple[str, ...]
    extras: tuple[str, ...]
    sheets: tuple[SheetRow, ...]
    settings: tuple[SettingRow, ...]
    cut_facts: str
    tasks: tuple[Task, ...]
    finished: tuple[str, ...]
    looks: tuple[CardLook, ...]
    leftovers: tuple[LeftOver, ...]
    cautions: tuple[str, ...]
    foot: str
    note: str
    minutes: str

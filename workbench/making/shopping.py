"""What to buy to make several projects: paper, and the envelopes that their cards go in."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import permutations

from workbench.craft.envelope import Envelope
from workbench.craft.errors import CraftError
from workbench.craft.paper import Offcut, Paper, Size, offcuts_of
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.planning import Survey, Watch, survey
from workbench.post import Desk, bought_envelope, card_by_post

_EVERY_ORDER = 3  # of so many projects: six plans of three; of four it would be twenty-four


@dataclass(frozen=True, slots=True)
class Wanted:
    """A paper to buy, and how many sheets of it; `projects` need them, by their titles."""

    paper: Paper
    sheets: int
    projects: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WantedEnvelope:
    """An envelope to buy, and how many of it; `projects` need them, by their titles."""

    envelope: Envelope
    count: int
    projects: tuple[str, ...]


def envelopes_wanted(projects: Iterable[Project], desk: Desk) -> tuple[WantedEnvelope, ...]:
    """The envelopes that the cards of these projects go in, one for each card.

    What is cut from paper is no envelope to buy; a card that fits in none has none.
    """
    counts: Counter[Envelope] = Counter()
    wanted_by: dict[Envelope, list[str]] = {}
    for project in projects:
        try:
            envelope = bought_envelope(card_by_post(project, desk))
        except CraftError:
            continue  # what is wrong with it is said where the card is told by post
        if envelope:
            counts[envelope] += project.card.count
            wanted_by.setdefault(envelope, []).append(project.title)
    return tuple(
        WantedEnvelope(envelope, count, tuple(wanted_by[envelope]))
        for envelope, count in counts.items()
    )


def shopping_list(
    projects: Sequence[Project], trimmer: Trimmer, watch: Watch
) -> tuple[Wanted, ...]:
    """What to buy to make all of these projects, one after another.

    Each takes what the ones before left of the stock that they share, their offcuts too. Of three
    that share papers every order is tried, of more the order given, the last first, and the
    largest first; that cutting them together would buy fewer still is not ruled out. Papers are the
    same where they were taken from the same paper of the drawer, or else by name and size.

    Raises:
        PlanningError: where one of them cannot be made however much is bought.
        Cancelled: the watch stopped it.
    """
    return tuple(
        wanted for group in _sharing(projects) for wanted in _fewest(group, trimmer, watch)
    )


def _sharing(projects: Sequence[Project]) -> list[list[Project]]:
    """The projects in groups that share no paper, in the order given."""
    groups: list[list[Project]] = []
    for project in projects:
        keys = _keys(project)
        joined = [group for group in groups if any(keys & _keys(other) for other in group)]
        groups = [group for group in groups if group not in joined]
        groups.append([*(one for group in joined for one in group), project])
    return groups


def _fewest(projects: Sequence[Project], trimmer: Trimmer, watch: Watch) -> tuple[Wanted, ...]:
    """What the order that buys the fewest sheets buys; the first of equals."""
    best: tuple[Wanted, ...] | None = None
    for order in _orders(projects):
        found = _bought_in_turn(order, trimmer, watch)
        if best is None or _sheets(found) < _sheets(best):
            best = found
        if not best:
            break
    return best or ()


def _orders(projects: Sequence[Project]) -> Iterable[Sequence[Project]]:
    if len(projects) <= _EVERY_ORDER:
        return permutations(projects)
    largest = sorted(projects, key=_largest_piece, reverse=True)
    return projects, projects[::-1], largest


def _largest_piece(project: Project) -> Fraction:
    return max(
        size.area for size in (project.card.base_size, *(one.size for one in project.pieces))
    )


def _sheets(wanted: Sequence[Wanted]) -> int:
    return sum(one.sheets for one in wanted)


def _bought_in_turn(
    projects: Sequence[Project], trimmer: Trimmer, watch: Watch
) -> tuple[Wanted, ...]:
    shared = _Shared({}, {}, Counter(), {})
    for project in projects:
        watch.stage(f"“{project.title}”")
        quiet = Watch(stop=watch.stop, limits=watch.limits)
        drawing = shared.drawn_on_by(project)
        shared.take(drawing, survey(drawing, trimmer, quiet))
    return tuple(
        Wanted(shared.papers[key], count, tuple(shared.wanted_by[key]))
        for key, count in shared.to_buy.items()
    )


@dataclass(slots=True)
class _Shared:
    """The stock that projects share, by what makes a paper the same; each takes of it in turn."""

    papers: dict[object, Paper]
    offcuts: dict[object, Counter[Size]]
    to_buy: Counter[object]
    wanted_by: dict[object, list[str]]

    def drawn_on_by(self, project: Project) -> Project:
        """The project with those papers and offcuts that projects before it left in the stock."""
        own = project.offcuts_on_hand()
        for paper in project.papers:
            key = _key(paper)
            if key not in self.papers:
                self.papers[key] = paper
                self.offcuts[key] = Counter(
                    {size: count for (name, size), count in own.items() if name == paper.name}
                )
        papers = tuple(
            replace(paper, sheets=self.papers[_key(paper)].sheets) for paper in project.papers
        )
        offcuts: tuple[Offcut, ...] = offcuts_of(
            {
                (paper.name, size): count
                for paper in project.papers
                for size, count in self.offcuts[_key(paper)].items()
                if count > 0
            }
        )
        return replace(project, papers=papers, offcuts=offcuts)

    def take(self, project: Project, seen: Survey) -> None:
        """Take what the project takes, and put in what it leaves."""
        keys = {paper.name: _key(paper) for paper in project.papers}
        for short in seen.shortages:
            key = keys[short.paper]
            self.to_buy[key] += short.sheets
            self.wanted_by.setdefault(key, []).append(project.title)
        for name, count in seen.opened.items():
            paper = self.papers[keys[name]]
            self.papers[keys[name]] = replace(paper, sheets=max(0, paper.sheets - count))
        self._move(keys, seen.offcuts, -1)
        self._move(keys, seen.left, 1)

    def _move(
        self, keys: Mapping[str, object], offcuts: Mapping[tuple[str, Size], int], sign: int
    ) -> None:
        for (name, size), count in offcuts.items():
            self.offcuts[keys[name]][size] += sign * count


def _keys(project: Project) -> set[object]:
    return {_key(paper) for paper in project.papers}


def _key(paper: Paper) -> object:
    return paper.stock or (paper.name, paper.kind, paper.size)

"""A reader's own papers in the places of a stranger's: which would do, and how well."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from workbench.craft.colour import Lab, difference, lab, linear
from workbench.craft.errors import CraftError
from workbench.craft.paper import Paper, Size
from workbench.craft.project import Project, fits
from workbench.drawing.tones import shares

# What counts against a paper, in steps of colour difference (CIEDE2000). Common practice, no
# source: another kind of paper is worse than any colour, a print that may not be turned a nuisance.
_OTHER_KIND, _STRICTER_RUN, _PLAIN_FOR_PRINT, _USED_TWICE = 100.0, 15.0, 20.0, 60.0
_RUNS = {"none": 0, "along": 1, "up": 2}


@dataclass(frozen=True, slots=True)
class StandIn:
    """A paper of the project, the reader's paper that could stand in for it, and how it differs.

    `own` is None where no paper of the reader's is large enough.
    """

    paper: Paper
    own: Paper | None
    colour_off: float
    words: str


def suggest(project: Project, own: Sequence[Paper]) -> tuple[StandIn, ...]:
    """For each paper of the project that of the reader's own which suits best, each used once.

    By kind, by whether its pieces fit and its print may be turned, then by colour. A paper stands
    in twice only where nothing else is left.
    """
    left = {paper.name: paper for paper in project.papers}
    found: dict[str, StandIn] = {}
    used: set[str] = set()
    while left:
        pairs = [
            (_against(paper, one) + _USED_TWICE * (one.name in used), at, paper, one)
            for at, paper in enumerate(left.values())
            for one in own
            if _serves(project, paper, one)
        ]
        if not pairs:
            break
        _, _, paper, one = min(pairs, key=lambda pair: pair[:2])
        found[paper.name] = StandIn(paper, one, colour_off(paper, one), _told(paper, one))
        used.add(one.name)
        del left[paper.name]
    return tuple(
        found.get(paper.name) or StandIn(paper, None, 0.0, "none of yours is large enough")
        for paper in project.papers
    )


def stood_in(project: Project, own: Mapping[str, Paper]) -> Project:
    """The project cut from the reader's `own` papers, each given for a paper of it by name.

    What was said of the back of a paper that has none now, or of two papers that are one now, is
    left out. Raises CraftError where a piece no longer fits or a paper that is kept has the name of
    another of the reader's, KeyError for a paper there is not.
    """
    names = {paper.name: paper.name for paper in project.papers}
    for name, one in own.items():
        names[project.paper(name).name] = one.name
    papers: dict[str, Paper] = {}
    for paper in project.papers:
        one = own.get(paper.name, paper)
        if papers.setdefault(one.name, one) != one:
            raise CraftError(
                f'paper "{one.name}"',
                "one of yours and one that is kept are both called so",
                "give yours another name",
            )
    faces = {
        face.name: new.name
        for paper in project.papers
        for face, new in zip(paper.faces, own.get(paper.name, paper).faces, strict=False)
    }
    mixing = project.mixing
    return replace(
        project,
        card=replace(project.card, paper=names[project.card.paper]),
        papers=tuple(papers.values()),
        offcuts=tuple(one for one in project.offcuts if one.paper not in own),
        pieces=tuple(
            replace(piece, papers=tuple(dict.fromkeys(names[name] for name in piece.papers)))
            for piece in project.pieces
        ),
        mixing=replace(
            mixing.renamed(faces=names),
            apart=_pairs(mixing.apart, faces),
            together=_pairs(mixing.together, faces),
            cards=tuple(
                replace(card, shows={at: faces[face] for at, face in card.shows.items()})
                for card in mixing.cards
                if all(face in faces for face in card.shows.values())
            ),
        ),
    )


def colour_off(one: Paper, other: Paper) -> float:
    """How different two papers look from afar, where the colours of a print run together."""
    return difference(_from_afar(one), _from_afar(other))


def _from_afar(paper: Paper) -> Lab:
    mixed = [0.0, 0.0, 0.0]
    for colour, share in shares(paper):
        for at, part in enumerate(linear(colour)):
            mixed[at] += part * share
    red, green, blue = mixed
    return lab((red, green, blue))


def _pairs(
    pairs: Sequence[tuple[str, str]], faces: Mapping[str, str]
) -> tuple[tuple[str, str], ...]:
    return tuple(
        (faces[one], faces[other])
        for one, other in pairs
        if one in faces and other in faces and faces[one] != faces[other]
    )


def _serves(project: Project, paper: Paper, own: Paper) -> bool:
    """Whether every piece that only this paper can give could be cut from the reader's."""
    needed: list[Size] = [
        piece.size for piece in project.pieces if set(piece.papers) == {paper.name}
    ]
    some = [piece.size for piece in project.pieces if paper.name in piece.papers]
    if project.card.paper == paper.name:
        needed.append(project.card.base_size)
    return all(fits(own, size) for size in needed) and (
        not some or any(fits(own, size) for size in some)
    )


def _against(paper: Paper, own: Paper) -> float:
    return (
        colour_off(paper, own)
        + _OTHER_KIND * (paper.kind != own.kind)
        + _STRICTER_RUN * max(0, _RUNS[own.run] - _RUNS[paper.run])
        + _PLAIN_FOR_PRINT * (paper.shows_print and not own.shows_print)
    )


def _told(paper: Paper, own: Paper) -> str:
    off = colour_off(paper, own)
    words = [
        "much the same colour" if off < 5 else "near in colour" if off < 15 else "another colour"
    ]
    if own.kind != paper.kind:
        words.append(f"{own.kind} for {paper.kind}")
    if _RUNS[own.run] > _RUNS[paper.run]:
        words.append("its print may not be turned")
    if own.size != paper.size:
        words.append("other sheets")
    return ", ".join(words)

"""Random projects and plans for the laws of the store."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, zip_longest
from typing import Any, get_args

from hypothesis import strategies as st

from workbench.craft.card import (
    ACROSS,
    BASE,
    COPIES,
    CORNERS,
    FOLDS,
    FRONT,
    INSIDE,
    RESERVED,
    SPREADS,
    UP,
    Card,
    Piece,
    Place,
    Rounding,
)
from workbench.craft.direction import Direction
from workbench.craft.envelope import UNENVELOPED, Envelope, Posting
from workbench.craft.errors import LONGEST_NAME
from workbench.craft.extra import Extra
from workbench.craft.imprint import Imprint
from workbench.craft.mixing import USES, FixedCard, Likeness, Mixing, Pair
from workbench.craft.own_step import MOMENTS, Hole, OwnStep
from workbench.craft.pace import KINDS as TIMED
from workbench.craft.pace import Pace
from workbench.craft.paper import EDGES, KINDS, RUNS, Back, Offcut, Paper, Size, Strip
from workbench.craft.project import Project
from workbench.craft.wish import Wish
from workbench.measure.length import UNITS, ZERO, Length
from workbench.planning.result import (
    Assemble,
    Combination,
    Cut,
    Deal,
    Fold,
    Group,
    Mount,
    Own,
    Part,
    PartId,
    Plan,
    Rectangle,
    Role,
    Round,
    Score,
    Sheet,
    Shortage,
    Step,
    Totals,
)

NEED_A_FOLD_OR_NO_HOLES = ("before cutting", "after scoring")

# Whatever can be shown on a label, quotes and backslashes among it.
_SHOWN = st.characters(exclude_categories=("Cc", "Cf", "Cs", "Zl", "Zp"))
NAMES = (
    st.text(_SHOWN, min_size=1, max_size=LONGEST_NAME)
    .map(str.strip)
    .filter(lambda name: name and name not in RESERVED)
)
_SOME_NAMES = st.lists(NAMES, max_size=2).map(tuple)


def lengths(most_mm: int, least_mm: int = 1) -> st.SearchStrategy[Length]:
    """Lengths of every grain a maker might use, and some that no maker would."""

    def grain(step: Fraction) -> st.SearchStrategy[Length]:
        lowest, highest = -(-least_mm // step), most_mm // step
        return st.integers(lowest, highest).map(lambda count: Length(count * step))

    steps = (Fraction(254, 640), Fraction(1, 10), Fraction(1, 320), Fraction(1), Fraction(127, 15))
    return st.one_of(*map(grain, steps))


def sizes(most_mm: int, least_mm: int = 1) -> st.SearchStrategy[Size]:
    return st.builds(Size, lengths(most_mm, least_mm), lengths(most_mm, least_mm))


def _papers(names: list[str], backs: list[str]) -> st.SearchStrategy[tuple[Paper, ...]]:
    colours = st.lists(st.from_regex(r"#[0-9a-fA-F]{6}", fullmatch=True), max_size=3).map(tuple)
    return st.tuples(
        *(
            st.builds(
                Paper,
                name=st.just(name),
                kind=st.sampled_from(KINDS),
                size=sizes(700, 350),
                sheets=st.integers(0, 100),
                print=NAMES,
                colours=colours,
                run=st.sampled_from(RUNS),
                weight=st.sampled_from([None, "300 gsm", "110 lb cover", "65lb Cover"]),
                thickness=st.sampled_from([None, "14 pt", "0.36 mm", "0.014 in"]),
                strip=st.none() | st.builds(Strip, st.sampled_from(EDGES), lengths(50)),
                back=st.none()
                if back is None
                else st.builds(Back, st.just(back), NAMES, colours, st.sampled_from(RUNS)),
                stock=st.sampled_from([None, "3f9a2c71d04b", "000000000000"]),
            )
            for name, back in zip_longest(names, backs)
        )
    )


def _roundings(size: Size) -> st.SearchStrategy[Rounding | None]:
    half = min(size.width, size.height) / 2
    return st.none() | st.builds(
        Rounding,
        st.lists(st.sampled_from(CORNERS), min_size=1, unique=True).map(tuple),
        st.integers(1, 16).map(lambda parts: half * Fraction(parts, 16)),
    )


@st.composite
def _mixings(draw: Callable[[st.SearchStrategy[Any]], Any], project: Project) -> Mixing:
    """Rules that name what is there; whether they can all hold is another matter."""
    faces = [face.name for paper in project.papers for face in paper.faces]

    def pairs() -> tuple[Pair, ...]:
        every = list(combinations(faces, 2))
        chosen = st.lists(st.sampled_from(every), max_size=3, unique=True) if every else st.just([])
        return tuple(draw(chosen))

    cards = []
    layers = {layer.name: project.faces(layer.piece) for layer in project.layers()}
    if layers:
        shows = st.dictionaries(st.sampled_from(list(layers)), st.none(), min_size=1, max_size=3)
        for number in draw(st.sets(st.integers(1, project.card.count), max_size=2)):
            fixed = {layer: draw(st.sampled_from(layers[layer])) for layer in draw(shows)}
            cards.append(FixedCard(number, fixed))
    wish, deal = draw(st.sampled_from(get_args(Likeness))), draw(st.integers(0, 9))
    meeting = list(combinations([BASE, *(piece.name for piece in project.pieces)], 2))
    some = st.lists(st.sampled_from(meeting), max_size=2, unique=True) if meeting else st.just([])
    repeat = draw(st.booleans() | some.map(tuple))
    ticked = sorted(
        {name for piece in project.pieces if project.mixed(piece) for name in piece.papers}
    )
    counts = st.dictionaries(st.sampled_from(ticked), st.integers(0, 99), min_size=1)
    use = draw(st.sampled_from(USES) | counts if ticked else st.sampled_from(USES))
    return Mixing(pairs(), pairs(), tuple(cards), wish, deal, repeat, use)


_GRAMS = st.sampled_from(["0 g", "0.4 g", "12 g", "1/2 oz"])


def _extras(pieces: list[str]) -> st.SearchStrategy[tuple[Extra, ...]]:
    extra = st.builds(
        Extra,
        name=NAMES,
        weight=_GRAMS,
        thickness=st.sampled_from([None, "2 mm", "14 pt", "1/16 in"]),
        on=st.sampled_from(["card", "inside", *pieces]),
        per_card=st.integers(1, 50),
        flat=st.booleans(),
    )
    return st.lists(extra, max_size=3, unique_by=lambda each: each.name).map(tuple)


def _envelopes() -> st.SearchStrategy[tuple[Envelope, ...]]:
    envelope = st.builds(
        Envelope,
        name=NAMES.filter(lambda name: name != UNENVELOPED),
        size=sizes(400),
        weight=st.none() | _GRAMS,
        source=st.sampled_from(["", "measured"]),
    )
    return st.lists(envelope, max_size=2, unique_by=lambda each: each.name).map(tuple)


def _postings() -> st.SearchStrategy[Posting]:
    return st.builds(
        Posting,
        to=st.sampled_from([None, "us", "elsewhere"]),
        envelope=st.sampled_from([None, UNENVELOPED, "ISO C6"]),
        clearance=st.none() | lengths(20, 0),
        upright=st.booleans(),
    )


def _imprints() -> st.SearchStrategy[Imprint]:
    picture = st.sampled_from([None, "finished.jpg", "pictures/card.PNG"])
    return st.builds(Imprint, line=st.none() | NAMES, picture=picture)


@st.composite
def projects(draw: Callable[[st.SearchStrategy[Any]], Any]) -> Project:
    names = draw(st.lists(NAMES, min_size=1, max_size=6, unique=True))
    paper_names, backs = names[:4], names[4:]
    # No name of a piece ends in a number, which might be the name of another's second layer.
    piece_names = draw(
        st.lists(NAMES.filter(lambda name: not name[-1].isdigit()), max_size=5, unique=True)
    )
    paper = st.sampled_from(paper_names)
    pieces: list[Piece] = []
    for name in piece_names:
        size = draw(sizes(300))
        spread, per_card = draw(st.sampled_from(SPREADS)), draw(st.integers(1, 3))
        place = st.builds(
            Place,
            st.sampled_from(ACROSS) | lengths(300, 0),
            st.sampled_from(UP) | lengths(300, 0),
        )
        more = per_card - 1 if spread == "placed" else 0
        pieces.append(
            Piece(
                name=name,
                size=size,
                papers=tuple(draw(st.lists(paper, min_size=1, unique=True))),
                place=draw(place),
                rounding=draw(_roundings(size)),
                per_card=per_card,
                copies=draw(st.sampled_from(COPIES)),
                needed=(needed := draw(st.booleans())),
                spare=draw(st.integers(0, 9)) if needed else 0,
                on=draw(st.sampled_from(["card", "inside", *(one.name for one in pieces)])),
                raised=draw(lengths(20, 0)),
                spread=spread,
                places=tuple(draw(st.lists(place, min_size=more, max_size=more))),
            )
        )
    extras = draw(_extras([piece.name for piece in pieces]))
    inside = any(each.on == INSIDE for each in (*pieces, *extras))
    folds = FOLDS[:2] if inside else FOLDS
    project = Project(
        title=draw(NAMES),
        units=draw(st.sampled_from(UNITS)),
        card=Card(
            draw(sizes(150)), draw(st.sampled_from(folds)), draw(paper), draw(st.integers(1, 500))
        ),
        papers=draw(_papers(paper_names, backs)),
        pieces=tuple(pieces),
        offcuts=tuple(
            draw(st.lists(st.builds(Offcut, paper, sizes(300), st.integers(1, 9)), max_size=3))
        ),
        extras=extras,
        envelopes=draw(_envelopes()),
        posting=draw(_postings()),
        imprint=draw(_imprints()),
        steps=draw(_own_steps([piece.name for piece in pieces])),
        wish=draw(st.sampled_from(get_args(Wish))),
    )
    return replace(project, mixing=draw(_mixings(project)))


def _own_steps(pieces: list[str]) -> st.SearchStrategy[tuple[OwnStep, ...]]:
    """Steps of the maker's own, with holes near the bottom left of whatever they are done to."""
    tiny = Length.of(Fraction(1, 100), "mm")
    holes = st.just(Hole(tiny, tiny, Size(tiny, tiny)))
    steps = st.builds(
        OwnStep,
        NAMES,
        st.sampled_from([FRONT, *pieces]),
        st.sampled_from([moment for moment in MOMENTS if moment not in NEED_A_FOLD_OR_NO_HOLES]),
        st.fractions(0, 20, max_denominator=4),
        st.just("") | NAMES,
        st.lists(holes, max_size=2).map(tuple),
    )
    return st.lists(steps, max_size=2, unique_by=lambda step: step.name).map(tuple)


@st.composite
def plans(draw: Callable[[st.SearchStrategy[Any]], Any]) -> Plan:
    """Plans whose sheets are cut at random; what they are for need not make sense."""
    sheets: list[Sheet] = []
    steps: list[Step] = []
    for number in range(1, draw(st.integers(0, 4)) + 1):
        offcut = draw(st.booleans())
        label = f"{'O' if offcut else 'S'}{number}"
        whole = draw(sizes(700, 100))
        parts = tuple(_cut_up(draw, Rectangle(label, ZERO, ZERO, whole), PartId(label), steps))
        sheets.append(Sheet(label, draw(NAMES), whole.width, whole.height, offcut, parts))
    labels = [sheet.part_id(part) for sheet in sheets for part in sheet.parts]
    for kind in draw(st.lists(st.sampled_from((Score, Fold, Round, Deal, Mount, Own)), max_size=4)):
        n, takes = len(steps) + 1, ()
        if labels:
            takes = tuple(draw(st.lists(st.sampled_from(labels), max_size=3)))
        if kind is Score:
            steps.append(Score(n, takes, Direction.HEIGHT, draw(lengths(300))))
        elif kind is Own:
            steps.append(Own(n, takes, draw(NAMES)))
        else:
            steps.append(kind(n, takes))
    cards = draw(st.integers(1, 5))
    for card in range(1, cards + 1):
        steps.append(Assemble(len(steps) + 1, (), card))
    counts = st.integers(0, 50)
    known = st.none() | counts
    seconds = counts.map(lambda hundredths: hundredths / 100)  # finer ones are not kept
    return Plan(
        title=draw(NAMES),
        cards=cards,
        totals=draw(
            st.builds(Totals, counts, counts, counts, counts, seconds, known, known, known, known)
        ),
        groups=tuple(
            draw(
                st.lists(
                    st.builds(Group, _SOME_NAMES, counts, counts, st.none() | NAMES), max_size=3
                )
            )
        ),
        shortages=tuple(draw(st.lists(st.builds(Shortage, NAMES, counts), max_size=2))),
        sheets=tuple(sheets),
        steps=tuple(steps),
        combinations=tuple(
            Combination(card, draw(st.dictionaries(NAMES, NAMES, max_size=3)))
            for card in range(1, cards + 1)
        ),
        makeable=draw(st.integers(0, cards)),
        pace=draw(
            st.builds(
                Pace, counts, counts, counts, counts, own=st.sampled_from([(), ("stroke",), TIMED])
            )
        ),
    )


def _cut_up(
    draw: Callable[[st.SearchStrategy[Any]], Any],
    whole: Rectangle,
    label: PartId,
    steps: list[Step],
) -> Iterator[Part]:
    """Cut a rectangle into final parts, adding the cuts to `steps`."""
    if len(label.path) > 2 or draw(st.booleans()):
        role = draw(st.sampled_from(get_args(Role)))
        piece = draw(NAMES) if role == "piece" else None
        turned = role == "piece" and draw(st.booleans())
        size = whole.size
        yield Part(label.path, role, piece, whole.x, whole.y, size.width, size.height, turned)
        return
    measure = draw(st.sampled_from(Direction))
    side = whole.size.along(measure)
    mark = side * Fraction(draw(st.integers(1, 9)), 10)
    steps.append(Cut(len(steps) + 1, (label,), measure, mark))
    for half, x, y, size in zip(label.halves, *_sides(whole, measure, mark), strict=True):
        yield from _cut_up(draw, Rectangle(whole.sheet, x, y, size), half, steps)


def _sides(
    whole: Rectangle, measure: Direction, mark: Length
) -> tuple[tuple[Length, Length], tuple[Length, Length], tuple[Size, Size]]:
    width, height = whole.size.width, whole.size.height
    if measure is Direction.WIDTH:
        return (
            (whole.x, whole.x + mark),
            (whole.y, whole.y),
            (Size(mark, height), Size(width - mark, height)),
        )
    return (
        (whole.x, whole.x),
        (whole.y, whole.y + mark),
        (Size(width, mark), Size(width, height - mark)),
    )

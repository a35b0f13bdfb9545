"""The maker's rules of mixing, against every deal there could be, tried one by one.

What a card may be is said here a second time, from the words of the rules alone.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations, product

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tests.effort import examples
from tests.planning.checker import plan_faults
from tests.planning.projects import ONE_BY_ONE, patterned, plain, project, size
from workbench.craft.card import COPIES, Copies, Piece
from workbench.craft.mixing import NO_RULES, FixedCard, Mixing, Pair
from workbench.craft.paper import Back, Paper
from workbench.craft.project import Project
from workbench.planning.driver import make_plan
from workbench.planning.limits import Limits
from workbench.planning.mixing.card_rules import NO_PRINT_TWICE
from workbench.planning.mixing.conflicts import conflict
from workbench.planning.mixing.deal import deal
from workbench.planning.progress import PlanningError, Watch

SLOW = [HealthCheck.too_slow, HealthCheck.filter_too_much]
LAYER = size(10, 10, "mm")
SHEET = size(30, 20, "mm")
BASE = "ready base"

Card = tuple[str | None, ...]


def stock(sheets: int = 50) -> list[Paper]:
    """Two prints, one of them on a double-faced paper, and a plain card that has a printed back."""
    return [
        patterned("ash", SHEET, sheets),
        replace(patterned("birch", SHEET, sheets), back=Back("birch back", "stripe")),
        patterned("cedar", SHEET, sheets),
        replace(plain("chalk", SHEET, sheets), back=Back("chalk back", "dot")),
        plain("slate", SHEET, sheets),
    ]


FACES = ("ash", "birch", "birch back", "cedar", "chalk", "chalk back", "slate", BASE)
PRINTS = {"ash", "birch", "birch back", "cedar", "chalk back"}
PAPER_OF = {"birch back": "birch", "chalk back": "chalk"}
PAPERS = ("ash", "birch", "cedar", "chalk", "slate")

Layers = Sequence[tuple[Sequence[str], int, bool, int]]
SOME_LAYERS = st.lists(
    st.tuples(
        st.lists(st.sampled_from(PAPERS), min_size=1, max_size=3, unique=True),
        st.sampled_from((1, 1, 1, 2)),
        st.sampled_from((True, True, False)),
        st.sampled_from((0, 0, 1)),
    ),
    min_size=1,
    max_size=3,
).filter(lambda layers: sum(copies for _, copies, _, _ in layers) <= 3)
SOME_PAIRS = st.lists(st.sampled_from(list(combinations(FACES, 2))), max_size=2, unique=True)


def asked_for(
    cards: int,
    layers: Layers,
    papers: Sequence[Paper] | None = None,
    copies: Copies = "each another",
) -> Project:
    """A project of layers: from which papers, how many a card, needed or not, how many spare."""
    pieces = [
        Piece(
            f"layer {chr(ord('a') + number)}",
            LAYER,
            tuple(names),
            per_card=times,
            copies=copies,
            needed=needed,
            spare=spare if needed else 0,
        )
        for number, (names, times, needed, spare) in enumerate(layers)
    ]
    return project("mm", cards, papers or stock(), pieces)


def ruled(
    asked: Project,
    apart: Sequence[Pair] = (),
    together: Sequence[Pair] = (),
    fixed: Mapping[int, Mapping[str, str]] | None = None,
    repeat: bool | tuple[Pair, ...] = False,
) -> Project:
    cards = tuple(FixedCard(number, shows) for number, shows in (fixed or {}).items())
    return replace(asked, mixing=Mixing(tuple(apart), tuple(together), cards, repeat=repeat))


def repeats_of(asked: Project) -> st.SearchStrategy[bool | tuple[Pair, ...]]:
    """Which pieces may show the same print: none, any two, or one pair."""
    pairs = [(pair,) for pair in combinations((piece.name for piece in asked.pieces), 2)]
    return st.sampled_from([False, False, True, *pairs])


def open_to(asked: Project, name: str) -> list[str | None]:
    """What a piece may show."""
    piece = asked.piece(name)
    faces: list[str | None] = [f for f in FACES if PAPER_OF.get(f, f) in piece.papers]
    return faces if piece.needed else [*faces, None]


def possible_cards(asked: Project, rules: Mixing) -> Iterator[Card]:
    """Every card that keeps the rules."""
    layers = asked.layers()
    for card in product(*(open_to(asked, layer.piece.name) for layer in layers)):
        mixed = [
            len(open_to(asked, layer.piece.name)) > (not layer.piece.needed) + 1 for layer in layers
        ]
        twice = any(
            card[i] == card[j]
            and card[i] in PRINTS
            and (mixed[i] or mixed[j])
            and layers[i].piece != layers[j].piece
            and not may_repeat(rules, layers[i].piece.name, layers[j].piece.name)
            for i, j in combinations(range(len(layers)), 2)
        )
        copies = all(
            card[i] == card[j]
            if layers[i].piece.copies == "alike"
            else card[i] != card[j] or card[i] is None
            for i, j in combinations(range(len(layers)), 2)
            if layers[i].piece == layers[j].piece and mixed[i]
        )
        shown = {*card, BASE}
        apart = any(one in shown and other in shown for one, other in rules.apart)
        lone = any((one in shown) != (other in shown) for one, other in rules.together)
        if copies and not (twice or apart or lone):
            yield card


def may_repeat(rules: Mixing, one: str, other: str) -> bool:
    """Whether the maker lets two pieces show the same print."""
    if isinstance(rules.repeat, bool):
        return rules.repeat
    return {one, other} in map(set, rules.repeat)


def keeps(asked: Project, card: Card, number: int) -> bool:
    """Whether it can be card `number`, as far as the maker fixed that by hand."""
    shows = dict(zip((layer.name for layer in asked.layers()), card, strict=True))
    fixed = {one.number: one.shows for one in asked.mixing.cards}.get(number, {})
    return all(shows[layer] == face for layer, face in fixed.items())


def uses(asked: Project, card: Card) -> Counter[tuple[str, str]]:
    names = (layer.piece.name for layer in asked.layers())
    return Counter((n, PAPER_OF.get(f, f)) for n, f in zip(names, card, strict=True) if f)


def most_different(asked: Project, cut: Counter[tuple[str, str]]) -> int | None:
    """The most different cards over every deal of the pieces, spares left; None if there is none.

    A wanted piece that is cut is always dealt.
    """
    kinds = list(possible_cards(asked, asked.mixing))
    names = sorted(set(cut).union(*(uses(asked, card) for card in kinds)))
    takes = [tuple(uses(asked, card)[name] for name in names) for card in kinds]
    by_hand = {card.number for card in asked.mixing.cards}
    order = sorted(range(1, asked.card.count + 1), key=lambda number: number not in by_hand)
    spare = Counter({piece.name: piece.spare for piece in asked.pieces})

    def over(at: int, left: tuple[int, ...], seen: tuple[int, ...]) -> int:
        if at == len(order):
            rest = Counter[str]()
            for (name, _), count in zip(names, left, strict=True):
                rest[name] += count
            return len(set(seen)) if rest == spare else -1
        free = order[at] not in by_hand
        first = seen[-1] if free and at and order[at - 1] not in by_hand else 0
        best = -1
        for kind in range(first, len(kinds)):
            after = tuple(a - b for a, b in zip(left, takes[kind], strict=True))
            if min(after, default=0) >= 0 and keeps(asked, kinds[kind], order[at]):
                best = max(best, over(at + 1, after, (*seen, kind)))
        return best

    best = over(0, tuple(cut[name] for name in names), ())
    return None if best < 0 else best


@st.composite
def cut_projects(draw: st.DrawFn) -> tuple[Project, Counter[tuple[str, str]]]:
    """A small project with rules, and pieces for it that may or may not do."""
    cards = draw(st.integers(1, 3))
    asked = asked_for(cards, draw(SOME_LAYERS), copies=draw(st.sampled_from(COPIES)))
    asked = ruled(asked, draw(SOME_PAIRS), draw(SOME_PAIRS), repeat=draw(repeats_of(asked)))
    kinds = list(possible_cards(asked, asked.mixing if draw(st.booleans()) else NO_RULES))
    assume(0 < len(kinds) <= 40)
    cut = Counter[tuple[str, str]]()
    for number in range(1, cards + 1):
        card = draw(st.sampled_from(kinds))
        cut += uses(asked, card)
        if draw(st.booleans()):
            shows = {
                layer.name: face
                for layer, face in zip(asked.layers(), card, strict=True)
                if face and draw(st.booleans())
            }
            if shows:
                fixed = (*asked.mixing.cards, FixedCard(number, shows))
                asked = replace(asked, mixing=replace(asked.mixing, cards=fixed))
    for piece in asked.pieces:
        for _ in range(piece.spare):
            cut[piece.name, draw(st.sampled_from(piece.papers))] += 1
    return asked, cut


@settings(max_examples=examples(40), deadline=None, suppress_health_check=SLOW)
@given(cut_projects())
def test_no_deal_is_more_varied_and_none_is_missed(
    case: tuple[Project, Counter[tuple[str, str]]],
) -> None:
    asked, cut = case
    best = most_different(asked, cut)
    by_piece: dict[str, dict[str, int]] = {piece.name: {} for piece in asked.pieces}
    for (name, paper), count in cut.items():
        by_piece[name][paper] = count
    if best is None:
        with pytest.raises(PlanningError):
            deal(asked, asked.card.count, by_piece, Watch())
        return
    dealt = deal(asked, asked.card.count, by_piece, Watch())
    kinds = set(possible_cards(asked, asked.mixing))
    assert set(dealt.cards) <= kinds
    assert all(keeps(asked, card, number) for number, card in enumerate(dealt.cards, 1))
    assert (dealt.different, dealt.most) == (best, best)


@st.composite
def ruled_projects(draw: st.DrawFn) -> Project:
    cards = draw(st.integers(1, 4))
    papers, copies = stock(draw(st.sampled_from((0, 1, 50)))), draw(st.sampled_from(COPIES))
    asked = asked_for(cards, draw(SOME_LAYERS), papers, copies)
    repeat = draw(repeats_of(asked))
    fixed: dict[int, dict[str, str]] = {}
    for number in draw(st.sets(st.integers(1, cards), max_size=2)):
        for layer in draw(st.lists(st.sampled_from(asked.layers()), min_size=1, max_size=2)):
            face = draw(st.sampled_from([f for f in open_to(asked, layer.piece.name) if f]))
            fixed.setdefault(number, {})[layer.name] = face
    return ruled(asked, draw(SOME_PAIRS), draw(SOME_PAIRS), fixed, repeat)


def feasible(asked: Project, rules: Mixing) -> bool:
    """Whether every card of the batch can be one that keeps the rules, paper bought as needed."""
    judged = replace(asked, mixing=rules)
    kinds = list(possible_cards(judged, rules))
    numbers = range(1, asked.card.count + 1)
    return bool(kinds) and all(any(keeps(judged, k, number) for k in kinds) for number in numbers)


@settings(max_examples=examples(12), deadline=None, suppress_health_check=SLOW)
@given(ruled_projects())
def test_whatever_is_planned_keeps_every_rule(asked: Project) -> None:
    try:
        plan = make_plan(asked, ONE_BY_ONE)
    except PlanningError:
        assert not feasible(asked, asked.mixing)
        return
    assert feasible(asked, asked.mixing)
    assert plan_faults(asked, plan, ONE_BY_ONE) == []


def in_words(rules: Mixing) -> dict[str, Mixing]:
    """Each rule by itself, by what a message calls it."""
    found = {f'"{a}" and "{b}" never meet': Mixing(apart=((a, b),)) for a, b in rules.apart}
    found |= {f'"{a}" and "{b}" always meet': Mixing(together=((a, b),)) for a, b in rules.together}
    for card in rules.cards:
        shows = " and ".join(f'{layer} of "{face}"' for layer, face in card.shows.items())
        found[f"card {card.number} has {shows}"] = Mixing(cards=(card,))
    return found


def joined(rules: Sequence[Mixing], asked: Project) -> Mixing:
    return Mixing(
        tuple(pair for rule in rules for pair in rule.apart),
        tuple(pair for rule in rules for pair in rule.together),
        tuple(card for rule in rules for card in rule.cards),
        repeat=asked.mixing.repeat,
    )


@settings(max_examples=examples(40), deadline=None, suppress_health_check=SLOW)
@given(ruled_projects())
def test_a_conflict_is_told_by_the_smallest_set_of_rules(asked: Project) -> None:
    assume(feasible(asked, Mixing(repeat=asked.mixing.repeat)))
    clash = conflict(asked)
    assert bool(clash) != feasible(asked, asked.mixing)
    assume(clash)
    rules = in_words(asked.mixing)
    named = [words for words in clash if words in rules]
    assert all(
        words == NO_PRINT_TWICE or "copies" in words or "each" in words
        for words in clash
        if words not in rules
    )
    assert not feasible(asked, joined([rules[words] for words in named], asked))
    for without in named:
        fewer = [rules[words] for words in named if words != without]
        assert feasible(asked, joined(fewer, asked))


def test_rules_in_conflict_are_named_as_the_maker_wrote_them() -> None:
    layers = [(("ash", "birch"), 1, True, 0), (("birch", "cedar", "slate"), 1, True, 0)]
    asked = ruled(
        asked_for(4, layers),
        apart=[("ash", "birch"), ("cedar", "slate")],
        fixed={1: {"layer b": "slate"}, 3: {"layer a": "ash", "layer b": "birch"}},
    )
    told = (
        'these rules cannot all hold: "ash" and "birch" never meet; card 3 has layer a of "ash" '
        'and layer b of "birch"; change or leave out one of them'
    )
    with pytest.raises(PlanningError) as refused:
        make_plan(asked, ONE_BY_ONE)
    assert str(refused.value) == told
    for left in (replace(asked.mixing, apart=()), replace(asked.mixing, cards=())):
        mended = replace(asked, mixing=left)
        assert plan_faults(mended, make_plan(mended, ONE_BY_ONE), ONE_BY_ONE) == []


def test_a_conflict_is_found_among_dozens_of_copies_of_a_piece() -> None:
    """Their order means nothing: trying each would never end."""
    layers = [(("ash", "birch"), 1, True, 0), (("ash", "birch"), 50, False, 0)]
    papers = [patterned(name, LAYER, 9) for name in ("ash", "birch")]
    pair = [("ash", "birch")]
    asked = ruled(asked_for(4, layers, papers), together=pair, apart=pair)
    assert conflict(asked) == ('"ash" and "birch" never meet', '"ash" and "birch" always meet')


def test_a_card_that_shows_a_print_twice_is_a_conflict() -> None:
    asked = ruled(
        asked_for(2, [(("ash", "birch"), 1, True, 0)] * 2),
        fixed={2: {"layer a": "ash", "layer b": "ash"}},
    )
    assert conflict(asked) == (
        NO_PRINT_TWICE,
        'card 2 has layer a of "ash" and layer b of "ash"',
    )


def test_rules_may_tie_papers_that_share_no_piece() -> None:
    """Five ash panels could go with any band, but never with slate: so at most five are slate."""
    layers = [(("ash", "birch"), 1, True, 0), (("cedar", "slate"), 1, True, 0)]
    asked = ruled(asked_for(10, layers), together=[("ash", "slate")])
    plan = make_plan(asked, ONE_BY_ONE)
    assert plan_faults(asked, plan, ONE_BY_ONE) == []


def test_rules_can_cost_a_sheet_and_it_is_proven() -> None:
    """Six pieces fill a sheet. Free, the six panels come from one; bound to meet, ash from slate's.

    With ash always beside slate and birch always beside cedar, and one card of each fixed, all
    four papers are opened where two would do.
    """
    layers = [(("ash", "birch"), 1, True, 0), (("cedar", "slate"), 1, True, 0)]
    free = asked_for(6, layers)
    bound = ruled(
        free,
        apart=[("ash", "cedar")],
        fixed={1: {"layer a": "ash"}, 2: {"layer b": "cedar"}},
    )
    assert make_plan(free, ONE_BY_ONE).totals.sheets == 6 + 2
    plan = make_plan(bound, ONE_BY_ONE)
    assert plan_faults(bound, plan, ONE_BY_ONE) == []
    assert (plan.totals.sheets, plan.totals.proven) == (6 + 4, True)


def test_a_double_faced_paper_gives_both_prints_of_a_card() -> None:
    asked = asked_for(6, [(("birch",), 1, True, 0)] * 2)
    plan = make_plan(asked, ONE_BY_ONE)
    assert plan_faults(asked, plan, ONE_BY_ONE) == []
    assert all(set(card.pieces.values()) == {"birch", "birch back"} for card in plan.combinations)


def test_a_face_with_a_run_is_never_cut_sideways() -> None:
    one_way = replace(patterned("birch", SHEET, 9), back=Back("birch back", "stripe", (), "up"))
    assert not one_way.turns


def test_spares_are_cut_and_dealt_to_no_card() -> None:
    asked = asked_for(6, [(("ash", "cedar"), 1, True, 1), (("slate",), 1, True, 1)])
    plan = make_plan(asked, ONE_BY_ONE)
    assert plan_faults(asked, plan, ONE_BY_ONE) == []
    cut = Counter(part.piece for sheet in plan.sheets for part in sheet.parts if part.piece)
    assert cut["layer a"] == cut["layer b"] == 7
    assert plan.totals.sheets == 6 + 2 + 2


NINE = tuple(f"print {number}" for number in range(1, 10))


def one_a_sheet() -> list[Paper]:
    """Papers that give one piece a sheet, so that only the mixing is hard."""
    prints = [patterned(name, LAYER, 50) for name in NINE]
    prints[0] = replace(prints[0], back=Back("print 1 back", "dot"))
    return [*prints, *(replace(paper, size=LAYER) for paper in stock())]


def test_more_kinds_of_card_than_can_be_listed_are_dealt_by_koenigs_construction() -> None:
    """Eight layers from nine prints can be mixed in 9! = 362 880 ways."""
    layers = [*[(NINE, 1, True, 1)] * 8, (NINE[:1], 1, False, 0), (NINE[1:2], 2, False, 0)]
    asked = asked_for(90, layers, one_a_sheet())
    cut = {
        piece.name: Counter(NINE[(card + number) % 9] for card in range(90 + piece.spare))
        for number, piece in enumerate(asked.pieces[:8])
    }
    cut["layer i"], cut["layer j"] = Counter({NINE[0]: 9}), Counter({NINE[1]: 9})
    dealt = deal(asked, 90, cut, Watch())
    left = {name: Counter(papers) for name, papers in cut.items()}
    for card in dealt.cards:
        shown = [face for face in card[:-1] if face is not None]  # the last doubles its like
        assert len(set(shown)) == len(shown)
        for layer, face in zip(dealt.layers, card, strict=True):
            left[layer.piece.name][(face or "").removesuffix(" back")] -= 1 if face else 0
    assert all(min(papers.values()) >= 0 for papers in left.values())
    assert [papers.total() for papers in left.values()] == [1] * 8 + [0, 0]
    assert dealt.different > 60


def test_rules_hold_where_there_are_more_kinds_of_card_than_can_be_listed() -> None:
    layers = [*[(NINE, 1, True, 0)] * 5, (("ash", "birch"), 1, True, 0), (("cedar",), 1, False, 0)]
    asked = ruled(
        asked_for(12, layers, one_a_sheet()),
        apart=[("print 1", "print 2"), ("ash", "cedar")],
        together=[("print 3", "print 4")],
        fixed={5: {"layer a": "print 9", "layer f": "birch back"}, 7: {"layer e": "print 3"}},
    )
    plan = make_plan(asked, ONE_BY_ONE)
    assert plan_faults(asked, plan, ONE_BY_ONE) == []


@settings(max_examples=examples(12), deadline=None, suppress_health_check=SLOW)
@given(cut_projects())
def test_sections_dealt_one_by_one_keep_every_rule(
    case: tuple[Project, Counter[tuple[str, str]]],
) -> None:
    """With no room to list whole cards, each section is dealt by itself and they are joined."""
    asked, cut = case
    assume(asked.mixing != NO_RULES and most_different(asked, cut) is not None)
    by_piece: dict[str, dict[str, int]] = {piece.name: {} for piece in asked.pieces}
    for (name, paper), count in cut.items():
        by_piece[name][paper] = count
    one_by_one = Watch(limits=Limits(dealt_card_types=1))
    dealt = deal(asked, asked.card.count, by_piece, one_by_one)
    assert set(dealt.cards) <= set(possible_cards(asked, asked.mixing))
    assert all(keeps(asked, card, number) for number, card in enumerate(dealt.cards, 1))
    assert dealt.different <= dealt.most

"""The forms of the Combinations: how alike the cards are, which prints meet, what is swapped."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations

from textual import on
from textual.app import ComposeResult
from textual.widgets import Static

from workbench.app.widgets.fields import Choice
from workbench.app.widgets.forms import PREVIEW, ProjectForm, row, text
from workbench.craft.errors import CraftError
from workbench.craft.mixing import Likeness, Pair, Use
from workbench.craft.project import Project
from workbench.drawing.canvas import Box, Canvas
from workbench.drawing.cards import draw_card
from workbench.drawing.prints import fill_print
from workbench.making.words import which_cards
from workbench.measure.length import Unit
from workbench.planning import (
    Combination,
    Plan,
    PlanningError,
    check_mixing,
    mixed_papers,
    swapped,
    swaps,
)

_FREE, _APART, _TOGETHER = "they may meet", "they never meet", "they always meet"


_ONCE, _ANY = "once on a card", "on any pieces of a card"
_COUNTED = "as counted below"
_USES: Mapping[Use, str] = {
    "as it comes": "as it comes",
    "all": "all that are ticked",
    "evenly": "about equally",
}
_LIKENESS: Mapping[Likeness, str] = {
    "varied": "as varied as comes",
    "as a set": "all alike, as a set",
    "all different": "all different",
}


class LikenessForm(ProjectForm):
    """Says how alike the cards shall be."""

    TITLE = "How alike"
    ABOUT = (
        "As a rule the cards are as varied as the pieces allow that the fewest sheets give. For a"
        " set, all cards are alike; or no two cards are, if there are prints enough. A print shows"
        " once on a card, unless you let it show on any two pieces, or on two that you name. Prints"
        " are used as the fewest sheets ask, or all that are ticked, or about equally, or as many"
        " pieces of each as you count. All this may take more paper. The batch is planned anew, and"
        " what the cards would lose is said before it is kept."
    )

    def fields(self) -> ComposeResult:
        mixing = self.project.mixing
        now = _LIKENESS[mixing.wish]
        yield row("The cards are", Choice(tuple(_LIKENESS.values()), now, key="wish"))
        ways = tuple(dict.fromkeys((_ONCE, _ANY, self._repeat_now(), *self._pair_ways())))
        yield row("A print shows", Choice(ways, self._repeat_now(), key="repeat"))
        use = _USES[mixing.use] if isinstance(mixing.use, str) else _COUNTED
        yield row("Prints are used", Choice((*_USES.values(), _COUNTED), use, key="use"))
        for number, paper in enumerate(mixed_papers(self.project)):
            count = mixing.counts.get(paper, "")
            yield row(paper, text(f"count{number}", count, "how many, if counted"))

    def read(self) -> Project:
        wish = next(wish for wish, words in _LIKENESS.items() if words == self.chosen("wish"))
        mixing = replace(self.project.mixing, wish=wish, repeat=self._repeat(), use=self._use())
        return _allowed(replace(self.project, mixing=mixing))

    def _pair_ways(self) -> dict[str, tuple[Pair, ...]]:
        """Each pair of pieces of which one at least is mixed, by what the form calls it."""
        pairs = (
            ((one.name, other.name),)
            for one, other in combinations(self.project.pieces, 2)
            if self.project.mixed(one) or self.project.mixed(other)
        )
        return {_pairs_words(pair): pair for pair in pairs}

    def _repeat_now(self) -> str:
        repeat = self.project.mixing.repeat
        if isinstance(repeat, bool) or not repeat:
            return _ANY if repeat else _ONCE
        return _pairs_words(repeat)

    def _repeat(self) -> bool | tuple[Pair, ...]:
        chosen = self.chosen("repeat")
        if chosen == self._repeat_now():
            return self.project.mixing.repeat
        return self._pair_ways().get(chosen, chosen == _ANY)

    def _use(self) -> Use | dict[str, int]:
        chosen = self.chosen("use")
        papers = enumerate(mixed_papers(self.project))
        counts = {
            paper: self.count(f"count{number}", f"pieces of {paper}")
            for number, paper in papers
            if self.typed(f"count{number}")
        }
        if chosen == _COUNTED:
            return counts or "as it comes"
        if counts:
            right = f'choose "{_COUNTED}", or clear the counts'
            raise CraftError("prints are used", "pieces are counted, but not to be used so", right)
        return next(use for use, words in _USES.items() if words == chosen)

    def preview(self, project: Project) -> Canvas:
        return draw_card(project, None, *PREVIEW)


class MeetForm(ProjectForm):
    """Forbids or requires that two prints meet on a card."""

    TITLE = "Meeting"
    ABOUT = (
        "Two prints that never meet are on no card together; of two that always meet, no card"
        " shows just one. The cards are dealt anew by the rules."
    )

    def fields(self) -> ComposeResult:
        names = self._names()
        yield row("One print", Choice(names, names[0], key="one"))
        yield row("The other", Choice(names, names[-1], key="other"))
        rule = self._rule((names[0], names[-1]))
        yield row("On a card", Choice((_FREE, _APART, _TOGETHER), rule, key="rule"))

    def read(self) -> Project:
        pair, rule = (self.chosen("one"), self.chosen("other")), self.chosen("rule")
        mixing = self.project.mixing
        apart, together = _without(mixing.apart, pair), _without(mixing.together, pair)
        if rule == _APART:
            apart = (*apart, pair)
        if rule == _TOGETHER:
            together = (*together, pair)
        mixing = replace(mixing, apart=apart, together=together)
        return _allowed(replace(self.project, mixing=mixing))

    def _rule(self, pair: tuple[str, str]) -> str:
        """What holds of the two until it is changed here."""
        mixing = self.project.mixing
        held = ((_APART, mixing.apart), (_TOGETHER, mixing.together))
        return next((rule for rule, pairs in held if _without(pairs, pair) != pairs), _FREE)

    def preview(self, project: Project) -> Canvas:
        """The two prints side by side."""
        width, height = PREVIEW
        canvas = Canvas(width, height // 2)
        for place, key in enumerate(("one", "other")):
            box = Box(place * width // 2, 0, width // 2, height // 2)
            fill_print(canvas, box, project.face(self.chosen(key)))
        return canvas

    def _names(self) -> tuple[str, ...]:
        mixed = [piece for piece in self.project.pieces if self.project.mixed(piece)]
        names = dict.fromkeys(name for piece in mixed for name in self.project.faces(piece))
        return tuple(names) or (self.project.card.paper,)


class SwapForm(ProjectForm):
    """Swaps one piece of `card` with that of another card; `swap` is what was chosen."""

    TITLE = "Swap"
    ABOUT = (
        "Two cards change their pieces of one layer, and are held so from then on. A swap that"
        " would break a rule is refused, and the rule named; the cards with which it is possible"
        " are listed."
    )

    def __init__(
        self, project: Project, unit: Unit, plan: Plan, card: Combination, other: int
    ) -> None:
        super().__init__(project, unit)
        self.plan = plan
        self.card = card
        self.other = other
        self.swap = ("", 0)

    def fields(self) -> ComposeResult:
        yield row("Piece", Choice(tuple(self.card.pieces), key="layer"))
        yield row("With card", text("other", self.other))
        yield Static(self._able(next(iter(self.card.pieces))), id="able", markup=False)

    @on(Choice.Changed)
    def _show_able(self) -> None:
        self.query_one("#able", Static).update(self._able(self.chosen("layer")))

    def _able(self, layer: str) -> str:
        """The cards with which a swap of that layer is possible."""
        able = swaps(self.project, self.plan, layer, self.card.card)
        return f"possible with {which_cards(able, 0)}" if able else "possible with no other card"

    def read(self) -> Project:
        return self._swapped()[0]

    def preview(self, project: Project) -> Canvas:
        _, plan = self._swapped()
        card = next(each for each in plan.combinations if each.card == self.card.card)
        return draw_card(project, card.pieces, *PREVIEW)

    def _swapped(self) -> tuple[Project, Plan]:
        layer, other = self.chosen("layer"), self.count("other", "with card")
        if not 1 <= other <= self.plan.cards or other == self.card.card:
            raise CraftError(
                "with card",
                f"{other} is not another card",
                f"give a number from 1 to {self.plan.cards}",
            )
        self.swap = (layer, other)
        try:
            return swapped(self.project, self.plan, layer, self.card.card, other)
        except PlanningError as error:
            raise CraftError("swap", str(error), "choose another card or piece") from error


def _pairs_words(pairs: Sequence[Pair]) -> str:
    return f"on {', '.join(f'{one} and {other}' for one, other in pairs)} too"


def _allowed(project: Project) -> Project:
    """The project itself, unless its rules clash."""
    try:
        check_mixing(project)
    except PlanningError as error:
        raise CraftError("rules", str(error), "choose another") from error
    return project


def _without(pairs: tuple[Pair, ...], pair: Pair) -> tuple[Pair, ...]:
    return tuple(each for each in pairs if set(each) != set(pair))

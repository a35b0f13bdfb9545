"""The forms of the Combinations: how alike the cards are, which prints meet, what is swapped."""

from collections.abc import Mapping
from dataclasses import replace

from textual.app import ComposeResult

from workbench.app.widgets.fields import Choice
from workbench.app.widgets.forms import PREVIEW, ProjectForm, row, text
from workbench.craft.errors import CraftError
from workbench.craft.mixing import Likeness, Pair
from workbench.craft.project import Project
from workbench.drawing.canvas import Box, Canvas
from workbench.drawing.cards import draw_card
from workbench.drawing.prints import fill_print
from workbench.measure.length import Unit
from workbench.planning import Combination, Plan, PlanningError, check_mixing, swapped

_FREE, _APART, _TOGETHER = "they may meet", "they never meet", "they always meet"


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
        " set, all cards are alike; or no two cards are, if there are prints enough. Both may take"
        " more paper. The batch is planned anew."
    )

    def fields(self) -> ComposeResult:
        now = _LIKENESS[self.project.mixing.wish]
        yield row("The cards are", Choice(tuple(_LIKENESS.values()), now, key="wish"))

    def read(self) -> Project:
        wish = next(wish for wish, words in _LIKENESS.items() if words == self.chosen("wish"))
        return _allowed(replace(self.project, mixing=replace(self.project.mixing, wish=wish)))

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
        yield row("On a card", Choice((_FREE, _APART, _TOGETHER), _APART, key="rule"))

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
        " would break a rule is refused, and the rule named."
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


def _allowed(project: Project) -> Project:
    """The project itself, unless its rules clash."""
    try:
        check_mixing(project)
    except PlanningError as error:
        raise CraftError("rules", str(error), "choose another") from error
    return project


def _without(pairs: tuple[Pair, ...], pair: Pair) -> tuple[Pair, ...]:
    return tuple(each for each in pairs if set(each) != set(pair))

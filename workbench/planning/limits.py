"""How far planning goes before it makes do: every limit of effort, in one place.

All of them count something (nodes, columns, states ...) and none is a time, so that every machine
makes the same plan. They come down to every search with its `Watch`.
"""

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard the solver tries one integer program."""

    nodes: int | None = None
    """Branches at most; None: no end."""
    checks: int | None = None
    """How often at most the solver looks up from its work; None: no end."""
    gap: float = 0.0
    """A solution within this share of the bound is good enough."""
    wide: int | None = None
    """Columns beyond which it looks up less often, the more there are; never below a quarter."""
    work: float | None = None
    """The work of CP-SAT at most, which then searches in place of branch and bound; about as many
    seconds, but counted."""

    def over(self, columns: int) -> "Effort":
        """The effort for a program of so many columns."""
        if self.checks is None or self.wide is None or columns <= self.wide:
            return replace(self, wide=None)
        checks = max(self.checks // 4, self.checks * self.wide // columns)
        return replace(self, checks=checks, wide=None)


TO_PROOF = Effort()


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a cut graph goes."""

    levels: int
    """Directions taken in turn: rows, pieces of a row, trims and so on."""
    leftovers: bool
    """Whether leftovers are cut on. Else only a rest of a wanted size is turned and cut."""
    most: int
    """Arcs at most: a larger graph is not worth proving anything about."""
    strict: bool = False
    """Leave out cuts whose first part has no wanted piece as wide (or high) as itself."""
    again: bool = False
    """Let what was cut off be cut in the same direction again, which only ever saves a mark."""
    every: bool = False
    """Every true cutting: levels are not counted, and a mark may be the length of a whole row."""


@dataclass(frozen=True, slots=True)
class Limits:
    """Every limit of effort. A larger one finds a better plan, or proves more, in more time."""

    # The instance
    pieces: int = 1_000_000
    """Pieces of a batch at most; more are refused."""
    card_types: int = 1_500
    """Card types listed for a section that the maker set rules for; more are sampled."""

    # Good answers of large models soon
    kernel_effort: Effort = Effort(nodes=20, checks=80, gap=0.002, wide=100)
    """For each small model of the time at the table."""
    hard_effort: Effort = Effort(work=0.1, gap=0.01)
    """For those with all marks, where the few that seemed enough are not."""
    kernel_buckets: tuple[int, ...] = (0, 2)
    """Columns beyond the kernel that each small model has, as a multiple of the kernel's."""
    later_buckets: tuple[int, ...] = (0,)
    """The same of a model asked again, once circles of marks are known."""
    sheet_buckets: tuple[int, ...] = (0, 2, 6)
    """The same for the fewest sheets: where no bucket has an answer, the whole model is solved."""

    # The bound: the raster's dynamic programme and column generation
    raster_sums: int = 4_000
    """Sums of piece sizes along a side, beyond which only those of few pieces are places."""
    raster_points: int = 300
    """Raster points along a side, beyond which they are thinned and the bound is found apart:
    exactly, as far as the next two go."""
    raster_cells: int = 16_000_000
    """Places of a sheet, widths by heights, beyond which not all are looked at."""
    raster_steps: int = 2_000_000_000
    """Parts put together at most in one raster's search for better sheets at all its places."""
    pricing_rounds: int = 400
    """Rounds of column generation at most."""

    paper_bound_rounds: int = 40
    """Times at most that a paper is found to be asked for more than its sheets give."""
    paper_bound_effort: Effort = Effort(nodes=400, checks=400)
    """For the model that counts whole sheets paper by paper."""

    # Every pattern of a sheet, for a proof
    patterns: int = 5_000
    """Ways to fill one rectangle at most, of which none betters another."""
    pattern_splits: int = 60_000
    """Pairs of parts that rectangles may be cut into, all in all."""
    pattern_sums: int = 400_000
    """Ways of two parts put together, all in all."""

    # The fewest sheets and cuts: arc flow over the cut graph
    rows: Reach = Reach(levels=3, leftovers=False, most=6_000)
    """The usual graph: rows, pieces, trims."""
    deeper: Reach = Reach(levels=6, leftovers=True, most=1_200, again=True)
    """Tried as well where the usual one is small."""
    strict: Reach = Reach(levels=3, leftovers=False, most=6_000, strict=True)
    """Used where the usual one grows too large."""
    deeper_columns: int = 200
    """Columns of the usual model up to which the deeper one is tried as well."""
    effort: Effort = Effort(nodes=40, checks=60, gap=0.1)
    """For the arc-flow model of a subproblem: its strokes are bettered later, at the table."""
    last_effort: Effort = Effort(work=0.5)
    """Where pieces wanted only if they fit are asked for, and branch and bound has no answer."""
    rough_effort: Effort = Effort(nodes=10, checks=40, gap=0.02)
    """For a model whose answer is only shared out further, or that tidies one sheet."""
    columns: int = 3_000
    """Columns of the whole subproblem's model at most."""
    columns_wanted: int = 8_000
    """The same where pieces wanted only if they fit are asked for."""
    columns_apart: int = 1_400
    """The same where some papers are cut each in its own way."""
    sheet_columns: int = 1_200
    """Columns of the model that tidies one sheet."""
    partitions: int = 6
    """Ways tried to say which of like papers are cut alike."""

    # Known patterns shared among papers
    sharing_effort: Effort = Effort(nodes=500, checks=200)
    """For sharing known patterns."""
    exact_effort: Effort = Effort(nodes=2_000, checks=1_000)
    """For sharing every pattern there is, to prove that fewer sheets cannot do."""
    sharing_cuts_gap: float = 0.02
    """How near to the fewest cuts a sharing must come, as a share of them."""
    shared_columns: int = 1_000
    """Patterns up to which the fewest cuts are looked for among all; else by a kernel search."""

    # The residual heuristic
    fillings: int = 16
    """Fillings made at once."""
    unsettled: tuple[int, ...] = (0, 1, 2, 4, 8, 16)
    """How many of the bound's whole sheets are left open, one handful of fillings each."""
    filled_sheets: int = 48
    """Sheets filled at most beyond those settled."""
    gap_passes: int = 3
    """How often what is left over of a sheet is filled again."""

    # The least time at the table
    every_cut: Reach = Reach(levels=0, leftovers=True, most=1_500, every=True)
    """The graph of all true cuts, where that is small."""
    every_cut_of_few: Reach = Reach(levels=0, leftovers=True, most=5_000, every=True)
    """The same of few pieces."""
    deep_rows: Reach = Reach(levels=3, leftovers=True, most=2_600)
    """The graph of true cuts if it is small: whatever remains of a row is turned and cut on."""
    true_rows: Reach = Reach(levels=3, leftovers=False, most=2_000)
    """Else rows, pieces, trims ..."""
    turned_rows: Reach = Reach(levels=2, leftovers=True, most=1_000)
    """... and rows whose remainder is turned and cut on, without trims."""
    rows_of_many: int = 3
    """How many times as large both may grow, where neither is within its size."""
    deep_arcs: int = 1_200
    """Arcs of either graph that lead to pieces, beyond which it is not small."""
    joint_arcs: int = 600
    """Arcs of all groups together up to which one model holds them all."""
    apart_arcs: int = 2_000
    """Arcs of like papers that must be told apart, up to which each is cut in any way there is."""
    turning_arcs: int = 300
    """Arcs of a model up to which it counts the turns of the sheets too."""
    ordered_settings: int = 9
    """Settings that wait for one another, up to which the cost of their order is worked out."""
    circle_rounds: int = 4
    """How often a model is asked again with the circles of marks that its answer had."""
    tiny_arcs: int = 120
    """Arcs of the graph of rows up to which all true cuts are looked at."""
    few_pieces: int = 16
    """Pieces up to which all true cuts are looked at, and turns too."""
    other_answers: int = 16
    """How many are drawn at most."""
    idle_answers: int = 6
    """Answers drawn in a row that teach nothing, after which no more are."""
    few_arcs: int = 1_400
    """Arcs of a model of few pieces up to which it is solved with more effort."""
    few_effort: Effort = Effort(work=0.6, gap=0.002)
    """For each figure of such a model."""
    marks_effort: Effort = Effort(nodes=10, checks=60, gap=0.002)
    """For the whole model, where the fewest marks are wished for."""
    some_pieces: int = 200
    """Pieces up to which all cuts at the marks set are tried too, once circles are known ..."""
    again_effort: Effort = Effort(nodes=4, checks=20, gap=0.002, wide=1_400)
    """... with this effort."""
    other_effort: Effort = Effort(work=0.3, gap=0.5)
    """For each answer drawn."""
    least_arcs: int = 3_000
    """Arcs of a model up to which it is worked out what no way of stacking goes below."""
    least_effort: Effort = Effort(nodes=1, checks=20, gap=0.002, wide=400)
    """For that ..."""
    least_gap: float = 0.01
    """... unless the relaxed program comes this near, as a share of the best."""
    offcut_tries: int = 2
    """How often at most a larger offcut is asked for."""
    offcut_effort: Effort = Effort(nodes=5, checks=12, gap=1.0, wide=100)
    """For each offcut that is asked for."""
    few_offcut_effort: Effort = Effort(work=0.1, gap=0.02)
    """For the largest of all, where the pieces are few."""

    # The order of the marks
    sequence_states: int = 400
    """States looked at for the shortest sequence."""
    beam: int = 16
    """Sequences kept side by side, where a few good ones are enough."""
    broken_marks: int = 6
    """Marks set twice up to which the least is worked out exactly."""
    held_orders: int = 12
    """Ways tried to keep a wide part to hold by."""

    # Mixing
    dealt_card_types: int = 6_000
    """Card types among which a deal chooses; with more, cards are coloured one by one."""
    dealing_effort: Effort = Effort(nodes=100)
    """For the most different cards."""
    deals_drawn: int = 8
    """Deals drawn at most to find a new one."""
    card_round: int = 240
    """Cards put in order at once; more are rounds of that many."""
    cards_in_every_order: int = 6
    """Cards up to which every order is looked at."""
    card_looks: int = 4_000_000
    """Layers compared while cards are swapped for a better order."""

    # Suggestions
    suggestions_planned: int = 16
    """Changes planned at most to see whether one would be enough."""


DEFAULT = Limits()

QUICK = Limits(
    patterns=500,
    pattern_splits=6_000,
    pattern_sums=40_000,
    deeper_columns=0,
    effort=Effort(nodes=5, checks=20, gap=0.02),
    columns=600,
    columns_wanted=600,
    columns_apart=300,
    sharing_effort=Effort(nodes=50, checks=40),
    exact_effort=Effort(nodes=20, checks=20),
)
"""For a survey of many projects."""

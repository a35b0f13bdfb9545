"""What a post makes of a letter: each class, each of its rules passed or failed, how near."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from workbench.measure.ranges import Range
from workbench.post.rules import Limit, Measured, Post, PostalClass, Rule

Verdict = Literal["passed", "failed", "open"]
# A letter this near to a limit is told to be near it. Our own choice, no source.
_NEAR = Fraction(1, 50)


@dataclass(frozen=True, slots=True)
class Letter:
    """A card as it is posted: sides and thickness in millimetres, weight in grams.

    `length` is the longer side; `shape` the side along the address divided by the other.
    """

    length: Fraction
    height: Fraction
    thickness: Range
    grams: Range
    unevenness: Range
    lumps: int
    shape: Fraction
    enveloped: bool

    def measure(self, of: Measured) -> Range:
        """The figure that a rule speaks of, in millimetres, grams or as a bare number."""
        figures: dict[Measured, Range] = {
            "length": Range.exactly(self.length),
            "height": Range.exactly(self.height),
            "thickness": self.thickness,
            "weight": self.grams,
            "shape": Range.exactly(self.shape),
            "unevenness": self.unevenness,
            "lumps": Range.exactly(self.lumps),
            "length + height + thickness": Range.exactly(self.length + self.height)
            + self.thickness,
        }
        return figures[of]


@dataclass(frozen=True, slots=True)
class RuleResult:
    """One rule and the letter's `figure`: passed, failed, or open while a figure is missing.

    `edge` is the nearer limit, which is the least allowed where `from_least`. `beyond` is how far
    inside it the figure is at the worst, below nothing where it lies outside. A figure that passes
    only by the rule's tolerance lies outside and passes.
    """

    rule: Rule
    figure: Range
    verdict: Verdict
    edge: Limit
    from_least: bool
    beyond: Fraction

    @property
    def near(self) -> bool:
        """Whether it passes, and hardly."""
        return self.verdict == "passed" and self.beyond <= self.edge.value * _NEAR != 0


@dataclass(frozen=True, slots=True)
class ClassResult:
    """One class with the results of all its rules that apply."""

    postal_class: PostalClass
    rules: tuple[RuleResult, ...]

    @property
    def verdict(self) -> Verdict:
        """Failed where one rule is, else open where one is, else passed."""
        found = {result.verdict for result in self.rules}
        return "failed" if "failed" in found else "open" if "open" in found else "passed"


@dataclass(frozen=True, slots=True)
class Judgement:
    """Every class of a post that a letter could go by, the cheapest first."""

    post: Post
    classes: tuple[ClassResult, ...]

    @property
    def sure(self) -> ClassResult | None:
        """The cheapest class whose rules it surely keeps."""
        return next((each for each in self.classes if each.verdict == "passed"), None)

    @property
    def hoped(self) -> ClassResult | None:
        """The cheapest that it may go by, whatever the missing figures turn out to be."""
        return next((each for each in self.classes if each.verdict != "failed"), None)

    def rank(self, result: ClassResult | None) -> int:
        """Where a class of this post stands, from the cheapest, 0; none at all comes last."""
        return self.classes.index(result) if result else len(self.classes)


def judge(letter: Letter, post: Post) -> Judgement:
    """What `post` makes of `letter`, class by class."""
    posted = "in an envelope" if letter.enveloped else "without an envelope"
    return Judgement(
        post,
        tuple(
            ClassResult(
                each, tuple(_result(rule, letter) for rule in each.rules if _applies(rule, letter))
            )
            for each in post.classes
            if each.posted in (None, posted)
        ),
    )


def _applies(rule: Rule, letter: Letter) -> bool:
    return not rule.over or any(
        letter.measure(of).high > limit.value for of, limit in rule.over.items()
    )


def _result(rule: Rule, letter: Letter) -> RuleResult:
    figure = letter.measure(rule.of)
    ends = []
    if rule.least:
        ends.append(
            (figure.low - rule.least.value, figure.high - rule.least.value, rule.least, True)
        )
    if rule.most:
        ends.append((rule.most.value - figure.high, rule.most.value - figure.low, rule.most, False))
    leeway = rule.tolerance.value if rule.tolerance else 0
    if all(worst >= -leeway for worst, *_ in ends):
        verdict: Verdict = "passed"
    elif any(best < -leeway for _, best, *_ in ends):
        verdict = "failed"
    else:
        verdict = "open"
    # The nearer limit by its share of itself, as lengths and weights differ in size.
    beyond, _, edge, from_least = min(ends, key=lambda end: end[0] / (end[2].value or 1))
    return RuleResult(rule, figure, verdict, edge, from_least, beyond)

"""What to take care of, said once in a batch: at the first step where it applies."""

from collections.abc import Callable, Iterator
from typing import NamedTuple

from workbench.craft.trimmer import Trimmer
from workbench.making.plan_index import PlanIndex
from workbench.measure.length import Length
from workbench.planning import Assemble, Cut, PartId, Step


class _Caution(NamedTuple):
    """One row of words for the narrowest screen, and what there is more to say of it."""

    words: str
    more: str
    applies: Callable[[PlanIndex, Step, Trimmer], bool]


def _is_cut(index: PlanIndex, step: Step, trimmer: Trimmer) -> bool:
    del index, trimmer
    return isinstance(step, Cut)


def _is_narrow(index: PlanIndex, step: Step, trimmer: Trimmer) -> bool:
    return any(min(widths) < trimmer.hold for widths in _measured(index, step))


def _is_unheld(index: PlanIndex, step: Step, trimmer: Trimmer) -> bool:
    return any(max(widths) < trimmer.hold for widths in _measured(index, step))


def _follows_cutting(index: PlanIndex, step: Step, trimmer: Trimmer) -> bool:
    del trimmer
    if isinstance(step, Cut):
        return False
    return any(isinstance(earlier, Cut) for earlier in index.plan.steps[: step.n - 1])


def _is_glued(index: PlanIndex, step: Step, trimmer: Trimmer) -> bool:
    del index, trimmer
    return isinstance(step, Assemble)


# Sources: HSE guidance on paper guillotines and the US Navy drafting manual for the blade; the
# label of the glue for the rest. Local rules and the makers' own instructions come first.
_CAUTIONS = (
    _Caution(
        "Blade: cut away from you, hands behind the guard.",
        "Nobody else's hand near; heed the trimmer's manual.",
        _is_cut,
    ),
    _Caution(
        "Narrow strip: hold the wide side, let it fall.",
        "Never reach after it.",
        _is_narrow,
    ),
    _Caution(
        "Nothing wide to hold: press down with a ruler.",
        "Fingers stay behind the guard.",
        _is_unheld,
    ),
    _Caution(
        "Cutting is done: cover the blade, or latch it.",
        "A used blade is wrapped before it is binned.",
        _follows_cutting,
    ),
    _Caution(
        "Glue and heat: fresh air, no flame near.",
        "Follow the labels of glues, sprays and heat tools.",
        _is_glued,
    ),
    # 16 CFR 1501.4: what a cylinder 1.25 in across holds is small; paper itself is exempt.
    _Caution(
        "Small parts: no gems or buttons for under-threes.",
        "Not where a child under three may get the card.",
        _is_glued,
    ),
)


def cautions(index: PlanIndex, step: Step, trimmer: Trimmer) -> tuple[str, ...]:
    """The cautions that apply at `step` and at none before it."""
    steps = index.plan.steps

    def applied_before(caution: _Caution) -> bool:
        # Backwards, as the step before is most often of the same kind.
        return any(caution.applies(index, steps[at], trimmer) for at in range(step.n - 2, -1, -1))

    return tuple(
        caution.words
        for caution in _CAUTIONS
        if caution.applies(index, step, trimmer) and not applied_before(caution)
    )


def all_cautions(index: PlanIndex, trimmer: Trimmer) -> tuple[str, ...]:
    """Every caution of the batch, at length."""
    usual = (
        f"{caution.words} {caution.more}"
        for caution in _CAUTIONS
        if any(caution.applies(index, step, trimmer) for step in index.plan.steps)
    )
    own = (f"{step.name}: {step.caution}" for step in index.project.steps if step.caution)
    return (*usual, *own)


def _measured(index: PlanIndex, step: Step) -> Iterator[tuple[Length, Length]]:
    """How wide the two halves of each part are, along the side that a cut measures."""
    if isinstance(step, Cut):
        for first, rest in step.gives:
            yield _along(index, first, step), _along(index, rest, step)


def _along(index: PlanIndex, label: PartId, cut: Cut) -> Length:
    return index.rectangles[label].size.along(cut.measure)

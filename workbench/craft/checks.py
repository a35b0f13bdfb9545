"""Checks of a project: what is unlikely to be meant, why it matters, and an edit that mends it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, partial
from math import ceil

from workbench.craft.batch_checks import batch_findings
from workbench.craft.card import Piece, Place
from workbench.craft.errors import CraftError
from workbench.craft.extent import Borders, Extent
from workbench.craft.finding import Finding, FindingKind
from workbench.craft.fitting import (
    aligned,
    changed,
    nudged,
    resized,
    spread_over,
)
from workbench.craft.geometry import (
    Placement,
    also_under,
    front_extent,
    laid_out,
)
from workbench.craft.mends import cut_from, glued_to, laid_apart, pulled_in, uncovered
from workbench.craft.paper import Size
from workbench.craft.project import Project, fits
from workbench.craft.surface import hidden
from workbench.craft.trimmer import TOLERANCE, Trimmer
from workbench.measure.length import ZERO, Length
from workbench.measure.writing import Graduation, nearest_mark, write_near

_LIKE_A_SLIP = "So small a difference looks like a slip"


def findings(
    project: Project, trimmer: Trimmer | None = None, tolerance: Length = TOLERANCE
) -> tuple[Finding, ...]:
    """Find everything about a project that is unlikely to be meant.

    What cannot be at all, such as too large a corner radius, is refused where it is entered.

    Args:
        project: what to check.
        trimmer: the maker's, for its rule and the narrowest strip it holds; None for the defaults.
        tolerance: how far a border may be off and still look even to the maker.

    Returns:
        The findings on pieces from the back to the front, then those on the whole card, the stock
        and the rules; lengths in their sentences are in the project's units.
    """
    return tuple(_Checker(project, trimmer or Trimmer(), tolerance).find())


@dataclass(frozen=True)
class _Checker:
    project: Project
    trimmer: Trimmer
    tolerance: Length

    def find(self) -> Iterator[Finding]:
        for at, placed in enumerate(self.stack):
            later = [other for other in self.stack[at + 1 :] if other.inside == placed.inside]
            yield from self._sticks_out(placed)
            yield from self._hidden(placed, later)
            yield from self._also_on(placed)
            if placed.number == 1 or placed.piece.spread == "placed":
                yield from self._thin_border(placed)
                yield from self._uneven_border(placed)
                yield from self._between_marks(placed)
            if placed.number == 1:
                yield from self._on_one_spot(placed)
                yield from self._narrow(placed)
                yield from self._papers(placed)
        yield from batch_findings(self.project)

    @cached_property
    def stack(self) -> tuple[Placement, ...]:
        return laid_out(self.project)

    @property
    def graduation(self) -> Graduation:
        return self.trimmer.graduations[self.project.units]

    @property
    def least_border(self) -> Length:
        """The first mark of the rule that is no nearer than the tolerance."""
        interval = self.graduation.interval
        return interval * ceil(self.tolerance.mm / interval.mm)

    def _finding(
        self,
        kind: FindingKind,
        piece: str,
        words: tuple[str, str, str],
        mending: Callable[[], Project],
    ) -> Finding:
        """`words` say what is wrong, why it matters, and how it is mended."""
        try:
            mended = mending()
        except CraftError:
            mended = None
        return Finding(kind, piece, *words, mended)

    def _sticks_out(self, placed: Placement) -> Iterator[Finding]:
        front = front_extent(self.project)
        out = -front.borders(placed.extent).least
        if out > ZERO:
            name, number = placed.piece.name, placed.number
            yield self._finding(
                "sticks out",
                name,
                (
                    f"{_it(placed)} sticks out {self._said(out)} over the edge of the card",
                    "It would catch in the envelope, and be seen from behind",
                    "move it in, or make it as large as there is room",
                ),
                lambda: pulled_in(self.project, name, number),
            )

    def _hidden(self, placed: Placement, later: list[Placement]) -> Iterator[Finding]:
        piece = placed.piece
        name = piece.name
        if self._crowded(piece) or not hidden(placed, later):
            return
        carried = any(other.on == name for other in self.project.pieces)
        if piece.spread == "placed" and piece.per_card > 1 and not carried:
            mend = "take that one off the card"
        elif piece.spread == "loose" or piece.per_card == 1:
            mend = "take it away, and glue what it carries to what lies below"
        else:
            mend = "lay them elsewhere"
        yield self._finding(
            "hidden",
            name,
            (
                f"the pieces in front of {_it(placed)} hide it completely",
                "It would take paper that nobody ever sees",
                mend,
            ),
            lambda: uncovered(self.project, placed, carried=carried),
        )

    def _spots(self, piece: Piece) -> set[Extent]:
        return {each.extent for each in self.stack if each.piece is piece}

    def _crowded(self, piece: Piece) -> bool:
        """Whether it is laid out by a rule that puts several of it on one spot."""
        by_rule = piece.spread in ("mirrored", "in a row")
        return by_rule and len(self._spots(piece)) < piece.per_card

    def _on_one_spot(self, placed: Placement) -> Iterator[Finding]:
        """Several of a piece that lie on one another, told once for all of them."""
        piece = placed.piece
        if not self._crowded(piece):
            return
        spots = len(self._spots(piece))
        where = "on one spot" if spots == 1 else f"on {spots} spots"
        yield self._finding(
            "hidden",
            piece.name,
            (
                f"the {piece.per_card} on a card lie {where} and hide one another",
                "It would take paper that nobody ever sees",
                "spread them out, each in its place",
            ),
            lambda: laid_apart(self.project, piece),
        )

    def _also_on(self, placed: Placement) -> Iterator[Finding]:
        """A piece all of which lies on something larger than itself that it is not glued to."""
        over = [
            other
            for other in also_under(self.project, placed)
            if other.extent.borders(placed.extent).least >= ZERO and other.extent != placed.extent
        ]
        if not over:
            return
        highest = over[-1]
        name, under = placed.piece.name, highest.piece.name
        yield self._finding(
            "also on",
            name,
            (
                f"{_it(placed)} is glued to the {placed.piece.on}, but it also lies on the {under}",
                "It cannot stick to what it does not touch",
                f"glue it to the {under}, where it lies",
            ),
            lambda: glued_to(self.project, placed, highest),
        )

    def _thin_border(self, placed: Placement) -> Iterator[Finding]:
        name, extent, bearer = placed.piece.name, placed.extent, self._bearer(placed)
        borders = bearer.borders(extent)
        thin = [
            border
            for border in (borders.left, borders.bottom, borders.right, borders.top)
            if ZERO < border < self.tolerance
        ]
        if thin:
            least = self.least_border

            def kept(border: Length) -> Length:
                return least - border if ZERO < border < least else ZERO

            inner = Extent(
                extent.left + kept(borders.left),
                extent.bottom + kept(borders.bottom),
                extent.right - kept(borders.right),
                extent.top - kept(borders.top),
            )
            several = placed.piece.spread == "placed"
            far = f"for a border of {self._said(least)}"
            yield self._finding(
                "thin border",
                name,
                (
                    f"{_it(placed)} leaves a border of only {self._said(min(thin))}",
                    f"Cutting and gluing are rarely truer than {self._said(self.tolerance)}",
                    f"move it in, {far}" if several else f"make it smaller, {far}",
                ),
                lambda: (
                    self._moved_in(placed, borders, kept)
                    if several
                    else spread_over(self.project, name, inner)
                ),
            )

    def _moved_in(
        self, placed: Placement, borders: Borders, kept: Callable[[Length], Length]
    ) -> Project:
        """One of several, which stays as large as the others, away from the borders it crowds."""
        right = kept(borders.left) - kept(borders.right)
        up = kept(borders.bottom) - kept(borders.top)
        return nudged(self.project, placed.piece.name, right, up, placed.number)

    def _uneven_border(self, placed: Placement) -> Iterator[Finding]:
        name = placed.piece.name
        borders = self._bearer(placed).borders(placed.extent)
        if borders.least <= ZERO:
            return
        level, upright = borders.left - borders.right, borders.bottom - borders.top
        centred = partial(aligned, self.project, name, number=placed.number)
        yield from self._off_centre(
            placed, level, ("left and right", "left to right"), partial(centred, across="centre")
        )
        yield from self._off_centre(
            placed, upright, ("below and above", "bottom to top"), partial(centred, up="centre")
        )
        aside = borders.left - borders.bottom
        alone = placed.piece.spread != "placed"
        if alone and not level and not upright and ZERO < abs(aside) <= self.tolerance:
            border = max(borders.left, borders.bottom)
            bearer = self._bearer(placed)
            inner = Extent(
                bearer.left + border,
                bearer.bottom + border,
                bearer.right - border,
                bearer.top - border,
            )
            yield self._finding(
                "uneven border",
                name,
                (
                    f"its borders at the sides and above differ by only {self._said(abs(aside))}",
                    _LIKE_A_SLIP,
                    f"make it smaller, for {self._said(border)} all round",
                ),
                lambda: spread_over(self.project, name, inner),
            )

    def _off_centre(
        self,
        placed: Placement,
        off: Length,
        words: tuple[str, str],
        centred: Callable[[], Project],
    ) -> Iterator[Finding]:
        """Two borders that face each other, the one wider by `off`; what they and the mend say."""
        sides, ways = words
        if ZERO < abs(off) <= self.tolerance:
            wrong = f"{_its(placed)} borders {sides} differ by only {self._said(abs(off))}"
            yield self._finding(
                "uneven border",
                placed.piece.name,
                (wrong, _LIKE_A_SLIP, f"centre it from {ways}"),
                centred,
            )

    def _narrow(self, placed: Placement) -> Iterator[Finding]:
        piece, hold = placed.piece, self.trimmer.hold
        if min(piece.size.width, piece.size.height) < hold:
            least = self._marked(hold)
            if least < hold:
                least += self.graduation.interval
            size = Size(max(piece.size.width, least), max(piece.size.height, least))
            yield self._finding(
                "narrow",
                piece.name,
                (
                    f"it is narrower than {self._said(hold)}, the narrowest strip of your trimmer",
                    "Your fingers need something to hold, clear of the blade",
                    f"make it {self._said(least)} wide",
                ),
                lambda: changed(self.project, resized(piece, size)),
            )

    def _between_marks(self, placed: Placement) -> Iterator[Finding]:
        piece = placed.piece
        size = Size(
            max(self._marked(piece.size.width), self.graduation.interval),
            max(self._marked(piece.size.height), self.graduation.interval),
        )
        was = piece.place_of(placed.number)
        x, y = was.x, was.y
        place = Place(
            self._marked(x) if isinstance(x, Length) else x,
            self._marked(y) if isinstance(y, Length) else y,
        )
        if placed.number > 1:
            size = piece.size
        if (size, place) != (piece.size, was):
            what = "size" if size != piece.size else "place"
            yield self._finding(
                "between marks",
                piece.name,
                (
                    f"{_its(placed)} {what} lies between two marks of your rule",
                    f"Your rule is divided into {self._said(self.graduation.interval)}",
                    "take the nearest marks",
                ),
                lambda: changed(self.project, resized(piece, size).placed_at(place, placed.number)),
            )

    def _papers(self, placed: Placement) -> Iterator[Finding]:
        piece = placed.piece
        for name in piece.papers:
            paper = self.project.paper(name)
            if fits(paper, piece.size):
                continue
            sideways = paper.usable.holds(piece.size.turned)
            rest = tuple(other for other in piece.papers if other != name)
            yield self._finding(
                "wrong way" if sideways else "too large",
                piece.name,
                (
                    f'it fits on "{name}" only sideways'
                    if sideways
                    else f'it is larger than a sheet of "{name}"',
                    "The print of that paper would run the wrong way"
                    if sideways
                    else "It is never cut from that paper",
                    f'leave "{name}" out of its papers',
                ),
                partial(cut_from, self.project, piece, rest),
            )

    def _bearer(self, placed: Placement) -> Extent:
        under = (other.extent for other in self.stack if other.piece.name == placed.piece.on)
        return next(under, front_extent(self.project))

    def _marked(self, length: Length) -> Length:
        return nearest_mark(length, self.graduation).mark

    def _said(self, length: Length) -> str:
        return write_near(length, self.project.units)


def _it(placed: Placement) -> str:
    """The piece, or which of several on a card."""
    return f"number {placed.number}" if _one_of_several(placed) else "it"


def _its(placed: Placement) -> str:
    return f"number {placed.number}'s" if _one_of_several(placed) else "its"


def _one_of_several(placed: Placement) -> bool:
    return placed.number > 1 or placed.piece.spread == "placed"

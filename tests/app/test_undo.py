"""Undo without limit: whatever was changed, the first file comes back exactly."""

import random
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from tests.making.plans import GULL, HARBOUR, NET, inches, size
from workbench.app.edits import (
    with_offcut,
    with_paper,
    with_piece,
    with_piece_moved,
    without_offcut,
    without_piece,
)
from workbench.app.session import Session
from workbench.craft.card import Piece
from workbench.craft.errors import CraftError
from workbench.craft.fitting import aligned, bordered, copied, flush, nudged, taken_away
from workbench.craft.paper import Offcut
from workbench.craft.project import Project
from workbench.craft.resizing import in_size
from workbench.measure.length import Length
from workbench.store.dump import project_text
from workbench.store.project_file import read_project_file, write_project

Edit = Callable[[Project, random.Random], Project]


def _name(project: Project, chance: random.Random) -> str:
    return chance.choice([piece.name for piece in project.pieces] or ["none"])


def _some(chance: random.Random) -> Length:
    return inches("1/16") * chance.randint(-8, 16)


EDITS: tuple[Edit, ...] = (
    lambda p, c: with_piece(p, Piece(f"leaf {c.random()}x", size(2, 1), (NET,)), at=0),
    lambda p, c: without_piece(p, _name(p, c)),
    lambda p, c: with_piece_moved(p, _name(p, c), c.choice((-1, 1))),
    lambda p, c: copied(p, _name(p, c)),
    lambda p, c: taken_away(p, _name(p, c)),
    lambda p, c: nudged(p, _name(p, c), _some(c), _some(c)),
    lambda p, c: bordered(p, _name(p, c), abs(_some(c))),
    lambda p, c: aligned(p, _name(p, c), across="left", up="top"),
    lambda p, c: flush(p, _name(p, c), _name(p, c), "right"),
    lambda p, c: in_size(p, size(c.choice((3, 4)), c.choice((4, 5)))),
    lambda p, c: with_offcut(p, Offcut(GULL, size(c.randint(1, 4), 2))),
    lambda p, _: without_offcut(p, 0),
    lambda p, c: with_paper(p, replace(p.paper(NET), sheets=c.randint(0, 9)), NET),
    lambda p, c: replace(p, title=f"Harbour {c.random()}"),
    lambda p, c: replace(p, card=replace(p.card, count=c.randint(1, 60))),
)


@pytest.mark.parametrize("seed", range(3))
def test_five_hundred_random_edits_taken_back_give_the_first_file(seed: int) -> None:
    chance = random.Random(seed)
    session = Session.opened(HARBOUR, None)
    first = project_text(session.project)
    texts = [first]
    while len(texts) <= 500:
        try:
            project = chance.choice(EDITS)(session.project, chance)
        except (CraftError, KeyError):
            continue
        session = session.with_project(project)
        texts.append(project_text(project))
    last = session
    for text in reversed(texts):
        assert project_text(session.project) == text
        session = session.undone()
    assert project_text(session.project) == first
    assert not session.changed
    for _ in range(500):
        session = session.redone()
    assert session == last


def test_saved_in_between_and_taken_back_the_file_is_the_first_to_the_byte(tmp_path: Path) -> None:
    path, chance = tmp_path / "harbour.toml", random.Random(7)
    first = f"# in the maker's words\n{project_text(HARBOUR)}# and the last word\n".encode()
    path.write_bytes(first)
    found = read_project_file(path)
    session = Session.opened(found.project, path, found)
    while len(session.past) < 500:
        try:
            session = session.with_project(chance.choice(EDITS)(session.project, chance))
        except (CraftError, KeyError):
            continue
        if chance.random() < 0.1:
            written = write_project(path, session.project, session.source)
            session = session.saved_at(path, written)
            assert read_project_file(path).project == session.project
    for _ in range(500):
        session = session.undone()
    write_project(path, session.project, session.source)
    assert path.read_bytes() == first


def test_a_new_change_ends_what_could_be_made_again() -> None:
    other = replace(HARBOUR, title="Fog")
    session = Session.opened(HARBOUR, None).with_project(other).undone()
    assert session.redone().project == other
    changed = session.with_project(replace(HARBOUR, title="Tide"))
    assert changed.redone() == changed
    assert Session.opened(HARBOUR, None).undone() == Session.opened(HARBOUR, None)


def test_no_length_drifts_on_the_way_there_and_back() -> None:
    """A hundred nudges right and left by a third of a millimetre are none."""
    third = Length(Fraction(1, 3))
    project = nudged(HARBOUR, "panel", third, third)
    for step in [third] * 100 + [-third] * 100:
        project = nudged(project, "panel", step, third - third)
    assert project == nudged(HARBOUR, "panel", third, third)

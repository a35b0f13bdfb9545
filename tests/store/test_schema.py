"""Every field of the craft's dataclasses stands in the project file, and every example is right."""

import tomllib
from dataclasses import fields

import pytest

from tests.store.bad_files import GOOD
from workbench.store import schema
from workbench.store.codecs import Spot
from workbench.store.load import project_from_text
from workbench.store.schema import PIECE, PROJECT
from workbench.store.tables import BoundKey, Table, codec_of

TABLES = {name: table for name, table in vars(schema).items() if isinstance(table, Table)}
EXAMPLES = [
    pytest.param(one, example, id=f"{name}, {example}")
    for name, table in TABLES.items()
    for one in table.keys
    if not one.key.heading
    for example in one.key.example.split(" or ")
]


@pytest.mark.parametrize("table", TABLES.values(), ids=TABLES)
def test_every_field_has_its_key(table: Table) -> None:
    assert {one.field for one in table.keys} == {field.name for field in fields(table.made)}
    assert len(set(table.names)) == len(table.names)


@pytest.mark.parametrize(("one", "example"), EXAMPLES)
def test_every_example_says_its_key_and_can_be_read(one: BoundKey, example: str) -> None:
    held = tomllib.loads(example)
    assert list(held) == [one.key.name]
    one.read(held, Spot("it", held))


def test_headings_stand_in_the_order_in_which_they_are_written() -> None:
    assert list(PROJECT.headings()) == [
        "[card]",
        "[[papers]]",
        "[[offcuts]]",
        "[[pieces]]",
        "[[extras]]",
        "[[envelopes]]",
        "[post]",
        "[imprint]",
        "[mixing]",
        "[[mixing.cards]]",
        "[[steps]]",
    ]


def test_what_a_key_holds_unsaid_is_left_out() -> None:
    project = project_from_text(GOOD, "it")
    assert list(PIECE.write(project.piece("panel"), "in")) == [
        "name",
        "size",
        "from",
        "place",
        "round",
    ]


def test_a_type_without_a_codec_is_refused() -> None:
    with pytest.raises(TypeError, match="codec"):
        codec_of(complex)

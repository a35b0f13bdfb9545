"""A dataclass as a table, by the list of its keys."""

from dataclasses import dataclass
from typing import Literal

import pytest

from workbench.craft.errors import CraftError
from workbench.measure.length import Length
from workbench.store.codecs import Fixed, Listed, Spot, Word, WordOrLength
from workbench.store.errors import ProjectFileError
from workbench.store.tables import Key, Table, codec_of


@dataclass(frozen=True)
class Twig:
    name: str
    length: Length
    leaves: int = 3
    bent: bool = False

    def __post_init__(self) -> None:
        if self.leaves < 0:
            raise CraftError("twig, leaves", "there are less than none", "count them")


TWIG = Table(
    Twig,
    Key("name", 'name = "oak"'),
    Key("long", "long = 4", field="length"),
    Key("leaves", "leaves = 3"),
    Key("bent", "bent = true", always=True),
    numbered=True,
)
OAK = Twig("oak", Length.of(4, "mm"))


def test_what_is_written_is_read_back_and_the_usual_is_left_unsaid() -> None:
    said = TWIG.write(OAK, "mm")
    assert list(said) == ["name", "long", "bent"]
    assert TWIG.read(said, Spot("it", {}, "mm")) == OAK


@pytest.mark.parametrize(
    ("table", "wrong"),
    [
        ({"name": "oak"}, "long: it is missing; add long = 4"),
        ({"name": "oak", "long": 4, "leafs": 3}, 'did you mean "leaves"'),
        ({"name": "oak", "long": 4, "leaves": -1}, "leaves: there are less than none"),
        (["oak", 4], "it should be a table, not a list"),
    ],
)
def test_what_is_no_such_table_is_refused(table: object, wrong: str) -> None:
    with pytest.raises(ProjectFileError) as caught:
        TWIG.read(table, Spot("it", {"twigs": [table]}, "mm", ("twigs", 0)))
    assert wrong in str(caught.value)
    assert "twigs[1]" in str(caught.value)


def test_codecs_are_those_of_the_annotated_types() -> None:
    assert codec_of(Twig) is TWIG
    assert codec_of(tuple[Twig, ...]) == Listed(TWIG)
    assert codec_of(Literal["a", "b"] | None) == Word(("a", "b"))
    assert codec_of(Literal["a"] | Length) == WordOrLength(("a",))
    assert isinstance(codec_of(tuple[str, str]), Fixed)


def test_a_key_is_found_by_its_name() -> None:
    assert TWIG["long"].field == "length"
    assert TWIG.name_of(OAK) == "oak"
    with pytest.raises(KeyError):
        TWIG["width"]

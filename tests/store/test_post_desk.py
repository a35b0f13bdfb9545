"""The maker's own rules and envelopes in the workshop."""

from pathlib import Path

import pytest

from workbench.measure.length import Length
from workbench.post import Desk
from workbench.post.rule_files import built_in_posts
from workbench.store.database import Workshop
from workbench.store.errors import WorkshopError
from workbench.store.post_desk import FOLDER, copy_rules, desk_of
from workbench.store.preferences import Preferences

OWN = """
name = "Lighthouse post"
source = "a notice"
seen = 2026-11-02
[[classes]]
name = "letter"
rules = [{ of = "weight", most = "30 g" }]
"""


def written(name: str, text: str) -> Path:
    folder = Workshop.open().folder / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8", errors="surrogateescape")
    return folder / name


def test_without_files_of_ones_own_the_built_in_ones_hold() -> None:
    assert desk_of(Workshop.open(), Preferences()) == Desk()
    assert not Workshop.open().exists


def test_a_copy_changes_nothing_until_it_is_changed() -> None:
    path = copy_rules(Workshop.open(), "uk")
    assert path.name == "uk.toml"
    assert desk_of(Workshop.open(), Preferences()) == Desk()
    path.write_text(path.read_text(encoding="utf-8").replace("100 g", "90 g"), encoding="utf-8")
    assert copy_rules(Workshop.open(), "uk") == path  # and is not copied over
    weight = desk_of(Workshop.open(), Preferences()).posts["uk"].classes[0].rules[-1]
    assert weight.most
    assert weight.most.value == 90


def test_a_post_and_an_envelope_of_ones_own_are_added() -> None:
    written("lighthouse.toml", OWN)
    written(
        "envelopes.toml",
        'seen = 2026-11-02\n[[tables]]\nname = "mine"\nsource = "measured"\n'
        '[tables.envelopes]\n"US A2" = ["5 in", "6 in"]\n',
    )
    desk = desk_of(Workshop.open(), Preferences(post="lighthouse"))
    assert desk.posts["lighthouse"].name == "Lighthouse post"
    assert set(built_in_posts()) < set(desk.posts)
    assert desk.to == "lighthouse"
    (a2,) = (each for each in desk.envelopes if each.name == "US A2")
    assert a2.long == Length.of(6, "in")


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("uk.toml", "", "uk.toml, source: it is missing; add"),
        ("uk.toml", OWN.replace("30 g", "-30 g"), "rules[1]"),
        ("envelopes.toml", "seen = 3", "it should be a day"),
        ("uk.toml", "\x00", "it cannot be read as TOML"),
        ("uk.toml", 'name = "caf\udce9"', "byte 12 is no text of UTF-8"),
    ],
)
def test_a_bad_file_is_told_in_one_line_with_its_path(name: str, text: str, said: str) -> None:
    path = written(name, text)
    with pytest.raises(WorkshopError) as error:
        desk_of(Workshop.open(), Preferences())
    assert said in str(error.value)
    assert str(error.value).startswith(str(path))
    assert "\n" not in str(error.value)


def test_what_is_no_file_is_not_read() -> None:
    (Workshop.open().folder / FOLDER / "uk.toml").mkdir(parents=True)
    with pytest.raises(WorkshopError, match="it is a folder"):
        desk_of(Workshop.open(), Preferences())


def test_a_byte_order_mark_means_nothing() -> None:
    written("lighthouse.toml", f"\ufeff{OWN}")
    desk = desk_of(Workshop.open(), Preferences(post="lighthouse"))
    assert desk.posts["lighthouse"].name == "Lighthouse post"

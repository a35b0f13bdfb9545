"""What is installed to run and test the program: locked to the byte, under licences we know."""

import re
import tomllib
from importlib.metadata import Distribution, distribution, distributions
from itertools import chain
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
LOCK = (ROOT / ".requirements.lock").read_text("utf-8")
LOCKED = {
    canonicalize_name(name): version
    for name, version in re.findall(r"^([\w.-]+)==(\S+) \\$", LOCK, re.MULTILINE)
}
# As their metadata write them: expressions of SPDX, or older words and classifiers.
KNOWN = (
    r"MIT|MIT-CMU|BSD|BSD[- ][23]-Clause|0BSD|Apache|PSF|Python Software Foundation|ISC|Zlib"
    r"|CC0-1\.0|MPL-2\.0|Mozilla Public License 2\.0|SIL O(?:pen )?F(?:ont )?L|OFL-1\.1|Unlicense"
)
# Used by tests alone, and not handed on with the program.
FOR_TESTS = {"pyte": "GNU Lesser General Public License v3"}


def needed(extra: str = "") -> set[str]:
    """Every distribution that the program asks for, and those ask for in turn."""
    found: set[str] = set()
    asked = [*PROJECT["dependencies"], *(PROJECT["optional-dependencies"][extra] if extra else ())]
    while asked:
        requirement = Requirement(asked.pop())
        name = canonicalize_name(requirement.name)
        here = requirement.marker is None or any(
            requirement.marker.evaluate({"extra": each}) for each in ("", *requirement.extras)
        )
        if here and name not in found:
            found.add(name)
            extras = requirement.extras or {""}
            asked += [
                line
                for line in distribution(name).requires or ()
                if (marker := Requirement(line).marker) is None
                or any(marker.evaluate({"extra": each}) for each in extras)
            ]
    return found


def licence(installed: Distribution) -> str:
    """What its metadata say of its licence."""
    metadata = installed.metadata
    classifiers = [line for line in metadata.get_all("Classifier") or () if "License ::" in line]
    told = (metadata.get_all(key) or [] for key in ("License-Expression", "License"))
    return " / ".join((*chain.from_iterable(told), *classifiers))


def test_every_licence_is_one_we_know() -> None:
    strange = {}
    for name in needed("dev"):
        words = licence(distribution(name))
        if name in FOR_TESTS:
            assert FOR_TESTS[name] in words
        elif not re.search(rf"\b(?:{KNOWN})\b", words) or re.search(
            r"\b[AL]?GPL|General Pub", words
        ):
            strange[name] = words
    assert strange == {}


def test_what_the_tests_bring_along_is_not_handed_on() -> None:
    assert needed().isdisjoint(FOR_TESTS)


def test_all_that_is_needed_is_locked_with_its_hashes() -> None:
    assert needed("dev") <= set(LOCKED)
    for entry in re.split(r"^(?=[\w.-]+==)", LOCK, flags=re.MULTILINE)[1:]:
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", entry), entry
    assert "://" not in LOCK


def test_what_is_locked_is_what_is_asked_for() -> None:
    for line in (*PROJECT["dependencies"], *PROJECT["optional-dependencies"]["dev"]):
        requirement = Requirement(line)
        assert requirement.specifier.contains(LOCKED[canonicalize_name(requirement.name)]), line


def test_nothing_is_installed_twice() -> None:
    names = [canonicalize_name(each.metadata["Name"]) for each in distributions()]
    assert len(names) == len(set(names))

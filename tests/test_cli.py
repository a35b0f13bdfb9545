"""The command line: what it prints, where, and the exit code it leaves."""

import io
import json
import os
import re
import subprocess
import sys
import time
import tomllib
from collections.abc import Iterator
from contextlib import nullcontext
from fractions import Fraction
from importlib.metadata import version
from pathlib import Path
from typing import Any

import pytest

from tests.effort import SOON
from tests.permissions import bound
from tests.planning.checker import printed_faults
from tests.samples import printed_plan
from tests.store.bad_files import BAD_FILES, GOOD, BadFile
from workbench import cli
from workbench.app import app
from workbench.cli import terminal
from workbench.craft.pace import Pace
from workbench.craft.project import Project
from workbench.craft.trimmer import Trimmer
from workbench.measure.length import Length
from workbench.planning import driver as planner
from workbench.planning import suggestions
from workbench.planning.progress import Watch
from workbench.planning.result import Plan
from workbench.store.database import FILE, Workshop
from workbench.store.preferences import Preferences, keep_preferences
from workbench.store.project_file import read_project

REPOSITORY = Path(__file__).parents[1]
SAMPLES = sorted((REPOSITORY / "sample_projects").glob("*.toml"))
# Planned in a moment.
SMALL = GOOD
HELPS = (["--help"], *([name, "--help"] for name in cli.COMMANDS))


@pytest.fixture
def small(tmp_path: Path) -> Path:
    return written(tmp_path / "small.toml", SMALL)


@pytest.fixture
def short(tmp_path: Path) -> Path:
    """Two Letter sheets make four bases, and no more."""
    return written(tmp_path / "short.toml", SMALL.replace("count = 4", "count = 7"))


@pytest.fixture
def hurried(monkeypatch: pytest.MonkeyPatch) -> None:
    """Plans are looked for with little effort: for tests of what is said, whatever the plan."""
    for module in ("plans", "recipes"):
        monkeypatch.setattr(
            f"workbench.cli.{module}.watched", lambda: nullcontext(Watch(limits=SOON))
        )


def written(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


def trimtally(
    *words: str | Path, output: int = subprocess.PIPE, **environment: str
) -> subprocess.CompletedProcess[str]:
    """Run the program as a shell would."""
    command = [sys.executable, "-c", "import sys; from workbench.cli import main; sys.exit(main())"]
    return subprocess.run(
        [*command, *map(str, words)],
        stdout=output,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        cwd=REPOSITORY,
        env={**os.environ, "PYTHONIOENCODING": "utf-8", **environment},
        check=False,
    )


def printed(capsys: pytest.CaptureFixture[str], *words: str | Path, code: int = 0) -> str:
    """What a command writes to standard output; it must not write anything else."""
    assert cli.main([str(word) for word in words]) == code
    captured = capsys.readouterr()
    assert code or captured.err == ""
    return captured.out


def refusal(capsys: pytest.CaptureFixture[str], *words: str | Path, code: int = 2) -> str:
    """The one line on standard error of a command that could do nothing."""
    assert cli.main([str(word) for word in words]) == code
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.endswith("\n")
    line = captured.err.removesuffix("\n")
    assert line.isprintable()
    return line


# Help


def test_a_command_brings_in_what_it_needs_when_it_is_run() -> None:
    seen = "import sys; import workbench.cli; print(*sys.modules)"
    said = subprocess.run([sys.executable, "-c", seen], capture_output=True, text=True, check=True)
    rooms = {name.split(".")[1] for name in said.stdout.split() if name.startswith("workbench.")}
    assert rooms == {"cli", "craft", "measure", "store"}
    assert not {"msgspec", "sqlite3", "pint", "numpy", "textual"} & set(said.stdout.split())


@pytest.mark.parametrize("words", HELPS, ids=" ".join)
def test_every_command_has_help_with_an_example(
    words: list[str], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    said = printed(capsys, *words)
    assert said.startswith("usage: trimtally")
    assert "example:\n  trimtally " in said
    assert max(map(len, said.splitlines())) < 80


def test_the_first_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    said = printed(capsys, "--help")
    for name, command in cli.COMMANDS.items():
        assert f"trimtally {name}" in said
        assert command.summary in " ".join(said.split())


@pytest.mark.parametrize(
    "words", [["plan"], ["check"], ["plan", "a", "b"], ["check", "a", "--json"], ["--loud"]]
)
def test_a_command_given_wrongly_is_refused_in_one_line(
    words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert "--help" in refusal(capsys, *words)


def test_a_command_written_wrong_is_told_from_a_file(capsys: pytest.CaptureFixture[str]) -> None:
    assert "did you mean plan?" in refusal(capsys, "plna", "lantern_walk.toml")
    assert "there is no such file" in refusal(capsys, "lantern_walk.toml")


# Bad input


@pytest.mark.parametrize("command", ["plan", "check"])
@pytest.mark.parametrize("bad", BAD_FILES, ids=lambda bad: bad.kind)
def test_a_bad_file_gets_one_clear_line(
    bad: BadFile, command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "bad.toml"
    path.write_bytes(bad.content)
    line = refusal(capsys, command, path)
    assert line.startswith(f"{path}: ")
    for words in bad.says:
        assert words in line


@pytest.mark.parametrize("words", [["plan"], ["plan", "--json"], ["check"], []], ids=" ".join)
def test_a_file_that_is_not_there(words: list[str]) -> None:
    ran = trimtally(*words, "nowhere.toml")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == "nowhere.toml: there is no such file; check the name and the folder\n"


def test_a_real_process_refuses_a_picture(tmp_path: Path) -> None:
    (tmp_path / "it.png").write_bytes(b"\x89PNG\r\n\x1a\n\xff\xfe")
    ran = trimtally("check", tmp_path / "it.png")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.count("\n") == 1


@pytest.mark.parametrize("command", ["plan", "check"])
def test_prints_that_no_amount_of_paper_could_mix(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # One paper for two mixed layers: by Koenig's theorem each card would show it twice.
    text = SMALL.replace('from = ["moth dot"]', 'from = ["moth dot", "cream card"]')
    text += '\n[[pieces]]\nname = "band"\nsize = [4, 1]\nfrom = ["moth dot", "cream card"]\n'
    text += '\n[[pieces]]\nname = "tab"\nsize = [1, 1]\nfrom = ["moth dot", "cream card"]\n'
    text = text.replace('kind = "cardstock"', 'kind = "patterned"')
    path = written(tmp_path / "unmixable.toml", text)
    line = refusal(capsys, command, path)
    assert line.startswith(f"{path}: ")
    assert "twice" in line


@pytest.mark.parametrize("command", ["plan", "check"])
@pytest.mark.parametrize(
    ("size", "words"),
    [('["1/64", 1]', "no blade cuts so little"), ("[20, 40]", "cannot be cut from")],
)
def test_pieces_that_no_amount_of_paper_would_give(
    command: str, size: str, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = SMALL.replace("[12, 12]", "[60, 60]").replace('[4, "5 1/4"]', size)
    text = text.replace(', radius = "1/4"', ', radius = "1/128"')
    path = written(tmp_path / "impossible.toml", text)
    line = refusal(capsys, command, path)
    assert line.startswith(f"{path}: ")
    assert words in line


# check


def test_a_sound_project_is_said_to_be_so(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert printed(capsys, "check", small) == (
        f"{small} is a sound project: 4 cards, 2 papers, 1 piece\n"
    )


def test_a_piece_that_hangs_over_the_card_is_told_as_a_doubt(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    over = SMALL.replace('x = "centre"', "x = 3")
    said = printed(capsys, "check", written(tmp_path / "over.toml", over))
    assert "is a sound project" in said
    assert "in doubt: " in said
    assert "sticks out" in said
    assert "To mend: " in said


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_is_sound_and_free_of_doubts(
    sample: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = printed(capsys, "check", sample)
    assert "is a sound project" in said
    assert "in doubt" not in said


def test_names_are_shown_as_they_are(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(tmp_path / "[bold]two\nlines.toml", SMALL)
    said = printed(capsys, "check", path)
    assert said.count("\n") == 1
    assert "[bold]two\\nlines.toml is a sound" in said


# plan --json


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda path: path.stem)
def exported(request: pytest.FixtureRequest) -> tuple[str, str]:
    """The text of a sample, and its plan as a real process printed it."""
    path: Path = request.param
    return path.read_text(encoding="utf-8"), printed_plan(path.stem)


def test_the_json_stands_up_to_the_independent_checker(exported: tuple[str, str]) -> None:
    assert printed_faults(*exported) == []


LENGTH = "a length"
RANGE = {"least": str, "most": str}
CARD = {
    "size": {"width": LENGTH, "height": LENGTH},
    "weight": RANGE,
    "thickness": RANGE,
    "unevenness": RANGE,
    "lumps": [str],
    "missing": [{"paper": str, "what": str, "likely": str, "measure": str}],
    "envelope": {"name": str, "width": LENGTH, "height": LENGTH, "takes": LENGTH},
    "fits": [str],
    "posted": {"weight": RANGE, "thickness": RANGE},
    "post": {
        "key": str,
        "name": str,
        "source": str,
        "seen": str,
        "surely": (str, None),
        "at_best": (str, None),
        "classes": [
            {
                "name": str,
                "verdict": str,
                "rules": [
                    {
                        "of": str,
                        "figure": RANGE,
                        "least": (str, None),
                        "most": (str, None),
                        "verdict": str,
                        "near": bool,
                        "source": str,
                        "seen": str,
                    }
                ],
            }
        ],
        "check": str,
    },
}
SHAPE = {
    "format": int,
    "title": str,
    "cards": int,
    "totals": {
        "sheets": int,
        "fewest_possible": int,
        "proven": bool,
        "cuts": int,
        "marks": int,
        "seconds": float,
        "fewest_marks": (int, None),
        "fewest_settings": (int, None),
        "settings": int,
        "laid": int,
        "turns": int,
        "table_seconds": int,
        "least_table_seconds": (int, None),
        "different": int,
        "most_different": (int, None),
    },
    "pace": {"setting": int, "stroke": int, "sheet": int, "turn": int, "own": [str]},
    "groups": [
        {
            "papers": [str],
            "sheets": int,
            "fewest_possible": int,
            "because": (str, None),
            "proven": bool,
        }
    ],
    "shortages": [{"paper": str, "sheets": int}],
    "sheets": [
        {
            "id": str,
            "paper": str,
            "width": LENGTH,
            "height": LENGTH,
            "offcut": bool,
            "parts": [
                {
                    "id": str,
                    "role": str,
                    "piece": (str, None),
                    "x": LENGTH,
                    "y": LENGTH,
                    "width": LENGTH,
                    "height": LENGTH,
                    "turned": bool,
                }
            ],
        }
    ],
    "steps": [
        {
            "n": int,
            "do": str,
            "takes": [str],
            "measure": (str, None),
            "mark": (LENGTH, None),
            "gives": [[str]],
        }
    ],
}


def exact(value: str, unit: str) -> bool:
    number, _, given_unit = value.partition(" ")
    return given_unit == unit and str(Fraction(number)) == number


def shaped(value: Any, shape: Any, unit: str) -> bool:
    """Whether `value` has the keys in their order, and what they should hold."""
    if shape is None:
        return value is None
    if shape == LENGTH:
        return isinstance(value, str) and exact(value, unit)
    if isinstance(shape, tuple):
        return any(shaped(value, inner, unit) for inner in shape)
    if isinstance(shape, list):
        return isinstance(value, list) and all(shaped(one, shape[0], unit) for one in value)
    if isinstance(shape, dict):
        return list(value) == list(shape) and all(
            shaped(value[key], inner, unit) for key, inner in shape.items()
        )
    return type(value) is shape


def test_the_json_has_the_agreed_shape(exported: tuple[str, str]) -> None:
    text, output = exported
    data = json.loads(output)
    combinations, card = data.pop("combinations"), data.pop("card")
    assert shaped(card, CARD, tomllib.loads(text)["units"])
    for step in data["steps"]:
        assert ("card" in step) == (step["do"] == "assemble")
        assert isinstance(step.pop("card", 1), int)
    assert data["format"] == 1
    assert shaped(data, SHAPE, tomllib.loads(text)["units"])
    assert [list(one) for one in combinations] == [["card", "pieces"]] * data["cards"]


def test_the_first_of_each_pair_measures_the_mark(exported: tuple[str, str]) -> None:
    data = json.loads(exported[1])
    parts = {part["id"]: part for sheet in data["sheets"] for part in sheet["parts"]}
    cuts = [step for step in data["steps"] if step["do"] == "cut"]
    assert cuts
    for step in cuts:
        for first, _ in step["gives"]:
            if first in parts:
                assert parts[first][step["measure"]] == step["mark"]


# plan, to be read


def test_the_plan_says_what_a_maker_wants_to_know(
    small: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = printed(capsys, "plan", small)
    # Common practice: two top-fold bases from a Letter sheet, six 4 x 5 1/4 from a 12 x 12.
    for words in (
        "Lantern walk · 4 cards",
        "3 sheets, and fewer is impossible",
        "WHAT TO TAKE FROM THE DRAWER",
        "cream card",
        "8 1/2 × 11 in",
        "2 sheets, 8 1/2 × 11 in",
        "2 × card base 4 1/4 × 11",
        "4 × panel 4 × 5 1/4",
        "▏▔",
        "THE CUTS, MARK BY MARK",
        "4 1/4 in",
        "score 4 × card base at 5 1/2 in along the height",
        "assemble 4 cards",
        "WHICH CARD GETS WHAT",
        "card base of cream card and panel of moth dot",
        "TAKE CARE",
        "hands behind the guard",
    ):
        assert words in said


@pytest.mark.parametrize("columns", [40, 80, 120])
def test_the_plan_keeps_within_the_width(
    columns: int, small: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    lines = printed(capsys, "plan", small).splitlines()
    assert max(map(len, lines)) <= columns


def test_where_it_is_narrow_what_a_sheet_gives_stands_whole_below_it(
    small: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    lines = [line.strip() for line in printed(capsys, "plan", small).splitlines()]
    assert "1 sheet, 12 × 12 in" in lines


@pytest.mark.usefixtures("hurried")
def test_a_mixed_batch_shows_its_combinations(capsys: pytest.CaptureFixture[str]) -> None:
    said = printed(capsys, "plan", REPOSITORY / "sample_projects" / "regatta_thanks.toml")
    assert "9 cards, 6 different, as different as the counts allow." in said
    assert "lantern dot" in said.split("WHICH CARD GETS WHAT")[1]


def test_a_wanted_piece_that_no_card_gets_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = SMALL.replace('name = "panel"', 'name = "panel"\nneeded = false')
    text = text.replace("size = [12, 12]\nsheets = 1", "size = [12, 12]\nsheets = 0")
    said = printed(capsys, "plan", written(tmp_path / "it.toml", text))
    assert "On every card: card base of cream card." in said
    assert "On no card, for want of paper: panel." in said


def test_the_plan_is_the_best_at_what_is_wished(capsys: pytest.CaptureFixture[str]) -> None:
    sample = REPOSITORY / "sample_projects" / "one_card_from_scraps.toml"

    def totals(*wish: str) -> Any:
        data = json.loads(printed(capsys, "plan", sample, "--json", *wish))
        assert printed_faults(sample.read_text(encoding="utf-8"), json.dumps(data)) == []
        return data["totals"]

    usual, same, fewest = totals(), totals("--wish", "time"), totals("--wish", "settings")
    assert (usual["table_seconds"], usual["cuts"]) == (same["table_seconds"], same["cuts"])
    assert usual["sheets"] == fewest["sheets"]
    assert fewest["settings"] <= usual["settings"]
    assert fewest["table_seconds"] >= usual["table_seconds"]


def test_a_wish_that_there_is_not_is_refused(
    small: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "--wish" in refusal(capsys, "plan", small, "--wish", "speed")


def test_names_are_never_read_as_markup(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = SMALL.replace("moth dot", "[red]moth[/red]").replace('"panel"', '"[link=x]p"')
    said = printed(capsys, "plan", written(tmp_path / "it.toml", text))
    assert "[red]moth[/red]" in said
    assert "[link=x]p" in said


def test_colour_only_where_it_is_welcome(
    small: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "\x1b" not in printed(capsys, "plan", small)
    for name, value in (("FORCE_COLOR", "1"), ("TERM", "xterm"), ("COLORTERM", "truecolor")):
        monkeypatch.setenv(name, value)
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert "48;2;" in printed(capsys, "plan", small)
    monkeypatch.setenv("NO_COLOR", "1")  # no-color.org: any value that is not empty
    plain = printed(capsys, "plan", small)
    assert "48;2;" not in plain
    assert "38;2;" not in plain


def test_a_terminal_without_the_characters_still_gets_its_plan(small: Path) -> None:
    ran = trimtally("plan", small, PYTHONIOENCODING="ascii")
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "card base 4 1/4 x 11" in ran.stdout


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def stages_seen(monkeypatch: pytest.MonkeyPatch, small: Path, errors: io.StringIO) -> str:
    """What stands on `errors` while a plan is made that names one stage and takes its time."""
    made = planner.make_plan

    def slow(project: Project, trimmer: Trimmer, watch: Watch, pace: Pace, wish: None) -> Plan:
        watch.stage("counting [red]sheets[/red]")
        time.sleep(5 * terminal.PATIENCE)
        end = time.monotonic() + 60
        while errors.isatty() and "counting" not in errors.getvalue() and time.monotonic() < end:
            time.sleep(0.01)
        return made(project, trimmer, watch, pace, wish)

    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setattr(planner, "make_plan", slow)
    monkeypatch.setattr(terminal, "PATIENCE", 0.1)
    monkeypatch.setattr(sys, "stderr", errors)
    assert cli.main(["plan", str(small)]) == 0
    return errors.getvalue()


def test_a_terminal_shows_on_one_line_what_goes_on(
    small: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    seen = stages_seen(monkeypatch, small, Terminal())
    assert "counting [red]sheets[/red] … (Ctrl-C ends it)" in seen
    assert "writing it down" not in seen.split("\x1b[2K")[0]
    assert seen.rstrip("\x1b[?25h\r\n").endswith("\x1b[2K")  # nothing stays
    assert "counting" not in capsys.readouterr().out


def test_a_pipe_is_told_nothing_of_what_goes_on(
    small: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert stages_seen(monkeypatch, small, io.StringIO()) == ""


def test_a_quick_plan_shows_nothing_of_what_goes_on(
    small: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(terminal, "PATIENCE", 600)
    errors = Terminal()
    monkeypatch.setattr(sys, "stderr", errors)
    assert cli.main(["plan", str(small)]) == 0
    assert errors.getvalue() == ""


# Not enough paper


def test_a_shortage_is_said_on_stderr_beside_the_plan(
    short: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["plan", str(short)]) == 3
    captured = capsys.readouterr()
    assert "Paper is short: buy 2 sheets of cream card and 1 sheet of moth dot." in captured.out
    shortage, took = captured.err.splitlines()
    assert shortage == (
        "not enough paper: buy 2 sheets of cream card, 1 sheet of moth dot; "
        "with what is there 4 of 7 cards can be made"
    )
    assert re.fullmatch(r"all of this took [0-9]+\.[0-9] s", took)


def test_changes_that_would_be_enough_are_said_on_stderr(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Six cards are one more than two sheets make, and nothing else is short."""
    text = SMALL.replace("count = 4", "count = 6").replace("sheets = 1", "sheets = 4")
    assert cli.main(["plan", str(written(tmp_path / "it.toml", text))]) == 3
    assert capsys.readouterr().err.splitlines()[1:-1] == [
        "any one of these would make it enough:",
        "  get one more sheet of cream card",
    ]


def test_the_time_told_is_that_of_the_changes_too(
    short: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def slow(*_: object) -> Iterator[suggestions.Suggestion]:
        time.sleep(0.3)
        yield from ()

    monkeypatch.setattr(suggestions, "find_suggestions", slow)
    assert cli.main(["plan", str(short)]) == 3
    took = capsys.readouterr().err.splitlines()[-1]
    assert float(took.split()[-2]) >= 0.3


def test_a_shortage_stands_in_the_json(short: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data = json.loads(printed(capsys, "plan", short, "--json", code=3))
    assert data["shortages"] == [
        {"paper": "cream card", "sheets": 2},
        {"paper": "moth dot", "sheets": 1},
    ]


# post


@pytest.mark.parametrize("to", ["us", "uk", "ca", "de", "world"])
@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_is_told_by_every_post(
    sample: Path, to: str, capsys: pytest.CaptureFixture[str]
) -> None:
    said = printed(capsys, "post", sample, "--to", to)
    assert said.splitlines()[-1] == "Limits change: check with your post office."
    data = json.loads(printed(capsys, "post", sample, "--to", to, "--json"))
    assert data["post"]["key"] == to
    assert data["post"]["check"] in said
    assert data["envelope"]["name"] in said


def test_the_card_of_a_plan_is_that_of_the_post(
    small: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    alone = json.loads(printed(capsys, "post", small, "--json"))
    del alone["cheaper"]
    assert json.loads(printed(capsys, "plan", small, "--json"))["card"] == alone
    assert "THE CARD BY POST" in printed(capsys, "plan", small)


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ('[post]\nenvelope = "US A1"\n', '"US A1" (3 5/8 × 5 1/8 in) is too small'),
        ('[post]\nto = "mars"\n', 'no post is called "mars"; use one of "us"'),
        ('[post]\nclearance = "-1 mm"\n', "is less than nothing"),
        ('[[extras]]\nname = "gem"\nweight = "-1 g"\n', 'extras[1] "gem", weight'),
        ('[[extras]]\nname = "gem"\nweight = "1 g"\non = "sky"\n', '"sky" is not the card'),
        ('[[envelopes]]\nname = "x"\nsize = [0, 1]\n', "a side is nothing or less"),
    ],
)
def test_what_cannot_be_posted_gets_one_clear_line(
    lines: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path / "odd.toml", f"{SMALL}\n{lines}")
    line = refusal(capsys, "post", path)
    assert line.startswith(f"{path}: ")
    assert said in line


def test_the_rules_can_be_amended(
    small: Path, workshop_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = printed(capsys, "post", small, "--to", "uk", "--amend")
    own = workshop_folder / "post" / "uk.toml"
    assert str(own) in said
    text = own.read_text(encoding="utf-8")
    own.write_text(text.replace('"100 g"', '"1 g"'), encoding="utf-8")
    assert "BROKEN" in printed(capsys, "post", small, "--to", "uk")
    own.write_text(text.replace('"100 g"', '"-1 g"'), encoding="utf-8")
    assert cli.main(["post", str(small), "--to", "uk"]) == 0
    errors = capsys.readouterr().err
    assert errors.count("\n") == 1
    assert f"{own}: classes[1]" in errors


# The workshop


def test_planning_makes_no_workshop(
    small: Path, workshop_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    printed(capsys, "plan", small)
    assert not workshop_folder.exists()


def test_the_makers_own_trimmer_is_used(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    def cuts() -> int:
        return int(json.loads(printed(capsys, "plan", small, "--json"))["totals"]["cuts"])

    one_by_one = cuts()
    workshop = Workshop.open()
    at_once = {"patterned": 6, "cardstock": 6, "vellum": 6, "other": 6}
    trimmer = Trimmer(Length.of(20, "in"), at_once=at_once)  # type: ignore[arg-type]
    keep_preferences(workshop, Preferences(trimmer=trimmer))
    assert cuts() < one_by_one


def test_a_workshop_that_cannot_be_used_is_said_in_one_line_and_planned_without(
    small: Path, workshop_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    planned = json.loads(printed(capsys, "plan", small, "--json"))
    workshop_folder.mkdir()
    (workshop_folder / FILE).write_bytes(b"no database" * 1000)
    assert cli.main(["plan", str(small), "--json"]) == 0
    output, errors = capsys.readouterr()
    assert json.loads(output)["steps"] == planned["steps"]
    assert FILE in errors
    assert errors.endswith("Planned for a common trimmer instead.\n")
    assert errors.count("\n") == 1


# Opening the app


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[Path | None]:
    paths: list[Path | None] = []
    monkeypatch.setattr(app, "run", paths.append)
    monkeypatch.setattr(os, "isatty", lambda _: True)
    return paths


def test_without_words_the_app_opens(opened: list[Path | None]) -> None:
    assert cli.main([]) == 0
    assert opened == [None]


def test_outside_a_terminal_the_app_is_refused(small: Path) -> None:
    ended = trimtally(small)
    assert (ended.returncode, ended.stdout) == (2, "")
    assert "only in a terminal" in ended.stderr
    assert ended.stderr.count("\n") == 1


def test_with_a_file_the_app_opens_it(opened: list[Path | None], small: Path) -> None:
    assert cli.main([str(small)]) == 0
    assert opened == [small]


def test_a_file_that_is_called_like_a_command(
    opened: list[Path | None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    written(Path("plan"), SMALL)
    assert cli.main(["./plan"]) == 0
    assert opened == [Path("plan")]


def test_a_bad_file_is_refused_before_the_app_opens(
    opened: list[Path | None], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "empty" in refusal(capsys, written(tmp_path / "empty.toml", ""))
    assert opened == []


# Ends that nobody wants


def test_ctrl_c_ends_quietly(
    small: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(planner, "make_plan", interrupted)
    assert cli.main(["plan", str(small)]) == 130
    assert capsys.readouterr() == ("", "")


def test_a_fault_of_the_program_is_one_line_without_a_traceback(
    small: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("nine\ncards")

    monkeypatch.setattr(planner, "make_plan", broken)
    line = refusal(capsys, "plan", small, code=1)
    assert "fault of the program" in line
    assert "ZeroDivisionError: nine\\ncards" in line


def test_it_says_which_version_it_is(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["--version"]) == 0
    assert capsys.readouterr().out == f"trimtally {version('trimtally')}\n"


def test_debugging_is_told_on_standard_error(small: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TRIMTALLY_DEBUG", "1")
    ran = trimtally("check", small)
    assert ran.returncode == 0
    assert "workbench: Trimtally trimtally" in ran.stderr


def test_a_reader_that_has_had_enough_is_no_fault(small: Path) -> None:
    ready, gone = os.pipe()
    os.close(ready)
    ran = trimtally("plan", small, output=gone)
    os.close(gone)
    assert (ran.returncode, ran.stderr) == (0, "")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_full_disk_is_said_in_one_line(small: Path) -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        ran = trimtally("plan", small, output=full.fileno())
    assert ran.returncode == 1
    assert ran.stderr.startswith("trimtally: the output cannot be written")
    assert ran.stderr.count("\n") == 1


# The guide, and a card for another reader

SCRAPS = REPOSITORY / "sample_projects" / "one_card_from_scraps.toml"


def test_a_guide_is_written_by_how_its_name_ends(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "guide.md"
    said = printed(capsys, "guide", SCRAPS, "-o", file, "--units", "mm")
    assert said == f"written: {file}\n"
    assert "127 × 127 mm (5 × 5 in)" in file.read_text(encoding="utf-8")
    picture = tmp_path / "card.svg"
    printed(capsys, "guide", SCRAPS, "-o", picture)
    assert (tmp_path / "card-card.svg").exists()
    assert (tmp_path / "card-sheet-1.svg").exists()


def test_a_guide_that_cannot_be_written_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "let it end in .pdf" in refusal(capsys, "guide", SCRAPS, "-o", tmp_path / "guide.doc")
    assert "no batch of it is finished" in refusal(
        capsys, "guide", SCRAPS, "-o", tmp_path / "film.vtt"
    )
    cards = refusal(capsys, "guide", SCRAPS, "-o", tmp_path / "cards.txt", "--only", "cards")
    assert ".png or .svg" in cards
    assert "not how a guide can be written" in refusal(capsys, "guide", SCRAPS, "-o", tmp_path)


@pytest.mark.parametrize(
    ("command", "ending"),
    [
        (("guide", SCRAPS, "-o"), ".pdf"),
        (("guide", SCRAPS, "--only", "cards", "-o"), ".png"),
        (("adapt", SCRAPS, "--count", "2", "-o"), ".toml"),
        (("stock", "export"), ".csv"),
        (("backup",), ".sqlite"),
    ],
)
def test_where_nothing_can_be_written_is_said_in_the_same_words_and_first(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    command: tuple[str | Path, ...],
    ending: str,
) -> None:
    monkeypatch.setattr(planner.Planner, "plans", None)  # whoever plans fails
    (tmp_path / f"folder{ending}").mkdir()
    (tmp_path / "file").touch()
    os.mkfifo(tmp_path / f"pipe{ending}")
    (tmp_path / f"kept{ending}").touch(0o444)
    printed(capsys, "stock", "add", "kelp", "--kind", "cardstock", "--size", "A4", "--sheets", "1")
    before = sorted(tmp_path.rglob("*"))
    for name, wrong, right in (
        ("missing/new", "there is no such folder", "make it first"),
        ("file/new", "what should be its folder is a file", "name a file in a folder"),
        ("folder", "it is a folder", "name a file, in it or elsewhere"),
        ("pipe", "it is a pipe or a device and not a file", "name another file"),
        ("kept", "it is marked read-only", "name another file, or make this one writable"),
        ("n" * 300, "its name is too long", "choose a shorter one"),
    ):
        place = tmp_path / f"{name}{ending}"
        said = refusal(capsys, *command, place)
        assert said.startswith(f"{place}: it cannot be written ({wrong}); {right}")
    assert sorted(tmp_path.rglob("*")) == before


def test_of_a_guide_in_several_files_none_is_written_where_one_cannot_be(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "page-2.png").mkdir()
    said = refusal(capsys, "guide", SCRAPS, "-o", tmp_path / "page.png")
    assert said.startswith(f"{tmp_path / 'page-2.png'}: it cannot be written (it is a folder)")
    assert [path.name for path in tmp_path.iterdir()] == ["page-2.png"]
    assert "let it end in .pdf" in refusal(capsys, "guide", SCRAPS, "-o", tmp_path / "a.doc")


def test_a_folder_made_read_only_takes_no_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    printed(capsys, "stock", "add", "kelp", "--kind", "cardstock", "--size", "A4", "--sheets", "1")
    place = tmp_path / "locked" / "stock.csv"
    place.parent.mkdir(0o555)
    export = "import sys; from workbench.cli import main; sys.exit(main(sys.argv[1:]))"
    command = [*bound(), sys.executable, "-c", export, "stock", "export", str(place)]
    ran = subprocess.run(command, check=False, capture_output=True, text=True)
    assert ran.returncode == 2
    assert "cannot be written (nothing may be written in that folder); name a file" in ran.stderr


def test_a_backup_never_takes_the_place_of_the_workshop_itself(
    capsys: pytest.CaptureFixture[str],
) -> None:
    printed(capsys, "stock", "add", "kelp", "--kind", "cardstock", "--size", "A4", "--sheets", "1")
    file = Workshop.open().file
    assert "it is the workshop itself" in refusal(capsys, "backup", file, "--over")


def test_what_is_adapted_is_not_written_over(
    small: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    link = small.with_name("link.toml")
    link.symlink_to(small)
    for other in (small, link):
        said = refusal(capsys, "adapt", small, "--count", "2", "-o", other)
        assert "would be written over" in said
    assert small.read_text("utf-8") == SMALL


@pytest.mark.usefixtures("hurried")
def test_a_card_is_adapted_to_a_file_of_its_own(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    new = tmp_path / "new.toml"
    said = printed(capsys, "adapt", SCRAPS, "--units", "mm", "--sheet", "A4", "-o", new)
    assert said.startswith(f"written: {new}\n")
    assert "card: 5 × 5 in → 127 × 127 mm" in said
    assert read_project(new).units == "mm"
    assert "give --over" in refusal(capsys, "adapt", SCRAPS, "--count", "2", "-o", new)
    printed(capsys, "adapt", SCRAPS, "--count", "2", "-o", new, "--over")
    assert read_project(new).card.count == 2


def test_what_cannot_be_adapted_is_refused_with_what_would_do(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    new = tmp_path / "new.toml"
    said = refusal(capsys, "adapt", SCRAPS, "--patterned", "4 x 4 in", "-o", new)
    assert "do not fit on 4 × 4 in" in said
    assert "use sheets of 6 × 6 in" in said
    assert "no sheet known by name" in refusal(capsys, "adapt", SCRAPS, "--sheet", "A99", "-o", new)
    assert "“0” is too small" in refusal(capsys, "adapt", SCRAPS, "--count", "0", "-o", new)
    assert "give --papers-from" in refusal(capsys, "adapt", SCRAPS, "--use", "a=b", "-o", new)
    said = refusal(capsys, "adapt", SCRAPS, "--papers-from", SCRAPS, "--use", "a=b", "-o", new)
    assert f"{SCRAPS}: no paper is called “a”" in said
    assert not new.exists()

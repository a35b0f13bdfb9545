"""Project files with something in them changed by chance: refused in one line, or planned."""

import json
import signal
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path
from random import Random

from tests.store.bad_files import GOOD
from workbench import cli

SAMPLES = sorted((Path(__file__).parents[2] / "sample_projects").glob("*.toml"))
SECONDS = 60
_BITS = (
    "", "0", "-1", "1e9", "9" * 50, "1/0", "1/3", "nan", "inf", "true", '""', '"\\u0000"',
    "[]", "{}", "[[x]]", "[x]", "=", "#", '"""', "'''", "\x00", "\ufeff", "\u202e", "漢", "½",
    "\r", "\t", "a.b.c", "2024-02-30", "0x" + "f" * 40, '"' + "x" * 70 + '"', "count = 100000",
    'fold = "none"',
)  # fmt: skip


def mutated(chance: Random) -> bytes:
    """A good file after one change to five."""
    text = chance.choice([GOOD, *(path.read_text("utf-8") for path in SAMPLES)])
    data = bytearray(text, "utf-8")
    for _ in range(chance.randint(1, 5)):
        lines = data.split(b"\n")
        at, other = chance.randrange(len(lines)), chance.randrange(len(lines))
        match chance.randrange(9):
            case 0:
                data[chance.randrange(len(data))] = chance.randrange(256)
                continue
            case 1:
                start = chance.randrange(len(data))
                del data[start : start + chance.randint(1, 200)]
                data = data or bytearray(b"#")
                continue
            case 2:
                place = chance.randrange(len(data))
                data[place:place] = chance.choice(_BITS).encode()
                continue
            case 3:
                del lines[at]
            case 4:
                lines[at:at] = [lines[other]] * chance.randint(1, 3)
            case 5:
                lines[at], lines[other] = lines[other], lines[at]
            case _:
                key, there, _ = lines[at].partition(b"=")
                lines[at] = key + there + b" " + chance.choice(_BITS).encode()
        data = bytearray(b"\n".join(lines)) or bytearray(b"#")
    return bytes(data)


def strange_file(chance: Random, folder: Path) -> None:
    """`check` refuses it in one line, or `plan` plans it or says why not."""
    path = folder / "strange.toml"
    path.write_bytes(mutated(chance))
    code, out, errors = obeyed("check", path)
    assert code in (0, 2), (code, errors, path.read_bytes())
    assert all(line.isprintable() for line in f"{out}{errors}".split("\n")), path.read_bytes()
    if code == 2:
        assert (out, errors.count("\n")) == ("", 1), (out, errors, path.read_bytes())
    elif chance.random() < 0.03:
        again, out, errors = obeyed("plan", path, "--json")
        assert again in (0, 2, 3), (again, errors, path.read_bytes())
        assert again == 2 or json.loads(out)["format"]


def obeyed(*words: str | Path) -> tuple[int, str, str]:
    """What a command gives, says and says wrong; it may take a minute."""
    with (
        bounded(),
        redirect_stdout(StringIO()) as out,
        redirect_stderr(StringIO()) as errors,
    ):
        code = cli.main([str(word) for word in words])
    return code, out.getvalue(), errors.getvalue()


class TooLong(BaseException):
    """Raised in the middle of what takes too long; no command takes it for a fault of its own."""


@contextmanager
def bounded() -> Iterator[None]:
    """Let what is done here take so many seconds of the processor and no more."""

    def ended(*_: object) -> None:
        raise TooLong

    before = signal.signal(signal.SIGVTALRM, ended)
    signal.setitimer(signal.ITIMER_VIRTUAL, SECONDS)
    try:
        yield
    except TooLong as error:
        raise AssertionError(f"it took over {SECONDS} s") from error
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)

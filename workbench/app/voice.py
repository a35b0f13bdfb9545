"""What the machine can say aloud, where it has a command for it."""

import shutil
import subprocess
from dataclasses import dataclass

_POWERSHELL = (
    "Add-Type -AssemblyName System.Speech; "
    "(New-Object System.Speech.Synthesis.SpeechSynthesizer).Speak([Console]::In.ReadToEnd())"
)
# Each reads what it is to say from its standard input, so that no text is taken for an option.
_COMMANDS = (
    ("spd-say", "--cancel", "--pipe-mode"),
    ("say", "-f", "-"),
    ("powershell", "-NoProfile", "-Command", _POWERSHELL),
)


@dataclass(frozen=True, slots=True)
class Voice:
    """A command that says aloud what it reads."""

    command: tuple[str, ...]

    def say(self, words: str) -> None:
        """Begin to say `words`, and do not wait. A machine that cannot stays silent."""
        try:
            speaking = subprocess.Popen(
                self.command,
                stdin=subprocess.PIPE,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                start_new_session=True,
                text=True,
            )
            assert speaking.stdin
            speaking.stdin.write(f"{words}\n")
            speaking.stdin.close()
        except OSError:
            return


def voice_of_this_machine() -> Voice | None:
    """The first command that there is, None where there is none."""
    for name, *options in _COMMANDS:
        if path := shutil.which(name):
            return Voice((path, *options))
    return None

"""The table of all attacks.

python -m tests.attack --minutes 60
python -m tests.attack --only files --seed 7 --first 1234 --trials 1
"""

from argparse import ArgumentParser
from time import monotonic

from tests.attack.attack import carried_out
from tests.attack.attacks import ATTACKS


def main() -> int:
    """Carry out the attacks and print what was tried and survived; 1 where anything did harm."""
    parser = ArgumentParser(prog="python -m tests.attack", description=main.__doc__)
    parser.add_argument("--minutes", type=float, default=10.0, help="in all; 10 if not given")
    parser.add_argument("--only", nargs="+", choices=list(ATTACKS), default=list(ATTACKS))
    parser.add_argument("--trials", type=int, help="of each attack, in place of minutes")
    parser.add_argument("--first", type=int, default=0, help="number of the first trial")
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    shares = sum(ATTACKS[name].share for name in given.only)
    harmed, rows = [], []
    for name in given.only:
        attack = ATTACKS[name]
        seconds = None if given.trials else given.minutes * 60 * attack.share / shares
        begun = monotonic()
        outcome = carried_out(attack, given.seed, given.first, given.trials, seconds)
        rows.append((name, outcome.tried, outcome.survived, monotonic() - begun))
        print(f"{name}: {outcome.survived} of {outcome.tried} survived", flush=True)
        harmed += [(name, number, said) for number, said in outcome.harmed.items()]
    print(f"\n{'attack':<12}{'tried':>8}{'survived':>10}{'seconds':>9}")
    for name, tried, survived, seconds in rows:
        print(f"{name:<12}{tried:>8}{survived:>10}{seconds:>9.0f}")
    for name, number, said in harmed:
        again = f"--only {name} --seed {given.seed} --first {number} --trials 1"
        print(f"\npython -m tests.attack {again}\n{said}")
    return 1 if harmed else 0


if __name__ == "__main__":
    raise SystemExit(main())

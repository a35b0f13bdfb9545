"""Attacks on the whole program, as long as somebody has minutes: `python -m tests.attack`."""

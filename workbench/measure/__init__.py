"""Lengths, rules and weights: exact arithmetic, reading and writing them."""

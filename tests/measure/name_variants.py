"""Pairs of names out of the bank of variants: which are one person's, which are two people's."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

BANK = Path(__file__).with_name("name_variants_bank.txt")

Pair = tuple[str, str]


def blocks() -> list[list[list[str]]]:
    """The blocks of the bank: each holds people who are easily taken for one another, each with forms."""
    told = "\n".join(
        line for line in BANK.read_text(encoding="utf-8").splitlines() if line[:1] != "#"
    )
    return [
        [[form.strip() for form in person.split("|")] for person in block.splitlines()]
        for block in told.strip().split("\n\n")
    ]


def of_one() -> list[Pair]:
    """The form that each stands under with each of their other forms."""
    return [(head, form) for block in blocks() for head, *forms in block for form in forms]


def of_namesakes() -> list[Pair]:
    """The form that each stands under with every form of those who are easily taken for them."""
    return [
        (one[0], form)
        for block in blocks()
        for one, other in permutations(block, 2)
        for form in other
    ]


def of_strangers(step: int = 37) -> list[Pair]:
    """The form that each stands under with forms of people of other blocks, every so many of them."""
    every = [
        (one[0], form)
        for one_block, other_block in permutations(blocks(), 2)
        for one in one_block
        for other in other_block
        for form in other
    ]
    return every[::step]


def area(same: list[float], others: list[float]) -> float:
    """How often a pair of one person stands above a pair of two people: 1 where it always does."""
    ordered = sorted([*((score, 1) for score in same), *((score, 0) for score in others)])
    below, ahead, at = 0, 0.0, 0
    while at < len(ordered):
        end = at
        while end < len(ordered) and ordered[end][0] == ordered[at][0]:
            end += 1
        ones = sum(which for _, which in ordered[at:end])
        twos = end - at - ones
        ahead += ones * (below + twos / 2)
        below, at = below + twos, end
    return ahead / (len(same) * len(others))


def found_at(same: list[float], others: list[float], false: float) -> tuple[float, float]:
    """The share of the pairs of one person above a limit that this share of the others passes; the limit."""
    limit = sorted(others, reverse=True)[int(len(others) * false)]
    return sum(score > limit for score in same) / len(same), limit

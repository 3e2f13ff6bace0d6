"""Cutting patterns: what fits on one bar, in whole units, with exact integer arithmetic.

A cutting job is scaled to integers first (`core.cutting_input`). A pattern says how many of each
item one bar yields. It fits when the sum of the items' uses, plus the trim end of every
mitre that occurs on the bar, is at most the bar's room (its length plus one kerf, because the
last cut may run out at the bar's end). Units are a fraction of an inch.
Source: Gilmore and Gomory's pattern model, from memory.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

Pattern = tuple[int, ...]


@dataclass(frozen=True)
class Item:
    """One kind of piece, in units: `use` along the bar with its kerf, `metal` without."""

    use: int
    metal: int
    group: int
    demand: int


@dataclass(frozen=True)
class Stock:
    """One kind of bar, in units: `room` is its length plus one kerf; `count` None is unlimited."""

    room: int
    length: int
    count: int | None
    is_new: bool
    cost: float = 0.0
    is_missing: bool = False


@dataclass(frozen=True)
class Job:
    """A cutting job in units: `setups` holds the trim end of each group of mitred pieces."""

    items: tuple[Item, ...]
    setups: tuple[int, ...]
    stocks: tuple[Stock, ...]
    kerf: int
    keep_from: int

    def used(self, pattern: Pattern) -> int:
        """Return the bar length a pattern takes, every kerf and trim end included."""
        groups = {item.group for item, n in zip(self.items, pattern, strict=True) if n}
        return sum(n * item.use for item, n in zip(self.items, pattern, strict=True)) + sum(
            self.setups[g] for g in groups
        )

    def metal(self, pattern: Pattern) -> int:
        """Return the length of bar that ends up in the pieces of a pattern."""
        return sum(n * item.metal for item, n in zip(self.items, pattern, strict=True))

    def offcut(self, stock: Stock, pattern: Pattern) -> int:
        """Return what is left of the bar after the last cut, 0 where the blade takes it all."""
        return max(0, stock.length - self.used(pattern))

    def kept(self, stock: Stock, pattern: Pattern) -> int:
        """Return the offcut if it is long enough to keep, else 0."""
        left = self.offcut(stock, pattern)
        return left if left and left >= self.keep_from else 0


class Work:
    """An allowance of steps, so that a plan ends in time without a clock."""

    def __init__(self, steps: int) -> None:
        self.left = steps

    def spend(self, steps: int) -> None:
        """Take `steps` off; raises `WorkEnded` when none are left."""
        self.left -= steps
        if self.left < 0:
            raise WorkEnded


class WorkEnded(Exception):
    """The allowance of steps is used up."""


def best_pattern(job: Job, room: int, weights: Sequence[int], work: Work | None = None) -> tuple[int, Pattern]:
    """Return the greatest total weight that fits on a bar, and a pattern that reaches it.

    Keeps the best weight for every used length and drops a state that is longer and lighter
    than another, or that cannot beat the best one found with all that is left filled at the
    best ratio still to come. All in integers, so that the result is a proof.

    Parameters
    ----------
    job : Job
    room : int
        Units of room, >= 0.
    weights : sequence of int
        One for each item, >= 0.
    work : Work, optional
        Allowance; `WorkEnded` is raised when it is used up.

    Returns
    -------
    (int, Pattern)

    Source: Nemhauser and Ullmann's dominance list for the knapsack, from memory.

    >>> items = (Item(51, 51, 0, 6), Item(27, 27, 0, 6), Item(26, 26, 0, 6), Item(23, 23, 0, 12))
    >>> best_pattern(Job(items, (0,), (), 0, 0), 100, (51, 27, 26, 23))
    (100, (1, 0, 1, 1))
    """
    order = sorted(
        (i for i, weight in enumerate(weights) if weight > 0 and job.items[i].use <= room),
        key=lambda i: (job.items[i].group, -weights[i] / job.items[i].use),
    )
    best = 0
    frontier: list[tuple[int, int, tuple | None]] = [(0, 0, None)]
    for group in dict.fromkeys(job.items[i].group for i in order):
        setup = job.setups[group]
        opened = [(u + setup, v, node) for u, v, node in frontier if u + setup <= room]
        for at, i in enumerate(order):
            item = job.items[i]
            if item.group != group:
                continue
            rest = max(order[at:], key=lambda j: weights[j] / job.items[j].use)
            top, bottom = weights[rest], job.items[rest].use
            copies, chunk = min(item.demand, room // item.use), 1
            while copies:
                chunk = min(chunk, copies)
                use, gain = chunk * item.use, chunk * weights[i]
                grown = [(u + use, v + gain, (node, i, chunk)) for u, v, node in opened if u + use <= room]
                if work:
                    work.spend(len(opened) + len(grown))
                best = max([best, *(v for _, v, _ in grown)])
                opened = _undominated(opened, grown)
                # A state that ties with the best is kept: it may be the best one itself.
                opened = [s for s in opened if s[1] * bottom + (room - s[0]) * top >= best * bottom]
                copies, chunk = copies - chunk, chunk * 2
        frontier = _undominated(frontier, opened)
    _, value, node = max(frontier, key=lambda state: (state[1], -state[0]))
    pattern = [0] * len(job.items)
    while node:
        node, i, chunk = node
        pattern[i] += chunk
    return value, tuple(pattern)


def _undominated(first: list, second: list) -> list:
    """Return the states of both lists by used length, each heavier than every shorter one."""
    kept: list = []
    for state in sorted(first + second, key=lambda s: (s[0], -s[1])):
        if not kept or state[1] > kept[-1][1]:
            kept.append(state)
    return kept


def all_patterns(
    job: Job, room: int, limit: int, weights: Sequence[int] | None = None, least: int = 0
) -> list[Pattern] | None:
    """Return every pattern that fits, at least `least` in weight; None past `limit` patterns.

    Part-filled bars are included, the empty one is not.

    >>> items = (Item(6, 6, 0, 2), Item(4, 4, 0, 2))
    >>> all_patterns(Job(items, (0,), (), 0, 0), 10, 99)
    [(0, 1), (0, 2), (1, 0), (1, 1)]
    """
    found: list[Pattern] = []
    budget = 20 * limit
    for pattern in _walk(job, room, list(weights or [0] * len(job.items)), least):
        budget -= 1
        if pattern is not None and any(pattern):
            found.append(pattern)
        if len(found) > limit or budget < 0:
            return None
    return found


def _walk(job: Job, room: int, weights: list[int], least: int) -> Iterator[Pattern | None]:
    """Yield each fitting pattern, and None for each dead end, so that the caller can count work."""
    size = len(job.items)
    ratios = [(0, 1)] * (size + 1)
    for i in range(size - 1, -1, -1):
        here, after = (weights[i], job.items[i].use), ratios[i + 1]
        ratios[i] = here if here[0] * after[1] >= after[0] * here[1] else after
    counts = [0] * size

    def walk(i: int, left: int, value: int, groups: frozenset[int]) -> Iterator[Pattern | None]:
        top, bottom = ratios[i]
        if value * bottom + left * top < least * bottom:
            yield None
        elif i == size:
            yield tuple(counts)
        else:
            item = job.items[i]
            yield from walk(i + 1, left, value, groups)
            left -= 0 if item.group in groups else job.setups[item.group]
            with_group = groups | {item.group}
            for n in range(1, item.demand + 1):
                left -= item.use
                if left < 0:
                    break
                counts[i] = n
                yield from walk(i + 1, left, value + n * weights[i], with_group)
            counts[i] = 0

    return walk(0, room, 0, frozenset())


def first_fit(job: Job) -> list[tuple[int, Pattern]]:
    """Return the first-fit-decreasing plan: longest piece first, into the first bar with room.

    Remnants come first, shortest first; then the open new bars; then another new bar, the
    longest. Missing bars come last of all.

    Source: first-fit-decreasing, common practice.

    >>> items = (Item(51, 51, 0, 6), Item(27, 27, 0, 6), Item(26, 26, 0, 6), Item(23, 23, 0, 12))
    >>> len(first_fit(Job(items, (0,), (Stock(100, 100, None, True),), 0, 0)))
    11
    """
    bars: list[tuple[int, list[int]]] = []
    remnants = sorted((s for s, stock in enumerate(job.stocks) if not stock.is_new), key=lambda s: job.stocks[s].room)
    for s in remnants:
        bars += [(s, [0] * len(job.items)) for _ in range(job.stocks[s].count or 0)]
    buyable = sorted(
        (s for s, stock in enumerate(job.stocks) if stock.is_new),
        key=lambda s: (job.stocks[s].is_missing, -job.stocks[s].room, job.stocks[s].cost),
    )
    taken = dict.fromkeys(buyable, 0)

    def add(bar: tuple[int, list[int]], i: int) -> bool:
        bar[1][i] += 1
        if job.used(tuple(bar[1])) <= job.stocks[bar[0]].room:
            return True
        bar[1][i] -= 1
        return False

    for i in sorted(range(len(job.items)), key=lambda i: -job.items[i].use - job.setups[job.items[i].group]):
        # A bar that refused one of these pieces refuses the next one too.
        start = 0
        for _ in range(job.items[i].demand):
            while start < len(bars) and not add(bars[start], i):
                start += 1
            if start < len(bars):
                continue
            for s in buyable:
                fresh = (s, [0] * len(job.items))
                count = job.stocks[s].count
                if (count is None or taken[s] < count) and add(fresh, i):
                    bars.append(fresh)
                    taken[s] += 1
                    break
            else:  # pragma: no cover - the missing bar is as long as the longest one
                raise AssertionError("a piece fits on no bar")
    return [(s, tuple(counts)) for s, counts in bars if any(counts)]


def best_fill(job: Job, work: Work) -> list[tuple[int, Pattern]]:
    """Return a plan that fills each bar as full as it can from the pieces still to cut.

    Remnants come first, shortest first, then new bars, longest first. A second candidate
    beside first-fit: it finds exact fits that first-fit walks past.

    Source: subset-sum filling, common practice.

    >>> items = (Item(51, 51, 0, 6), Item(27, 27, 0, 6), Item(26, 26, 0, 6), Item(23, 23, 0, 12))
    >>> len(best_fill(Job(items, (0,), (Stock(100, 100, None, True),), 0, 0), Work(10**6)))
    9
    """
    bars: list[tuple[int, Pattern]] = []
    order = sorted(
        range(len(job.stocks)),
        key=lambda s: (job.stocks[s].is_new, job.stocks[s].is_missing, job.stocks[s].room * (-1) ** job.stocks[s].is_new),
    )
    for s in order:
        taken = 0
        while any(item.demand for item in job.items) and taken != job.stocks[s].count:
            # Fullest first; among as full, the fewest and so the longest pieces.
            weights = [item.use * 1000 - 1 for item in job.items]
            _, pattern = best_pattern(job, job.stocks[s].room, weights, work)
            if not any(pattern):
                break
            # The same pattern again while the pieces last: long runs cost one search.
            while taken != job.stocks[s].count and all(n <= item.demand for n, item in zip(pattern, job.items, strict=True)):
                bars.append((s, pattern))
                taken += 1
                left = [replace(item, demand=item.demand - n) for n, item in zip(pattern, job.items, strict=True)]
                job = replace(job, items=tuple(left))
    return bars

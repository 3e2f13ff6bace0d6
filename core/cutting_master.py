"""The choice of patterns: a linear bound by column generation, then whole bars, by HiGHS.

The bound is a certificate in integers: give every piece a weight and find the greatest weight
that fits on one bar (exactly, `core.cutting_patterns.best_pattern`). Then the total weight of
the pieces, less what the remnants could carry, over the weight a new bar carries, rounded up,
is a number of new bars that no plan can go below. HiGHS only proposes the weights.

Lengths in whole units of a fraction of an inch (`core.cutting_input.Scale`). Source: duality of
linear programs, from memory; `tests/validation/test_cutting_optima.py` checks published optima.
"""

from __future__ import annotations

from collections import Counter
from contextlib import suppress
from dataclasses import dataclass, field, replace
from typing import Any

from core.cutting_patterns import (
    Job,
    Pattern,
    Stock,
    Work,
    WorkEnded,
    all_patterns,
    best_fill,
    best_pattern,
    first_fit,
)  # fmt: skip

Plan = list[tuple[int, Pattern]]
WEIGHT_SCALE = 10**6
MISSING_COST = 1000.0
MOST_PATTERNS = 12_000
# Steps of the pattern search for each second allowed: about what a slow laptop does.
STEPS_A_SECOND = 300_000


@dataclass
class Solution:
    """A plan with its proof: `plan` lists (stock, pattern), one for each bar."""

    job: Job
    plan: Plan
    bound: int
    proof: str
    weights: tuple[int, ...]
    first_fit: Plan
    missing_is_proved: bool = False
    ties_proved: bool = False


@dataclass
class _Search:
    """HiGHS calls of one job, sharing one allowance of seconds."""

    seconds: float
    duals: list[float] = field(default_factory=list)

    def run(self, costs, rows, kinds, share: float = 1.0, start=None) -> tuple[str, list[float]]:
        """Minimise over columns 0 <= x, `rows` as (low, high, {column: value}); returns status and x.

        `kinds` is one letter a column: "c" continuous, "i" integer, "b" zero or one.
        """
        import highspy  # heavy: loaded when a plan is asked for, not when the server starts

        model, infinite = highspy.Highs(), highspy.kHighsInf
        for name, value in (
            ("output_flag", False), ("parallel", "off"), ("mip_rel_gap", 0.0),
            # Costs are whole numbers: a gap under one is none.
            ("mip_abs_gap", 0.99), ("time_limit", max(0.05, self.seconds * share)),
        ):  # fmt: skip
            model.setOptionValue(name, value)
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(costs), len(rows)
        lp.col_cost_ = [float(c) for c in costs]
        lp.col_lower_, lp.col_upper_ = [0.0] * len(costs), [1.0 if k == "b" else infinite for k in kinds]
        lp.row_lower_ = [-infinite if low is None else float(low) for low, _, _ in rows]
        lp.row_upper_ = [infinite if high is None else float(high) for _, high, _ in rows]
        starts, index, value = [0], [], []
        for _, _, row in rows:
            index += row.keys()
            value += [float(v) for v in row.values()]
            starts.append(len(index))
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_, lp.a_matrix_.index_, lp.a_matrix_.value_ = starts, index, value
        if set(kinds) != {"c"}:
            whole, free = highspy.HighsVarType.kInteger, highspy.HighsVarType.kContinuous
            lp.integrality_ = [free if k == "c" else whole for k in kinds]
        model.passModel(lp)
        if start is not None:
            first = highspy.HighsSolution()
            first.col_value = [float(v) for v in start]
            model.setSolution(first)
        model.run()
        self.seconds = max(0.0, self.seconds - model.getRunTime())
        status, info = model.getModelStatus(), model.getInfo()
        if status == highspy.HighsModelStatus.kInfeasible:
            return "infeasible", []
        if info.primal_solution_status != 2:
            return "unknown", []
        done = "optimal" if status == highspy.HighsModelStatus.kOptimal else "found"
        self.duals = list(model.getSolution().row_dual)
        return done, list(model.getSolution().col_value)


def solve(job: Job, seconds: float) -> Solution:
    """Return the best plan found for a job and the proof of its number of new bars.

    Levels, each decided before the next: bars missing; new bars; their cost; the length of
    pieces taken from new bars (remnants first); waste; the longest kept offcut.

    Parameters
    ----------
    job : Job
    seconds : float
        Allowance of the solver, > 0.

    Returns
    -------
    Solution

    Source: Gilmore and Gomory's column generation, from memory.

    >>> from core.cutting_patterns import Item
    >>> job = Job((Item(6, 6, 0, 4),), (0,), (Stock(12, 12, None, True),), 0, 0)
    >>> found = solve(job, 1.0)
    >>> len(found.plan), found.bound  # by hand: two pieces of 6 in a bar of 12
    (2, 2)
    """
    if not all(any(s.count is None and _fits(job, s, i) for s in job.stocks) for i in range(len(job.items))):
        longest = max(job.stocks, key=lambda s: s.room)
        job = replace(job, stocks=(*job.stocks, replace(longest, count=None, is_new=True, is_missing=True, cost=0.0)))
    search = _Search(seconds)
    work = Work(round(seconds * STEPS_A_SECOND))
    best = greedy = first_fit(job)
    with suppress(WorkEnded):
        best = min(greedy, best_fill(job, Work(work.left // 4)), key=lambda plan: rank(job, plan))
    pool, bound, weights = {*greedy, *best}, 0, (0,) * len(job.items)
    if rank(job, best)[:2] != (0, 0):
        bound, weights = _generate(job, search, work, pool, rank(job, best))
        if rank(job, best)[:2] != (0, bound):
            best = min(best, _cover(job, search, pool) or best, key=lambda plan: rank(job, plan))
    missing, bars = rank(job, best)[:2]
    columns = _complete(job)
    result = Solution(job, best, bound, "weights", weights, greedy, missing == 0)
    if missing or bars > bound:
        _close(search, result, columns)
    if columns is not None and rank(job, result.plan)[0] == 0:
        # Tidier use of as many bars is worth less of a person's waiting than the proof.
        search.seconds = min(search.seconds, seconds / 4)
        _settle(search, result, columns)
    return result


def rank(job: Job, plan: Plan) -> tuple:
    """Return the plan's place in the order of wishes: less is better, level by level.

    >>> from core.cutting_patterns import Item
    >>> job = Job((Item(6, 6, 0, 4),), (0,), (Stock(13, 13, None, True),), 0, 0)
    >>> rank(job, [(0, (2,)), (0, (2,))])  # none missing, 2 new bars, no cost, 24 metal, 2 - 2 kept, longest kept 1
    (0, 2, 0, 24, 0, -1)
    """
    new = [(job.stocks[s], p) for s, p in plan if job.stocks[s].is_new]
    kept = [job.kept(job.stocks[s], p) for s, p in plan]
    return (
        sum(stock.is_missing for stock, _ in new),
        sum(not stock.is_missing for stock, _ in new),
        sum(round(100 * stock.cost) for stock, _ in new),
        sum(job.metal(p) for _, p in new),
        sum(job.stocks[s].length - job.metal(p) for s, p in plan) - sum(kept),
        -max(kept, default=0),
    )


def _fits(job: Job, stock: Stock, i: int) -> bool:
    return job.items[i].use + job.setups[job.items[i].group] <= stock.room


def _rows(job: Job, columns: Plan, exactly: bool) -> list[tuple]:
    """Return the rows every model needs: the demand of each item, the count of each stock."""
    rows = []
    for i, item in enumerate(job.items):
        row = {c: p[i] for c, (_, p) in enumerate(columns) if p[i]}
        rows.append((item.demand, item.demand if exactly else None, row))
    for s, stock in enumerate(job.stocks):
        row = {c: 1 for c, (t, _) in enumerate(columns) if t == s}
        rows.append((None, stock.count, row))
    return rows


def _price(stock: Stock) -> float:
    return MISSING_COST if stock.is_missing else float(stock.is_new)


def _generate(job: Job, search: _Search, work: Work, pool: set, start: tuple) -> tuple[int, tuple[int, ...]]:
    """Add patterns to `pool` until the linear optimum is reached; returns the best bound and its weights."""
    best, best_weights = 0, (0,) * len(job.items)
    size = len(job.items)
    # Ends: each round adds a pattern that was not there, or stops; time and steps are counted down.
    while True:
        columns = sorted(pool)
        status, _ = search.run(
            [_price(job.stocks[s]) for s, _ in columns], _rows(job, columns, False), "c" * len(columns)
        )
        if status != "optimal":
            break
        duals = search.duals
        weights = tuple(max(0, round(d * WEIGHT_SCALE)) for d in duals[:size])
        tops: dict[int, tuple[int, Pattern]] = {}
        try:
            for room in {stock.room for stock in job.stocks}:
                tops[room] = best_pattern(job, room, weights, work)
        except WorkEnded:
            break
        bound = bars_needed(job, weights, {room: top for room, (top, _) in tops.items()})
        if bound > best:
            best, best_weights = bound, weights
        fresh = {
            (s, tops[stock.room][1]) for s, stock in enumerate(job.stocks)
            if any(tops[stock.room][1])
            and tops[stock.room][0] / WEIGHT_SCALE + duals[size + s] > _price(stock) + 1e-6
        } - pool  # fmt: skip
        if not fresh or (start[0] == 0 and best >= start[1]) or search.seconds <= 0:
            break
        pool |= fresh
    return best, best_weights


def bars_needed(job: Job, weights: tuple[int, ...], tops: dict[int, int]) -> int:
    """Return the least number of new bars the weights prove, remnants all used to the full.

    `tops` holds the greatest weight that fits on a bar, by room. Bars that are missing are
    not counted on; when all on hand carry too little, the answer is the number of them all.

    >>> from core.cutting_patterns import Item
    >>> job = Job((Item(6, 6, 0, 5),), (0,), (Stock(12, 12, None, True),), 0, 0)
    >>> bars_needed(job, (1,), {12: 2})  # by hand: 5 pieces, 2 a bar
    3
    """
    left = sum(w * item.demand for w, item in zip(weights, job.items, strict=True))
    left -= sum(tops[s.room] * (s.count or 0) for s in job.stocks if not s.is_new)
    bars = 0
    for stock in sorted((s for s in job.stocks if s.is_new and not s.is_missing), key=lambda s: -tops[s.room]):
        if left <= 0 or not tops[stock.room]:
            break
        take = -(-left // tops[stock.room])
        take = take if stock.count is None else min(take, stock.count)
        bars, left = bars + take, left - take * tops[stock.room]
    return bars


def _cover(job: Job, search: _Search, pool: set) -> Plan | None:
    """Return the best whole-bar plan over the patterns found so far, surplus pieces taken off."""
    columns = sorted(pool)
    costs = [_price(job.stocks[s]) for s, _ in columns]
    _, x = search.run(costs, _rows(job, columns, False), "i" * len(columns), share=0.4)
    return _trimmed(job, columns, x) if x else None


def _trimmed(job: Job, columns: Plan, x: list[float]) -> Plan | None:
    """Return a plan with the exact demand: surplus comes off the new bars first, emptiest first."""
    plan = [[s, list(p)] for c, (s, p) in enumerate(columns) for _ in range(round(x[c]))]
    plan.sort(key=lambda bar: (not job.stocks[bar[0]].is_new, job.used(tuple(bar[1]))))
    for i, item in enumerate(job.items):
        surplus = sum(p[i] for _, p in plan) - item.demand
        if surplus < 0:
            return None
        for _, p in plan:
            off = min(surplus, p[i])
            p[i], surplus = p[i] - off, surplus - off
    return [(s, tuple(p)) for s, p in plan if any(p)]


def _complete(job: Job) -> Plan | None:
    """Return every pattern of every stock, or None when they are too many to list."""
    found: dict[int, list[Pattern] | None] = {}
    columns: Plan = []
    for s, stock in enumerate(job.stocks):
        if stock.room not in found:
            found[stock.room] = all_patterns(job, stock.room, MOST_PATTERNS)
        patterns = found[stock.room]
        if patterns is None or len(columns) + len(patterns) > MOST_PATTERNS:
            return None
        columns += [(s, p) for p in patterns]
    return columns


def _near(job: Job, result: Solution) -> Plan | None:
    """Return every pattern a plan with one new bar less could use, by the weights' own slack."""
    weights, bars = result.weights, rank(job, result.plan)[1] - 1
    tops = {stock.room: best_pattern(job, stock.room, weights)[0] for stock in job.stocks}
    real = [s for s in job.stocks if not s.is_missing]
    slack = bars * max((tops[s.room] for s in real if s.is_new), default=0)
    slack += sum(tops[s.room] * s.count for s in real if not s.is_new)
    slack -= sum(w * item.demand for w, item in zip(weights, job.items, strict=True))
    highest = max((tops[s.room] for s in real if s.is_new), default=0)
    columns: Plan = []
    for s, stock in enumerate(job.stocks):
        if stock.is_missing:
            continue
        least = (highest if stock.is_new else tops[stock.room]) - slack
        patterns = all_patterns(job, stock.room, MOST_PATTERNS, weights, max(0, least))
        if patterns is None or len(columns) + len(patterns) > MOST_PATTERNS:
            return None
        columns += [(s, p) for p in patterns]
    return columns


def _close(search: _Search, result: Solution, complete: Plan | None) -> None:
    """Search all patterns for fewer bars; sets the plan and, if the search ends, the bound."""
    job, missing = result.job, rank(result.job, result.plan)[0]
    # The patterns near the bound are fewer than all of them, and enough to prove it.
    columns = complete if missing else _near(job, result)
    columns = complete if columns is None else columns
    if columns is None or search.seconds <= 0:
        return
    rows = _rows(job, columns, True)
    if not missing:
        fewer = {c: 1 for c, (s, _) in enumerate(columns) if job.stocks[s].is_new}
        rows.append((result.bound, rank(job, result.plan)[1] - 1, fewer))
    costs = [_price(job.stocks[s]) for s, _ in columns]
    status, x = search.run(costs, rows, "i" * len(columns), share=0.7)
    if x:
        plan = _trimmed(job, columns, x)
        if plan is None:
            return
        result.plan = min(result.plan, plan, key=lambda one: rank(job, one))
    if status in ("infeasible", "optimal"):
        result.missing_is_proved = True
        bars = rank(job, result.plan)[1]
        if bars > result.bound:
            result.bound, result.proof = bars, "search"


def _settle(search: _Search, result: Solution, columns: Plan) -> None:
    """Decide the levels below the number of new bars over every pattern; each optimum becomes a row."""
    job = result.job
    stocks = [job.stocks[s] for s, _ in columns]
    rows = [*_rows(job, columns, True), (None, 0, {c: 1 for c, stock in enumerate(stocks) if stock.is_missing})]
    bars = rank(job, result.plan)[1]
    rows.append((bars, bars, {c: 1 for c, stock in enumerate(stocks) if stock.is_new}))
    kept = [job.kept(stock, p) for stock, (_, p) in zip(stocks, columns, strict=True)]
    levels: list[list[Any]] = [
        [round(100 * stock.cost) if stock.is_new else 0 for stock in stocks],
        [job.metal(p) if stock.is_new else 0 for stock, (_, p) in zip(stocks, columns, strict=True)],
        [stock.length - k for stock, k in zip(stocks, kept, strict=True)],
    ]
    if all(stock.is_new for stock in stocks):
        levels[1] = [0] * len(stocks)
    kinds, proved = "i" * len(columns), True

    def try_level(costs: list[Any], extra_rows: list[tuple], extra: str, share: float) -> bool:
        nonlocal proved
        counts = Counter(result.plan)
        start = [float(counts[bar]) for bar in columns] + [0.0] * len(extra)
        status, x = search.run(costs, rows + extra_rows, kinds + extra, share, start)
        plan = _trimmed(job, columns, x) if x else None
        if plan is not None and rank(job, plan) < rank(job, result.plan):
            result.plan = plan
        proved = proved and status == "optimal"
        return proved

    for costs in levels:
        if len(set(costs)) == 1 and not costs[0]:
            continue
        if not try_level(costs, [], "", 0.4):
            return
        counts = Counter(result.plan)
        reached = sum(cost * counts[bar] for cost, bar in zip(costs, columns, strict=True))
        rows.append((None, reached, {c: cost for c, cost in enumerate(costs) if cost}))
    lengths = sorted({k for k in kept if k})
    if lengths:
        first = len(columns)
        extra_rows = [(None, 1, {first + n: 1 for n in range(len(lengths))})]
        for n, length in enumerate(lengths):
            extra_rows.append((0, None, {**{c: 1 for c, k in enumerate(kept) if k == length}, first + n: -1}))
        try_level([0] * first + [-length for length in lengths], extra_rows, "b" * len(lengths), 0.7)
    result.ties_proved = proved

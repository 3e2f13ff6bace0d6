"""Ways to get an inner tube that fits, and what each one costs. Lengths in inches."""

from __future__ import annotations

import math
from fractions import Fraction

from core.fit import LARGEST_CLEARANCE
from core.methods.inner_sleeve_input import InnerJob, exact_length
from core.quantity import fine_text
from core.stock_sizes import sizes_at_bore
from core.tube import size_text

# What a 1-5/8 x .120 tube leaves to a 1-3/8 in sleeve; a slide fit. Common practice, no source.
SLIDE = Fraction(10, 1000)
MEETS, ASK, NO = "meets the rules on paper", "ask the inspector", "not met"


def options(job: InnerJob) -> list[dict[str, str]]:
    """Return the four ways to an inner tube: usual size, turned, slit, bored.

    Parameters
    ----------
    job : InnerJob

    Returns
    -------
    list of dict
        ``way``, ``size``, ``standing``, ``text``, ``cost``; no way is left out, also where
        it misses a rule.

    Source: starter size list, from memory, availability varies; rules AC 43.13-1B 4-95, from memory.

    >>> import json
    >>> from core.methods.inner_sleeve_input import EXAMPLE, read_inner_job
    >>> [(way["way"], way["standing"]) for way in options(read_inner_job(json.loads(EXAMPLE)))][0]
    ('usual size', 'meets the rules on paper')
    """
    bore = job.tube.od.inches - 2 * job.tube.wall.inches
    return [*_usual(job, bore), _turned(job, bore), _slit(job, bore), _bored(job, bore)]


def _usual(job: InnerJob, bore: Fraction) -> list[dict[str, str]]:
    fits = [part for part in sizes_at_bore(job.tube) if 0 <= bore - part.od.inches <= LARGEST_CLEARANCE]
    good = [part for part in fits if part.wall.inches >= job.tube.wall.inches]
    if not good:
        return [_row("usual size", "none", NO,
                     f"No usual inner tube by 1/8 in fits a bore of {fine_text(float(bore), job.metric)} with clearance 0 to 1/16 in and wall {job.tube.wall.typed} or more.",
                     "Needs one of the other ways, or another repair method.")]  # fmt: skip
    return [_row("usual size", size_text(part), MEETS,
                 f"Slides in with {fine_text(float(bore - part.od.inches), job.metric)} on the diameter.",
                 "No machine work. Stock and wall vary: measure both.") for part in good[:3]]  # fmt: skip


def _turned(job: InnerJob, bore: Fraction) -> dict[str, str]:
    target = bore - SLIDE
    over = [part for part in sizes_at_bore(job.tube) if part.od.inches > target]
    left = {part: part.wall.inches - (part.od.inches - target) / 2 for part in over}
    enough = [part for part in over if left[part] >= job.tube.wall.inches]
    cost = "Machine work. The sleeve's wall gets thinner: check what is left all round, the bore may be off centre."
    if not enough:
        return _row("turned down", "none", NO, "No usual tube keeps the tube's wall after turning.", cost)
    part = min(enough, key=lambda one: (one.od.inches, one.wall.inches))
    keep = exact_length(left[part], job.metric).typed
    return _row("turned down", size_text(part), MEETS, f"Turn to {fine_text(float(target), job.metric)}. Wall left: {keep}.", cost)


def _slit(job: InnerJob, bore: Fraction) -> dict[str, str]:
    target = bore - SLIDE
    over = [part for part in sizes_at_bore(job.tube) if part.od.inches > target and part.wall.inches >= job.tube.wall.inches]
    cost = "No longer a closed tube. Inside the tube its slit cannot be reached to weld it. The circular's sleeve is a tube."
    if not over:
        return _row("slit and closed", "none", NO, "No usual tube is a little larger than the bore with enough wall.", cost)
    part = min(over, key=lambda one: (one.od.inches, one.wall.inches))
    strip = math.pi * float(part.od.inches - target)
    return _row("slit and closed", size_text(part), ASK, f"Take out a strip {fine_text(strip, job.metric, 'up')} wide, close it to {fine_text(float(target), job.metric)}.", cost)


def _bored(job: InnerJob, bore: Fraction) -> dict[str, str]:
    over = [part for part in sizes_at_bore(job.tube) if part.od.inches > bore and part.wall.inches >= job.tube.wall.inches
            and part.od.inches + SLIDE < job.tube.od.inches]  # fmt: skip
    cost = "Thins the tube that stays in the car, and the thin ring ends beside the weld. The tube's own wall is no longer what the rules asked for."
    if not over:
        return _row("tube bored out", "none", NO, "No usual tube is a little larger than the bore with enough wall.", cost)
    part = min(over, key=lambda one: (one.od.inches, one.wall.inches))
    left = (job.tube.od.inches - part.od.inches - SLIDE) / 2
    return _row("tube bored out", size_text(part), NO,
                f"Bore the stubs to {fine_text(float(part.od.inches + SLIDE), job.metric)}. Wall left: {exact_length(left, job.metric).typed} of {job.tube.wall.typed}.",
                cost)  # fmt: skip


def _row(way: str, size: str, standing: str, text: str, cost: str) -> dict[str, str]:
    return {"way": way, "size": size, "standing": standing, "text": text, "cost": cost}

"""The rules of a larger replacement tube, applied one at a time. Lengths in inches, angles in degrees."""

from __future__ import annotations

from dataclasses import replace

from core.fit import fit_checks
from core.lengths import Length
from core.methods.common import angle_check, overlap_text, share_text
from core.methods.larger_tube_input import LargerJob
from core.quantity import fine_text
from core.rules import Check, clause, verdict
from core.sleeve import required_overlap
from core.tube import Tube

RULE = clause("larger-tube").label()
BY_HAND = "geometry by hand"
SHORT_STUB, LONG_STUB = 2.5, 4.5
WORDS = (("Tube and sleeve are", "Old tube and new tube are"), ("sleeve", "new tube"), ("Sleeve", "New tube"))


def all_checks(job: LargerJob, reach: float, cover: float, travel: float) -> list[Check]:
    """Return every check of a larger replacement tube.

    Parameters
    ----------
    job : LargerJob
    reach : float
        Overlap on each side on the new tube's outside, inches.
    cover : float
        Stub hidden under the new tube's tips on each side, centred, inches.
    travel : float
        Long stub hidden while the new tube is slid fully on, inches.

    Returns
    -------
    list of Check
        In the order a person works through them.

    Source: AC 43.13-1B (Change 1, 2001) 4-97; cover and travel by hand.

    >>> import json
    >>> from core.methods.larger_tube_input import EXAMPLE, read_larger_job
    >>> job = read_larger_job(json.loads(EXAMPLE))
    >>> {check.id: check.verdict for check in all_checks(job, 2.4375, 4.0625, 9.001)}["travel"]
    'not met'
    """
    return [
        _overlap(job, reach),
        *fit_rules(job.tube, job.sleeve, job.metric),
        _stub(job, "short_stub", job.stub_short, SHORT_STUB),
        _stub(job, "long_stub", job.stub_long, LONG_STUB),
        _cover(job, cover),
        _travel(job, travel),
        *_ends(job),
    ]


def fit_rules(tube: Tube, larger: Tube, metric: bool) -> list[Check]:
    """Return the checks of the larger tube alone, before it is cut, as `core.fit.fit_checks`.

    Parameters
    ----------
    tube, larger : Tube
        The damaged tube and the new one; inches.
    metric : bool
        Whether the texts are in millimetres.

    Returns
    -------
    list of Check
        In the words and under the clause of this method.

    Source: AC 43.13-1B (Change 1, 2001) 4-97.

    >>> import json
    >>> from core.methods.larger_tube_input import EXAMPLE, read_larger_job
    >>> job = read_larger_job(json.loads(EXAMPLE))
    >>> [(check.id, check.verdict) for check in fit_rules(job.tube, job.sleeve, False)]
    [('clearance', 'met'), ('clearance_worst', 'unknown'), ('wall', 'met'), ('material', 'met'), ('seam', 'met')]
    """
    return [_reworded(check) for check in fit_checks(tube, larger, metric)]


def words(text: str) -> str:
    """Return a text about a sleeve in the words of this method.

    Parameters
    ----------
    text : str
        Any text; lengths in it stay as they are.

    Returns
    -------
    str
        The text with "new tube" for "sleeve".

    Source: none needed; wording only.

    >>> words("Tube and sleeve are of one steel. Sleeve first.")
    'Old tube and new tube are of one steel. New tube first.'
    """
    for old, new in WORDS:
        text = text.replace(old, new)
    return text


def _reworded(check: Check) -> Check:
    """Return a check of `core.fit` in the words and under the clause of this method."""

    # What core.fit cites is the outer sleeve's clause; seam and tolerances keep their own source.
    cited = RULE if check.clause == clause("outer-sleeve").label() else check.clause
    return replace(check, clause=cited, limit=words(check.limit), text=words(check.text))


def _overlap(job: LargerJob, reach: float) -> Check:
    need = required_overlap(job.tube.D)
    met = reach >= need - 1e-9
    share = share_text(reach / job.tube.D, 3)
    text = (f"The new tube reaches {share} D past each stub end." if met else
            f"Too short: {share} D past each stub end. Cut a new tube at the rule length or longer.")  # fmt: skip
    return Check("overlap", RULE, overlap_text(reach, need, job.metric), f"at least {fine_text(need, job.metric, 'up')} (1.5 D)",
                 verdict(met), text)  # fmt: skip


def _stub(job: LargerJob, name: str, stub: Length | None, diameters: float) -> Check:
    what = name.replace("_", " ")
    need = diameters * job.tube.D
    limit = f"at least {fine_text(need, job.metric, 'up')} ({diameters} D)"
    if stub is None:
        return Check(name, RULE, "not measured", limit, verdict(None),
                     f"Measure the {what}, from its end to the nearest joint, bend or tab.")  # fmt: skip
    met = float(stub) >= need - 1e-9
    text = f"The {what} is long enough." if met else f"The {what} is too short for this repair. Choose another method."
    return Check(name, RULE, stub.typed, limit, verdict(met), text)


def _cover(job: LargerJob, cover: float) -> Check:
    limit = f"at least {fine_text(cover, job.metric, 'up')} of bare stub"
    if job.stub_short is None:
        return Check("tips", BY_HAND, "not measured", limit, verdict(None), "Measure the short stub. The tips must not run into its joint, bend or tab.")
    met = float(job.stub_short) >= cover - 1e-9
    text = ("The tips end before the short stub's joint, bend or tab." if met else
            "The tips run into the short stub's joint, bend or tab. Use a shallower cut or a fishmouth, or another method.")  # fmt: skip
    return Check("tips", BY_HAND, job.stub_short.typed, limit, verdict(met), text)


def _travel(job: LargerJob, travel: float) -> Check:
    limit = f"at least {fine_text(travel, job.metric, 'up')} of bare long stub"
    if job.stub_long is None:
        return Check("travel", BY_HAND, "not measured", limit, verdict(None), "Measure the long stub. The new tube must slide fully onto it.")
    met = float(job.stub_long) >= travel - 1e-9
    if met:
        text = "The new tube slides onto the long stub until its other end clears the short stub."
    else:
        short_by = fine_text(travel - float(job.stub_long), job.metric, "up")
        text = (f"The new tube cannot be slid on: the long stub is {short_by} too short to take it while its other end clears the short stub. "
                "Use a shallower cut, free more of the long stub, or another method.")  # fmt: skip
    return Check("travel", BY_HAND, job.stub_long.typed, limit, verdict(met), text)


def _ends(job: LargerJob) -> list[Check]:
    end = job.cut.end
    text = {
        "fishmouth": "Fishmouth: the end the circular prefers. File the sharp crotch out round.",
        "scarf": "A diagonal end. The circular prefers a fishmouth.",
        "pointed": "A pointed end is two diagonal cuts. The circular draws a diagonal and a fishmouth: ask the inspector if they take it.",
        "square": "The circular asks for diagonal or fishmouth ends. A square end puts the whole weld on one line around the tube.",
    }[end]
    outcome = {"square": False, "pointed": None}.get(end, True)
    found = [Check("end", RULE, end, "diagonal or fishmouth", verdict(outcome), text)]
    if end != "square":
        # The 30 degrees are written in 4-92; 4-97 gives no angle.
        found.append(angle_check(job.cut, clause("split-sleeve").label()))
    return found

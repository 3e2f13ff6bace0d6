"""The rules of an inner sleeve, applied one at a time. Lengths in inches, angles in degrees."""

from __future__ import annotations

from fractions import Fraction

from core.fit import LARGEST_CLEARANCE, Clearance, limit_text, wall_story, worst_check
from core.materials import same_class
from core.methods.common import angle_check, overlap_text, share_text
from core.methods.inner_sleeve_input import InnerJob
from core.quantity import fine_text
from core.rules import Check, clause, verdict
from core.sleeve import required_overlap

RULE = clause("inner-sleeve").label()
RULE_GAP, GAP_LEEWAY = Fraction(1, 8), Fraction(1, 32)


def all_checks(job: InnerJob, reach: float, fit: Clearance, spare_fit: Clearance | None) -> list[Check]:
    """Return every check of an inner sleeve.

    Parameters
    ----------
    job : InnerJob
    reach : float
        Overlap on each side, inches (`core.methods.inner_sleeve_geometry.inner_overlap`).
    fit, spare_fit : Clearance
        Of the sleeve in the tube, and in a replacement that was given, else None.

    Returns
    -------
    list of Check
        In the order a person works through them.

    Source: AC 43.13-1B (Change 1, 2001) 4-95, from memory; leeway of the gap common practice.

    >>> import json
    >>> from core.fit import clearance
    >>> from core.methods.inner_sleeve_input import EXAMPLE, read_inner_job
    >>> job = read_inner_job(json.loads(EXAMPLE))
    >>> [check.verdict for check in all_checks(job, 2.437, clearance(job.sleeve, job.tube), None) if check.id in ("overlap", "wall")]
    ['not met', 'met']
    """
    return [_overlap(job, reach), *fit_rules(job, fit), _gap(job), angle_check(job.cut, RULE), *_replacement(job, spare_fit)]


def fit_rules(job: InnerJob, fit: Clearance) -> list[Check]:
    """Return the checks of the tube alone, before it is cut: clearance, worst case, bead, wall, material.

    Parameters
    ----------
    job : InnerJob
        Tube and inner tube; inches.
    fit : Clearance
        Of the sleeve in the tube, on the diameter, inches.

    Returns
    -------
    list of Check
        In that order.

    Source: AC 43.13-1B (Change 1, 2001) 4-95, from memory; bead common practice, no source.

    >>> import json
    >>> from core.fit import clearance
    >>> from core.methods.inner_sleeve_input import EXAMPLE, read_inner_job
    >>> job = read_inner_job(json.loads(EXAMPLE))
    >>> [(check.id, check.verdict) for check in fit_rules(job, clearance(job.sleeve, job.tube))][:3]
    [('clearance', 'met'), ('clearance_worst', 'met'), ('bead', 'met')]
    """
    return [_clearance(job), worst_check(fit, job.metric, "in", "both tubes"), _bead(job), _wall(job), _material(job)]


def _overlap(job: InnerJob, reach: float) -> Check:
    need = required_overlap(job.tube.D)
    met = reach >= need - 1e-9
    share = share_text(reach / job.tube.D, 3)
    text = (f"Each sleeve end reaches {share} D past the nearest end of its cut." if met else
            f"Too short: {share} D past the nearest end of the cut. Cut a new sleeve at the rule length or longer.")  # fmt: skip
    return Check("overlap", RULE, overlap_text(reach, need, job.metric), f"at least {fine_text(need, job.metric, 'up')} (1.5 D)",
                 verdict(met), text)  # fmt: skip


def _room(job: InnerJob, outer) -> Fraction:
    return outer.od.inches - 2 * outer.wall.inches - job.sleeve.od.inches


def _clearance(job: InnerJob) -> Check:
    exact = _room(job, job.tube)
    met = 0 <= exact <= LARGEST_CLEARANCE
    if exact < 0:
        text = "The sleeve is larger than the tube's bore. It will not go in. See the ways listed under options."
    elif not met:
        text = "The sleeve is too loose in the tube. Choose a larger sleeve, or see the ways listed under options."
    elif exact == 0:
        text = "Bore and sleeve are the same size on paper. Measure both; it may not slide."
    else:
        text = "The sleeve slides in with room inside the limit. Measure both before cutting."
    return Check("clearance", RULE, fine_text(float(exact), job.metric), f"{limit_text(job.metric)} on the diameter", verdict(met), text)


def _bead(job: InnerJob) -> Check:
    rule = clause("seam-practice").label()
    if job.bead:
        free = min(_room(job, part) for part in (job.tube, job.replacement)) - job.bead.inches
        met = free >= 0
        text = ("The sleeve passes the bead on paper. It lies to one side of the bore. Try it before you cut." if met else
                "The bead stops the sleeve. Take the bead out full length, use a smaller sleeve inside the limit, or another method.")  # fmt: skip
        return Check("bead", rule, f"{fine_text(float(free), job.metric)} free past a bead of {job.bead.typed}",
                     "0 or more free past the bead", verdict(met), text)  # fmt: skip
    seams = [_seam(part) for part in (job.tube, job.replacement)]
    seam = next((word for word in ("bead", "unknown", "removed") if word in seams), "none")
    outcome = {"none": True, "removed": True, "bead": False, "unknown": None}[seam]
    text = {
        True: "No weld bead inside the tube.",
        False: "The bead inside the tube takes the room the sleeve needs. Measure its height and enter it, have it taken out full length, or use another method.",
        None: "Feel inside the tube for a weld bead. Then set the seam.",
    }[outcome]
    given = {"none": "no bead", "removed": "bead removed", "bead": "bead inside, height not given", "unknown": "not looked at"}[seam]
    return Check("bead", rule, given, "no bead in the sleeve's way", verdict(outcome), text)


def _seam(part) -> str:
    return "none" if part.seam == "unknown" and part.material.process in ("dom", "seamless") else part.seam


def _wall(job: InnerJob) -> Check:
    met = job.sleeve.wall.inches >= job.tube.wall.inches
    text = "The sleeve's wall is at least the tube's." if met else wall_story(job.tube, job.sleeve)
    after = " after turning" if job.turned else ""
    return Check("wall", RULE, job.sleeve.wall.typed + after, f"at least {job.tube.wall.typed}", verdict(met), text)


def _material(job: InnerJob) -> Check:
    outcome = same_class(job.tube.material, job.sleeve.material)
    text = {
        True: "Tube and sleeve are of the same class of steel.",
        None: "The steel of one of them is not known. Find the certificate or the mark first.",
        False: "Tube and sleeve are of different steels. The circular asks for the same material. Choose another sleeve.",
    }[outcome]
    return Check("material", RULE, f"{job.sleeve.material.name} in {job.tube.material.name}", "the same material", verdict(outcome), text)


def _gap(job: InnerJob) -> Check:
    met = abs(job.gap.inches - RULE_GAP) <= GAP_LEEWAY
    if met:
        text = "The weld goes through the gap into the sleeve."
    elif job.gap.inches < RULE_GAP:
        text = "The gap is too tight for the weld to reach the sleeve. File the replacement shorter."
    else:
        text = "The gap is too wide. Fit a longer replacement piece."
    limit = "3.18 mm, 0.79 mm each way" if job.metric else "1/8 in, 1/32 in each way"
    return Check("gap", RULE, f"{job.gap.typed} along the axis", f"{limit} (leeway: common practice, no source)", verdict(met), text)


def _replacement(job: InnerJob, fit: Clearance | None) -> list[Check]:
    if fit is None:
        return []
    spare, tube = job.replacement, job.tube
    same_od = spare.od.inches == tube.od.inches
    thick = spare.wall.inches >= tube.wall.inches
    steel = same_class(tube.material, spare.material)
    outcome = False if not (same_od and thick) or steel is False else steel
    text = {
        True: "The replacement has the tube's steel and diameter, and at least its wall.",
        None: "The steel of tube or replacement is not known. Find the certificate or the mark first.",
        False: "The replacement must have the tube's steel and diameter, and at least its wall. Choose another piece.",
    }[outcome]
    room = _room(job, spare)
    fits = 0 <= room <= LARGEST_CLEARANCE
    return [
        Check("replacement", RULE, spare.name(), f"{tube.od.typed}, wall at least {tube.wall.typed}, the same material", verdict(outcome), text),
        Check("clearance_replacement", RULE, fine_text(float(room), job.metric), f"{limit_text(job.metric)} on the diameter", verdict(fits),
              "The sleeve slides into the replacement." if fits else "The sleeve does not fit the replacement's bore. Choose a replacement with another wall."),
    ]  # fmt: skip

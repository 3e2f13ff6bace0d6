"""The words a form can offer, so that no page keeps a list of its own. Gauges in inches, angles in degrees."""

from __future__ import annotations

from typing import Any

from core.assess_input import ANSWERS, DAMAGE_KINDS, KNOWN_BY, LENGTHS, QUESTIONS
from core.gauges import GAUGE_INCHES
from core.materials import MATERIALS
from core.sleeve import ENDS, STEEPEST_MITRE
from core.tube import SEAMS

END_TEXT = {
    "fishmouth": "V notch, rounded tips. The circular prefers it.",
    "pointed": "Two mirrored mitres, sharp tips. Common in shops.",
    "scarf": "One flat diagonal cut.",
    "square": "Straight cut. The circular does not draw it.",
}
SEAM_TEXT = {"none": "no bead", "bead": "bead inside", "removed": "bead removed", "unknown": "not looked at"}


def choices() -> dict[str, Any]:
    """Return every list a form offers: materials, ends, seams, gauges, damage, questions.

    Returns
    -------
    dict
        ``materials``, ``ends``, ``steepest_mitre``, ``seams``, ``gauges``, ``damage``,
        ``answers``, ``known_by``, ``questions``, ``lengths``.

    Source: the modules the lists come from; the texts of the ends AC 43.13-1B 4-96 and 4-97.

    >>> [end["key"] for end in choices()["ends"]]
    ['fishmouth', 'pointed', 'scarf', 'square']
    """
    return {
        "materials": [{"key": m.key, "name": m.name, "class": m.steel_class, "process": m.process, "note": m.note} for m in MATERIALS.values()],
        "ends": [{"key": end, "text": END_TEXT[end]} for end in sorted(ENDS, key=list(END_TEXT).index)],
        "steepest_mitre": STEEPEST_MITRE,
        "seams": [{"key": seam, "text": SEAM_TEXT[seam]} for seam in SEAMS],
        "gauges": [{"gauge": number, "in": float(wall)} for number, wall in GAUGE_INCHES.items()],
        "damage": list(DAMAGE_KINDS),
        "answers": list(ANSWERS),
        "known_by": list(KNOWN_BY),
        "questions": dict(QUESTIONS),
        "lengths": dict(LENGTHS),
    }

"""What a sized job says on its tag and in the words of its checklist."""

from __future__ import annotations

from typing import Any

from core.job import result
from core.quantity import decimal_text
from core.rules import clause
from core.size_input import read_size_job


def summary(data: Any) -> dict[str, Any]:
    """Return the tag's essentials and the checklist's figures for one sizing job.

    Parameters
    ----------
    data : mapping
        See `core.size_input.read_size_job`.

    Returns
    -------
    dict
        ``tag``: tube, sleeve, material, end, mitre_deg, length, method, clause as text;
        ``context``: the members `core.checklist.checklist_for` takes.

    Raises
    ------
    Problem

    Source: `core.job`.
    """
    job = read_size_job(data)
    sized = result(job)
    length = sized["length"]["given"] if job.length else sized["length"]["blank"]
    hole = sized["rosette"]["sizes"][0]["diameter"]["text"]
    mitre = "square" if job.cut.end == "square" else f"{job.cut.mitre_deg:g}°"
    return {
        "tag": {
            "tube": _plain(job.tube), "sleeve": _plain(job.sleeve), "material": job.sleeve.material.name,
            "end": job.cut.end, "mitre_deg": f"{job.cut.mitre_deg:g}", "length": length["text"],
            "method": "outer sleeve", "clause": clause("outer-sleeve").label(),
        },
        "context": {
            "tube": _plain(job.tube), "sleeve": _plain(job.sleeve), "blank_length": length["text"], "mitre": mitre,
            "hole_diameter": hole, "material": job.sleeve.material.name, "od": job.D, "wall": job.tube.t,
            "rule_length": sized["length"]["rule"]["in"], "end_shape": job.cut.end, "metric": job.metric,
            **({"material_class": job.tube.material.steel_class} if job.tube.material.steel_class != "unknown" else {}),
        },
    }  # fmt: skip


def _plain(tube) -> str:
    """Return a tube for a tag, in decimals: "1.625 x .120 1020 DOM"."""
    if tube.od.is_metric:
        return f"{decimal_text(tube.od.mm, 2)} x {decimal_text(tube.wall.mm, 2)} mm {tube.material.name}"
    wall = f"{float(tube.wall):.3f}".lstrip("0")
    return f"{decimal_text(tube.od.inches, 4)} x {wall} {tube.material.name}"

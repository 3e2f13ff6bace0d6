"""The developed blank as a DXF drawing, for a plasma, laser or water-jet table or a CAD system."""

from __future__ import annotations

import io

from core.template import Template
from core.template_layout import LEADING, panel_words

LAYERS = {"CUT": 7, "TIP_LINES": 3, "SLITS": 5, "DAMAGE": 6, "HOLES": 1, "TEXT": 8}  # AutoCAD colour index
LINE_LAYERS = {"slit": "SLITS", "damage": "DAMAGE"}
DASHED = ("TIP_LINES", "SLITS", "DAMAGE")
TYPE = 3.6


def template_dxf(template: Template) -> str:
    """Return the developed blank as DXF R2010 text, units millimetres.

    Layers: CUT (one closed polyline, no glue flap, chords within 0.01 mm of the curve),
    TIP_LINES, SLITS, DAMAGE, HOLES (circles), TEXT (below the blank, with DEMO inside a demo's). For a
    blank to roll or compare with a tube, build the template with paper 0.

    Parameters
    ----------
    template : Template

    Source: DXF reference (Autodesk), $INSUNITS 4 = millimetres, from memory; read back with ezdxf in tests.
    """
    # Imported here: it takes longer to load than the rest of the server.
    import ezdxf
    from ezdxf import units
    from ezdxf.enums import TextEntityAlignment

    drawing = ezdxf.new("R2010", setup=["linetypes"], units=units.MM)
    for name, colour in LAYERS.items():
        drawing.layers.add(name, color=colour, linetype="DASHED" if name in DASHED else "CONTINUOUS")
    space = drawing.modelspace()
    space.add_lwpolyline(template.blank, close=True, dxfattribs={"layer": "CUT"})
    for line in template.tip_lines:
        space.add_line((line.s, line.low), (line.s, line.high), dxfattribs={"layer": "TIP_LINES"})
    for line in template.lines:
        space.add_lwpolyline(line.points, close=line.closed, dxfattribs={"layer": LINE_LAYERS[line.kind]})
    for hole in template.holes:
        space.add_circle((hole.s, hole.z), hole.diameter / 2, dxfattribs={"layer": "HOLES"})
    for i, line in enumerate(_lines(template)):
        words = space.add_text(line, height=TYPE, dxfattribs={"layer": "TEXT"})
        words.set_placement((0, template.low - 10 - i * LEADING * TYPE * 1.2))
    for line in panel_words(template) if template.demo else []:
        words = space.add_text(line.text, height=line.size * 0.72, dxfattribs={"layer": "TEXT"})
        words.set_placement((line.x, line.y), align=TextEntityAlignment.CENTER)
    out = io.StringIO()
    drawing.write(out)
    return out.getvalue()


def _lines(template: Template) -> list[str]:
    """Return the text without the lines about printing and gluing, which mean nothing on a blank."""
    paper = ("Print at", "Paper join", "Drawn for", "Wrap on", "Lay the", "The paper", "Turn the paper", "Other end: turn", "Paper")
    kept = [line for line in template.text if not line.startswith(paper)]
    return [*kept, f"{'Developed around' if template.wraps else 'Flat width'} {template.around:.3f} mm. Units: mm."]

"""Questions to the core; nothing is kept."""

from __future__ import annotations

from flask import Blueprint, Response, current_app, request

from core.lengths import read_length
from core.tube import one_of
from fieldapp import __version__, services
from fieldapp.body import answer, json_object
from fieldapp.rule_sheet import current_sheet
from fieldapp.store import meta
from fieldapp.views.devices import health_members
from fieldapp.writes import store

compute = Blueprint("compute", __name__, url_prefix="/api")


@compute.get("/health")
def health() -> Response:
    """Tell that the server is there, its version and time, how its data file is, and what the caller may do."""
    demo = current_app.extensions["pitsplice-settings"].demo
    with store().read() as db:
        of_file = meta.of_file(db)
    trouble = current_app.extensions["pitsplice-backups"].trouble
    return answer({"name": "Pitsplice", "version": __version__, "demo": demo, "time": store().now(), **of_file,
                   "backup_trouble": trouble, **health_members()})  # fmt: skip


@compute.get("/length")
def length() -> Response:
    """Read one typed length and echo how it was understood."""
    ask = request.args
    found = read_length(
        ask.get("text", ""),
        role=one_of("role", ask.get("role", "length"), ("length", "wall", "diameter")),
        default_unit=one_of("unit", ask.get("unit", "in"), ("in", "mm")),
        allow_zero=one_of("yes or no", ask.get("allow_zero", "0"), ("0", "1")) == "1",
    )
    return answer({"typed": found.typed, "in": float(found), "mm": float(found.mm), "echo": found.echo()})


@compute.post("/size")
def size() -> Response:
    """Size a splice; with ?drawing=1 the to-scale drawing comes along as SVG text."""
    data = json_object()
    sized = services.size(data, current_sheet())
    if one_of("yes or no", request.args.get("drawing", "0"), ("0", "1")) == "1":
        sized["drawing"] = services.drawing(data, sized)
    return answer(sized)


@compute.post("/cuts")
def cuts() -> Response:
    """Plan cuts over bars and remnants, with the proof of how few bars can do."""
    return answer(services.cuts(json_object()))


@compute.post("/template")
def template() -> Response:
    """Draw the 1:1 wrap template of a sizing: kind svg, pdf or dxf, sheet a4 or letter."""
    return template_file(json_object(), "sleeve")


def template_file(data: dict, name: str) -> Response:
    """Answer with a template file; the query says which kind and sheet."""
    kind = one_of("template kind", request.args.get("kind", "pdf"), ("svg", "pdf", "dxf"))
    sheet = one_of("sheet", request.args.get("sheet", "a4"), ("a4", "letter"))
    demo = current_app.extensions["pitsplice-settings"].demo
    content, media = services.template(data, kind, sheet, demo)
    response = Response(content, mimetype=media)
    response.headers["Cache-Control"] = "no-store"
    if kind == "dxf":
        response.headers["Content-Disposition"] = f'attachment; filename="{name}.dxf"'
    return response


@compute.post("/assess")
def assess() -> Response:
    """Tell which methods the damage allows."""
    return answer(services.assess(json_object(), current_sheet()))


@compute.get("/rules")
def rules() -> Response:
    """List the members of the shop's rule sheet, or tell what is wrong with it."""
    return answer(current_app.extensions["pitsplice-rules"].as_dict())


@compute.post("/stock/candidates")
def candidates() -> Response:
    """Rank stock for the repair of a tube by one method."""
    return answer(services.candidates(json_object()))


@compute.get("/choices")
def choices() -> Response:
    """List what the page offers to choose from."""
    return answer(services.choices())

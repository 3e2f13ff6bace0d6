"""Put the app together."""

from __future__ import annotations

from flask import Flask
from werkzeug.exceptions import NotFound

from fieldapp import access, backups, problems, rule_sheet, security
from fieldapp.config import Settings, Site
from fieldapp.views.compute import compute
from fieldapp.views.devices import devices
from fieldapp.views.jobs import jobs
from fieldapp.views.pages import page_or_problem, pages
from fieldapp.views.photos import photos
from fieldapp.views.records import records
from fieldapp.views.stock import stock
from fieldapp.views.trust import trust


def build(settings: Settings) -> Flask:
    """Return the app; see `fieldapp.create_app`."""
    app = Flask("fieldapp", static_folder=None, template_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = settings.max_body
    app.url_map.strict_slashes = False
    # No redirects: one address a route, and nothing for a double slash to get round.
    app.url_map.merge_slashes = False
    app.extensions["pitsplice-settings"] = settings
    app.extensions["pitsplice-store"] = store = backups.open_store(settings.data_dir, demo=settings.demo)
    app.extensions["pitsplice-backups"] = backups.Keeper(store)
    app.extensions["pitsplice-rules"] = rule_sheet.load(settings.data_dir)
    app.extensions["pitsplice-site"] = Site()
    security.register(app, settings)
    access.register(app)
    problems.register(app)
    app.register_error_handler(NotFound, page_or_problem)
    for noun in (pages, compute, jobs, photos, stock, records, devices, trust):
        app.register_blueprint(noun)
    return app

"""The server of Pitsplice: thin Flask views over `core`, one store, one command.

Flask is imported only when an app is made, so that `pitsplice size` starts without it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from flask import Flask

    from fieldapp.config import Settings

__version__ = "0.1.0"


def create_app(config: Settings) -> Flask:
    """Return the Flask app for `config`; opens the data folder and brings it up to date.

    Raises
    ------
    core.problems.Problem
        ``data-folder`` if the folder cannot hold the data, ``data-too-new`` if a newer
        version wrote it.
    """
    from fieldapp.app import build

    return build(config)

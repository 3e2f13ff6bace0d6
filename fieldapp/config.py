"""What a running server is told once, at start."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

STATIC = Path(__file__).resolve().parent.parent / "static"


@dataclass(frozen=True)
class Settings:
    """Settings of one server.

    Attributes
    ----------
    data_dir : Path
        Folder of the data file and its backups.
    demo : bool
        Whether this is the demo: its jobs are marked so.
    lan : bool
        Whether other machines may reach it; the machine's own addresses are then allowed hosts.
    allowed_hosts : tuple of str
        Host names accepted beside the loopback ones, without a port.
    max_body : int
        Largest request body in bytes.
    static_dir : Path
        Folder of the page.
    """

    data_dir: Path
    demo: bool = False
    lan: bool = False
    allowed_hosts: tuple[str, ...] = field(default=())
    max_body: int = 8 * 1024 * 1024
    static_dir: Path = STATIC


@dataclass
class Site:
    """Where a running server is found; filled once its ports are known.

    Attributes
    ----------
    origin : str
        The one secure origin, such as ``https://pitsplice-laptop.local:8743``; "" without HTTPS.
    plain : tuple of str
        Plain HTTP addresses for phones, without a slash at the end.
    secure : tuple of str
        HTTPS by address, for a phone that does not find the name.
    authority : fieldapp.certificates.Authority or None
        The certificate authority phones can trust; None without HTTPS.
    """

    origin: str = ""
    plain: tuple[str, ...] = ()
    secure: tuple[str, ...] = ()
    authority: Any = None

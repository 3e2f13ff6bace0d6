"""What a running server is told once, at start."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

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

"""Whether a folder can hold the data: it must be writable and on a disk of this machine."""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

from core.problems import Problem

# Locks on these are not dependable, and SQLite's write-ahead log needs shared memory.
NETWORK_TYPES = {
    "nfs", "nfs4", "cifs", "smb3", "smbfs", "afs", "ncpfs", "davfs", "9p", "ceph", "glusterfs", "lustre",
    "fuse.sshfs", "fuse.davfs", "fuse.rclone", "fuse.glusterfs", "afpfs", "webdav",
}  # fmt: skip
ALLOWED = "a folder on a disk of this machine that you may write to."


def check_folder(folder: Path) -> None:
    """Make `folder` if need be, and raise ``data-folder`` if it cannot hold the data."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=folder, prefix=".can-write-"):
            pass
    except OSError as error:
        raise Problem(
            "data-folder", f"The data folder cannot be written: {error.strerror or error}.", given=str(folder),
            allowed=ALLOWED, next_step="Choose another folder with --data.", status=400,
        ) from error  # fmt: skip
    kind = file_system_type(folder)
    if kind in NETWORK_TYPES:
        raise Problem(
            "data-folder", f"The data folder is on a network file system ({kind}), where writes can be lost.",
            given=str(folder), allowed=ALLOWED, next_step="Choose a folder on this machine with --data.", status=400,
        )  # fmt: skip


def file_system_type(folder: Path, mounts: Path = Path("/proc/self/mounts")) -> str:
    """Return the file system type under `folder`, or "" where this machine does not say."""
    if sys.platform == "win32":  # pragma: no cover - only on Windows
        import ctypes

        drive = os.path.splitdrive(folder.resolve())[0]
        remote = drive.startswith("\\\\") or ctypes.windll.kernel32.GetDriveTypeW(drive + "\\") == 4
        return "smbfs" if remote else ""
    try:
        lines = mounts.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return ""
    here = str(folder.resolve())
    best, kind = "", ""
    for line in lines:
        parts = line.split(" ")
        if len(parts) < 3:
            continue
        point = parts[1].replace("\\040", " ").rstrip("/")
        if (here == point or here.startswith(point + "/")) and len(point) >= len(best):
            best, kind = point, parts[2]
    return kind

"""Whether the write-ahead log that a crash left is whole.

SQLite reads a log up to the first frame whose checksum does not match and takes that for its
end: after a damaged byte in the middle, writes that were acknowledged would be gone in silence.
Source: sqlite.org/fileformat2.html, section 4 (the write-ahead log).
"""

from __future__ import annotations

import struct
from pathlib import Path

HEAD, FRAME_HEAD = 32, 24
LITTLE, BIG = 0x377F0682, 0x377F0683


def lost_commits(log: Path, data: Path) -> int:
    """Return how many commits stand in `log` behind the place where SQLite stops reading it.

    One is no proof of damage: the power may have cut off a write that nobody was told of. Two
    are, because a commit is on the disk before the next begins.
    """
    raw = log.read_bytes() if log.is_file() else b""
    if len(raw) < HEAD + FRAME_HEAD:
        return 0
    magic, _, size, _, *salts, one, two = struct.unpack(">8I", raw[:HEAD])
    order = "<" if magic == LITTLE else ">"
    whole = magic in (LITTLE, BIG) and _checksum(raw[:24], order, (0, 0)) == (one, two)
    if not whole:
        # Nothing in the head can be relied on: the data file knows the page size, a frame the salts.
        size = _page_size(data)
        salts = list(struct.unpack(">2I", raw[HEAD + 8 : HEAD + 16]))
    state, lost = (one, two), 0
    for at in range(HEAD, len(raw) - FRAME_HEAD - size + 1, FRAME_HEAD + size):
        _, commit, *found, one, two = struct.unpack(">6I", raw[at : at + FRAME_HEAD])
        if whole:
            if found == salts:
                state = _checksum(raw[at : at + 8], order, state)
                state = _checksum(raw[at + FRAME_HEAD : at + FRAME_HEAD + size], order, state)
            whole = found == salts and state == (one, two)
        if not whole and commit and found == salts:
            lost += 1
    return lost


def _page_size(data: Path) -> int:
    with data.open("rb") as file:
        size = int.from_bytes(file.read(18)[16:], "big")
    return 65536 if size == 1 else max(size, 512)


def _checksum(content: bytes, order: str, start: tuple[int, int]) -> tuple[int, int]:
    one, two = start
    words = struct.unpack(f"{order}{len(content) // 4}I", content)
    for first, second in zip(words[::2], words[1::2], strict=True):
        one = (one + first + two) & 0xFFFFFFFF
        two = (two + second + one) & 0xFFFFFFFF
    return one, two

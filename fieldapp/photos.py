"""Turn what a phone sends into a plain JPEG: right way up, small enough, and nothing else inside.

A phone's photo carries the place it was taken, the owner's name, a second picture or a film.
Only the pixels are kept. No Flask here.
"""

from __future__ import annotations

import io
import re
import threading
import zipfile
from dataclasses import dataclass

from PIL import Image, ImageOps, UnidentifiedImageError

from core.problems import Problem

LARGEST_BYTES = 8 * 1024 * 1024
LARGEST_PIXELS = 40_000_000
LONGEST_SIDE = 1600
QUALITY = 80
SIGNATURES = (
    ("JPEG", re.compile(rb"\xff\xd8\xff")),
    ("PNG", re.compile(rb"\x89PNG\r\n\x1a\n")),
    ("WEBP", re.compile(rb"RIFF....WEBP", re.DOTALL)),
)
# Long enough that the compressed pixels of a real photo do not spell them by chance.
FOREIGN = re.compile(rb"<script|<!doctype html|<html[\s>]|<svg[\s>]|%PDF-1|<\?php", re.IGNORECASE)
ALLOWED = "a whole JPEG, PNG or WebP picture of up to 8 MB and 40 megapixels."
# The size is checked here before a pixel is read; Pillow's own limit only warns.
Image.MAX_IMAGE_PIXELS = None
# One large picture takes some 160 MB while it is open: eight at once could fill a small laptop.
_one_at_a_time = threading.Lock()


@dataclass(frozen=True)
class Picture:
    """A re-encoded photo: the JPEG and its size in pixels."""

    content: bytes
    width: int
    height: int


def reencode(raw: bytes) -> Picture:
    """Return `raw` as a JPEG of at most 1,600 px a side, upright, without any metadata.

    Parameters
    ----------
    raw : bytes
        JPEG, PNG or WebP, told by its first bytes, up to 8 MB and 40 megapixels.

    Raises
    ------
    Problem
        ``too-large`` (413), or ``bad-photo`` for another kind of file, too many pixels, a
        file that ends early, or one that is also something else.
    """
    if len(raw) > LARGEST_BYTES:
        raise Problem("too-large", "That photo is too large.", given=f"{len(raw)} bytes", allowed=ALLOWED,
                      next_step="Take it again at a lower resolution.", status=413)  # fmt: skip
    kind = next((name for name, signature in SIGNATURES if signature.match(raw)), None)
    if kind is None:
        raise _refuse("That is no photo this takes.", "a file of another kind")
    if FOREIGN.search(raw) or zipfile.is_zipfile(io.BytesIO(raw)):
        raise _refuse("That file is a picture and something else at once.", f"a {kind} with a page or an archive inside")
    try:
        with _one_at_a_time, Image.open(io.BytesIO(raw), formats=(kind,)) as image:
            if image.width * image.height > LARGEST_PIXELS:
                raise _refuse("That photo has too many pixels.", f"{image.width} by {image.height} pixels")
            return _plain(image)
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, EOFError) as error:
        if isinstance(error, Problem):
            raise
        raise _refuse("That photo cannot be read to its end.", f"a damaged {kind}") from error


def _plain(image: Image.Image) -> Picture:
    # A JPEG can be read at a half or a quarter of its size, which saves time and memory.
    image.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
    image.load()
    upright = ImageOps.exif_transpose(image)
    if upright.mode.startswith("I"):
        # 16 bits a pixel: Pillow would cut off the bright part instead of scaling it.
        upright = upright.convert("I").point(lambda level: level / 256).convert("L")
    if upright.has_transparency_data:
        ground = Image.new("RGBA", upright.size, "white")
        ground.alpha_composite(upright.convert("RGBA"))
        upright = ground
    upright = upright.convert("RGB")
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    # A picture made of the bare pixels: whatever else the file carried stays behind.
    clean = Image.frombytes("RGB", upright.size, upright.tobytes())
    out = io.BytesIO()
    clean.save(out, "JPEG", quality=QUALITY, optimize=True)
    return Picture(out.getvalue(), *clean.size)


def _refuse(title: str, given: str) -> Problem:
    return Problem("bad-photo", title, given=given, allowed=ALLOWED, next_step="Take the photo again and send it.")

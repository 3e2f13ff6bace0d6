"""Photos: what comes in is made a plain JPEG, kept once, sealed with the record, exported."""

import hashlib
import io
import json
import random
import struct
import zipfile
import zlib

import pytest
from conftest_helpers import fill, finish, told
from PIL import Image

from fieldapp import photos
from fieldapp.export import export

KEY = "a" * 32
Q = "who=Lee&step=fit&when=2026-03-01T09:59:00Z&note=Root pass"


def picture(kind="JPEG", size=(64, 48), mode="RGB", **more):
    """Return a picture file, red on its left half and blue on its right."""
    image = Image.new("RGB", size, (0, 0, 255))
    image.paste((255, 0, 0), (0, 0, size[0] // 2, size[1]))
    out = io.BytesIO()
    image.convert(mode).save(out, kind, **more)
    return out.getvalue()


def send(client, job, raw, query=Q, kind="image/jpeg", **headers):
    return client.post(f"/api/jobs/{job}/photos?{query}", data=raw, content_type=kind, headers=headers)


def png(width, height, data):
    """Return a PNG by hand (W3C PNG: signature, IHDR, IDAT, IEND)."""
    chunks = ((b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)), (b"IDAT", data), (b"IEND", b""))
    body = b"".join(
        struct.pack(">I", len(c)) + name + c + struct.pack(">I", zlib.crc32(name + c)) for name, c in chunks
    )
    return b"\x89PNG\r\n\x1a\n" + body


def test_a_photo_is_kept_and_shown(client, job):
    answer = send(client, job["id"], picture())
    assert answer.status_code == 201, answer.get_json()
    photo = answer.get_json()["photo"]
    assert (photo["width"], photo["height"], photo["who"], photo["step"]) == (64, 48, "Lee", "fit")
    assert (photo["when"], photo["at"], photo["note"]) == ("2026-03-01T09:59:00Z", "2026-03-01T10:00:00Z", "Root pass")
    assert client.get(f"/api/jobs/{job['id']}").get_json()["photos"] == [photo]
    shown = client.get(f"/api/photos/{photo['id']}")
    assert hashlib.sha256(shown.data).hexdigest() == photo["sha256"]
    assert shown.mimetype == "image/jpeg"
    assert shown.headers["X-Content-Type-Options"] == "nosniff"
    assert shown.headers["Content-Disposition"].startswith("inline")
    assert "private" in shown.headers["Cache-Control"] and "immutable" in shown.headers["Cache-Control"]
    told(client.get("/api/photos/none"), 404, "no-photo")


def test_a_photo_sent_twice_is_kept_once_and_another_under_its_key_is_told(client, job):
    first = send(client, job["id"], picture(), **{"Idempotency-Key": KEY})
    again = send(client, job["id"], picture(), **{"Idempotency-Key": KEY})
    assert again.get_json() == first.get_json()
    assert again.headers["Idempotency-Replayed"] == "true"
    assert len(client.get(f"/api/jobs/{job['id']}").get_json()["photos"]) == 1
    told(send(client, job["id"], picture(size=(9, 9)), **{"Idempotency-Key": KEY}), 422, "operation-mismatch")
    told(send(client, job["id"], picture(), "who=Max", **{"Idempotency-Key": KEY}), 422, "operation-mismatch")


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("mode", ["RGB", "L", "RGBA", "P", "CMYK", "1", "LA", "I;16"])
def test_every_kind_and_colour_mode_is_read(kind, mode):
    if (kind == "JPEG" and mode in ("RGBA", "P", "LA", "I;16")) or (kind != "JPEG" and mode == "CMYK"):
        pytest.skip("this kind of file has no such mode")
    if kind == "WEBP" and mode == "I;16":
        pytest.skip("this kind of file has no such mode")
    made = photos.reencode(picture(kind, mode=mode))
    with Image.open(io.BytesIO(made.content)) as image:
        assert (image.format, image.mode, image.size) == ("JPEG", "RGB", (64, 48))


def test_the_type_is_told_by_the_bytes(client, job):
    # The header says PNG, the bytes say WebP: the bytes count.
    assert send(client, job["id"], picture("WEBP"), kind="image/png").status_code == 201
    told(send(client, job["id"], picture(), kind="text/html"), 415, "bad-content-type")
    told(send(client, job["id"], picture(), kind="image/svg+xml"), 415, "bad-content-type")


@pytest.mark.parametrize(("turn", "red"), [(1, "left"), (3, "right"), (6, "top"), (8, "bottom")])
def test_the_photo_is_upright_by_its_exif_orientation(turn, red):
    exif = Image.Exif()
    # published: EXIF 2.3, tag 0x0112: 6 = turn a quarter clockwise to view, 8 = anticlockwise, 3 = half
    exif[0x0112] = turn
    made = photos.reencode(picture(exif=exif))
    with Image.open(io.BytesIO(made.content)) as image:
        width, height = image.size
        assert (width, height) == ((64, 48) if turn in (1, 3) else (48, 64))
        at = {
            "left": (4, height // 2), "right": (width - 5, height // 2),
            "top": (width // 2, 4), "bottom": (width // 2, height - 5),
        }  # fmt: skip
        seen = {side: image.getpixel(where)[0] > 200 for side, where in at.items()}
    assert [side for side, is_red in seen.items() if is_red and not seen[opposite(side)]] == [red]


def opposite(side):
    return {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}[side]


def test_no_metadata_is_left_and_no_place(client, job):
    exif = Image.Exif()
    exif[0x010F] = "SECRET-MAKER"
    gps = exif.get_ifd(0x8825)
    gps[1], gps[2] = "N", (47.0, 22.0, 33.0)
    assert b"SECRET-MAKER" in picture(exif=exif)
    for kind, more in (
        ("JPEG", {"comment": b"SECRET", "xmp": b"<x:xmpmeta>SECRET</x:xmpmeta>", "icc_profile": b"SECRET" * 9}),
        ("PNG", {}), ("WEBP", {"xmp": b"SECRET"}),
    ):  # fmt: skip
        made = photos.reencode(picture(kind, exif=exif, **more)).content
        assert b"SECRET" not in made and b"Exif" not in made
        with Image.open(io.BytesIO(made)) as image:
            assert not dict(image.getexif()) and not image.getexif().get_ifd(0x8825)
            assert set(image.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


def test_a_large_photo_is_made_smaller_in_its_shape():
    made = photos.reencode(picture(size=(4000, 1000)))
    # hand: 1600 / 4000 x 1000 = 400
    assert (made.width, made.height) == (1600, 400)
    assert (photos.reencode(picture(size=(30, 20))).width) == 30


def test_a_transparent_picture_gets_a_white_ground():
    out = io.BytesIO()
    Image.new("RGBA", (8, 8), (0, 0, 0, 0)).save(out, "PNG")
    with Image.open(io.BytesIO(photos.reencode(out.getvalue()).content)) as image:
        assert image.getpixel((4, 4)) == (255, 255, 255)


def zipped():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("a.txt", "a")
    return out.getvalue()


BAD = {
    "nothing": b"",
    "text": b"hello",
    "svg": b'<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>',
    "html": b"<!doctype html><p>x",
    "gif": picture("GIF"),
    "bmp": picture("BMP"),
    "tiff": picture("TIFF"),
    "page behind": picture() + b"<script>alert(1)</script>",
    "page in a comment": picture(comment=b"<ScRiPt>1</script>"),
    "archive behind": picture("PNG") + zipped(),
    "pdf behind": picture("WEBP") + b"%PDF-1.7",
    "too many pixels": png(8000, 5001, zlib.compress(b"\0" * 1000)),
    "bomb": png(60000, 60000, zlib.compress(b"\0" * 10**6)),
    "only a head": b"\xff\xd8\xff\xe0",
    "webp head": b"RIFF\0\0\0\0WEBPVP8 ",
}


@pytest.mark.parametrize("name", BAD)
def test_what_is_no_plain_photo_is_told_and_nothing_is_kept(client, job, name):
    told(send(client, job["id"], BAD[name]), 422, "bad-photo")
    assert client.get(f"/api/jobs/{job['id']}").get_json()["photos"] == []


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_photo_cut_off_anywhere_is_told(kind):
    noise = Image.frombytes("RGB", (80, 60), random.Random(5).randbytes(80 * 60 * 3))
    out = io.BytesIO()
    noise.save(out, kind)
    whole = out.getvalue()
    photos.reencode(whole)
    for keep in range(0, len(whole) - 40, max(1, len(whole) // 60)):
        with pytest.raises(photos.Problem) as told_:
            photos.reencode(whole[:keep])
        assert told_.value.kind == "bad-photo"


def test_a_photo_with_any_byte_changed_is_read_or_told():
    turned = random.Random(11)
    whole = {kind: picture(kind) for kind in ("JPEG", "PNG", "WEBP")}
    read = 0
    for _ in range(300):
        raw = bytearray(whole[turned.choice(list(whole))])
        raw[turned.randrange(len(raw))] = turned.randrange(256)
        try:
            made = photos.reencode(bytes(raw))
        except photos.Problem as problem:
            assert problem.kind == "bad-photo"
        else:
            read += 1
            assert max(made.width, made.height) <= photos.LONGEST_SIDE
    assert 0 < read < 300


def test_more_than_8_mb_is_told(client, job):
    told(send(client, job["id"], picture() + b"\0" * photos.LARGEST_BYTES), 413, "too-large")
    with pytest.raises(photos.Problem) as told_:
        photos.reencode(b"\0" * (photos.LARGEST_BYTES + 1))
    assert told_.value.kind == "too-large"


def test_what_is_said_of_a_photo_is_read_strictly(client, job):
    told(send(client, job["id"], picture(), "step=fit"), 422, "missing")
    told(send(client, job["id"], picture(), "who=Lee&hat=1"), 422, "unknown-member")
    told(send(client, job["id"], picture(), "who=Lee&when=yesterday"), 422, "bad-text")
    told(send(client, "22222222", picture()), 404, "no-job")
    # Without a time of its own the photo has the laptop's.
    assert send(client, job["id"], picture(), "who=Lee").get_json()["photo"]["when"] == "2026-03-01T10:00:00Z"


def seal_with_photo(client, job):
    fill(client, job["id"])
    finish(client, job["id"])
    photo = send(client, job["id"], picture()).get_json()["photo"]
    return photo, client.post(f"/api/jobs/{job['id']}/seal", json={"who": "Sam"}).get_json()


def test_the_seal_covers_the_photos(client, job, store):
    photo, record = seal_with_photo(client, job)
    assert record["body"]["photos"] == [photo]
    assert record["intact"]
    told(send(client, job["id"], picture()), 409, "sealed")
    db = store.connection()
    db.execute("DROP TRIGGER photo_stays")
    db.execute("DROP TRIGGER photo_kept")
    db.execute("UPDATE photo SET content = x'ffd8'")
    record = client.get(f"/api/records/{job['id']}").get_json()
    assert not record["intact"] and "Photo 1 does not match" in record["findings"][0]
    db.execute("DELETE FROM photo")
    assert "Photo 1 is missing" in client.get(f"/api/records/{job['id']}").get_json()["findings"][0]


def test_the_export_has_the_photos(client, job, store, tmp_path):
    photo, record = seal_with_photo(client, job)
    count = export(store, tmp_path / "out")
    kept = (tmp_path / "out" / "photos" / f"{photo['id']}.jpg").read_bytes()
    assert hashlib.sha256(kept).hexdigest() == photo["sha256"]
    data = json.loads((tmp_path / "out" / "data.json").read_text(encoding="utf-8"))
    assert data["jobs"][0]["photos"] == [photo]
    page = (tmp_path / "out" / "records" / f"{record['id']}.html").read_text(encoding="utf-8")
    assert f"../photos/{photo['id']}.jpg" in page
    assert count == len([p for p in (tmp_path / "out").rglob("*") if p.is_file()])

"""Three laptops that write and exchange exports in any order end with the same, and nothing is lost."""

import random

import pytest
from data_helpers import add_photo
from test_merge import content, new_job, note, save

from core.lengths import read_length
from core.tube import read_tube
from fieldapp import merge
from fieldapp.export import export
from fieldapp.store import Store, check, jobs, records, stock

BAR = {"od": "2 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}


class Shop:
    """Three laptops, and what was ever written on any of them."""

    def __init__(self, folder, seed):
        self.folder, self.draw, self.trips = folder, random.Random(seed), 0
        # Clocks that do not agree, as clocks of laptops with no internet do not.
        self.stores = [Store(folder / f"laptop-{n}", lambda: f"2026-03-{self.draw.randrange(1, 29):02}T10:00:00Z") for n in range(3)]
        self.written = set()

    def text(self, kind):
        made = f"{kind}-{len(self.written)}"
        self.written.add(made)
        return made

    def write(self, store):
        with store.read() as db:
            every = jobs.every(db)
            bars = stock.every(db)
        open_jobs = [job["id"] for job in every if job["state"] == "open"]
        sealed = [job["id"] for job in every if job["state"] == "sealed"]
        what = self.draw.choice(("job", "bar", "section", "section", "step", "take", "describe", "photo", "seal", "amend"))
        who = "Ada"
        if what == "job":
            new_job(store, self.text("job"))
        elif what == "section" and open_jobs:
            save(store, self.draw.choice(open_jobs), {"n": self.text("section")})
        elif what == "step" and open_jobs:
            note(store, self.draw.choice(open_jobs), self.text("step"))
        elif what == "seal" and open_jobs and store is self.stores[0]:
            # One laptop seals: a job sealed on two is told and stays two records.
            with store.write() as db:
                job = jobs.get(db, self.draw.choice(open_jobs))
                records.seal(db, {"id": job["id"], "sealed_at": store.now(), "sealed_by": who, "photos": job["photos"]})
        else:
            with store.write() as db:
                if what == "bar":
                    tube = read_tube(BAR)
                    about = {"location": self.text("bar")}
                    stock.add(db, store, tube.od, tube.wall, tube.material.key, tube.seam, read_length("20 ft"), about, who)
                elif what == "take" and bars:
                    stock.take(db, store, self.draw.choice(bars)["id"], read_length("1 in"), self.text("take"), None, who)
                elif what == "describe" and bars:
                    stock.describe(db, store, self.draw.choice(bars)["id"], {"note": self.text("describe")}, who)
                elif what == "photo" and open_jobs:
                    colour = tuple(self.draw.randbytes(3))
                    add_photo(db, store, self.draw.choice(open_jobs), colour=colour, note=self.text("photo"))
                elif what == "amend" and sealed:
                    records.amend(db, store, self.draw.choice(sealed), who, self.text("amend"))

    def export(self, store):
        self.trips += 1
        export(store, self.folder / f"trip-{self.trips}")
        return self.folder / f"trip-{self.trips}"


@pytest.mark.parametrize("seed", range(4))
def test_laptops_that_exchange_in_any_order_end_with_the_same(tmp_path, seed):
    shop = Shop(tmp_path, seed)
    held = []
    for _ in range(45):
        store = shop.draw.choice(shop.stores)
        what = shop.draw.random()
        if what < 0.8:
            shop.write(store)
        elif what < 0.9 or not held:
            held.append(shop.export(store))
        else:
            # An export may be an old one by the time it is taken in.
            merge.import_folder(store, shop.draw.choice(held))
    for _ in range(2):
        for store in shop.stores:
            folder = shop.export(store)
            for other in shop.stores:
                merge.import_folder(other, folder)
    first, *others = [content(store) for store in shop.stores]
    for other in others:
        assert other == first
    said = repr(first)
    assert all(f"'{text}'" in said or f'"{text}"' in said or f'\\"{text}\\"' in said for text in shop.written)
    for store in shop.stores:
        with store.read() as db:
            assert all(record["intact"] for record in records.every(db))
        store.close()
        assert check.look(store.path).findings == []

-- The picture itself is in the row: one transaction keeps both, and every backup has both.

CREATE TABLE photo (
  id TEXT PRIMARY KEY,
  job_id TEXT NOT NULL REFERENCES job (id),
  step TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT '',
  who TEXT NOT NULL,
  -- When the phone says it was taken; at is when it came here.
  taken_at TEXT NOT NULL,
  at TEXT NOT NULL,
  width INTEGER NOT NULL CHECK (width >= 1),
  height INTEGER NOT NULL CHECK (height >= 1),
  sha256 TEXT NOT NULL,
  content BLOB NOT NULL
) STRICT;
CREATE INDEX photo_job ON photo (job_id);

CREATE TRIGGER photo_stays BEFORE UPDATE ON photo BEGIN SELECT RAISE(ABORT, 'photo is append-only'); END;
CREATE TRIGGER photo_kept BEFORE DELETE ON photo BEGIN SELECT RAISE(ABORT, 'photo is append-only'); END;

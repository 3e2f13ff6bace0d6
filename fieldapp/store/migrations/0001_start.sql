-- Times are UTC text (2026-01-31T14:05:09Z). Exact lengths are inches as fraction text ("13/8").

CREATE TABLE operation (
  key TEXT PRIMARY KEY,
  route TEXT NOT NULL,
  payload_sha256 TEXT NOT NULL,
  status INTEGER NOT NULL,
  response_json TEXT NOT NULL,
  at TEXT NOT NULL
) STRICT;

CREATE TABLE job (
  id TEXT PRIMARY KEY,
  title TEXT NOT NULL,
  created_at TEXT NOT NULL,
  created_by TEXT NOT NULL,
  state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'sealed')),
  demo INTEGER NOT NULL DEFAULT 0 CHECK (demo IN (0, 1))
) STRICT;

CREATE TABLE job_section (
  job_id TEXT NOT NULL REFERENCES job (id),
  name TEXT NOT NULL CHECK (name IN ('measure', 'assess', 'choose', 'stock', 'size', 'make')),
  revision INTEGER NOT NULL CHECK (revision >= 1),
  data_json TEXT NOT NULL,
  at TEXT NOT NULL,
  who TEXT NOT NULL,
  PRIMARY KEY (job_id, name, revision)
) STRICT;

CREATE TABLE step_event (
  id INTEGER PRIMARY KEY,
  job_id TEXT NOT NULL REFERENCES job (id),
  step TEXT NOT NULL,
  action TEXT NOT NULL CHECK (action IN ('done', 'skip', 'undo', 'note')),
  value_typed TEXT,
  value_inches TEXT,
  reason TEXT,
  who TEXT NOT NULL,
  at TEXT NOT NULL,
  operation_key TEXT,
  -- The whole event as the checklist accepted it, verdict included.
  event_json TEXT NOT NULL
) STRICT;
CREATE INDEX step_event_job ON step_event (job_id, id);

CREATE TABLE record (
  id TEXT PRIMARY KEY,
  job_id TEXT NOT NULL UNIQUE REFERENCES job (id),
  sealed_at TEXT NOT NULL,
  sealed_by TEXT NOT NULL,
  body_json TEXT NOT NULL,
  sha256 TEXT NOT NULL
) STRICT;

CREATE TABLE amendment (
  record_id TEXT NOT NULL REFERENCES record (id),
  number INTEGER NOT NULL CHECK (number >= 1),
  at TEXT NOT NULL,
  who TEXT NOT NULL,
  text TEXT NOT NULL,
  previous_sha256 TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  PRIMARY KEY (record_id, number)
) STRICT;

CREATE TABLE stock_item (
  id INTEGER PRIMARY KEY,
  outside_diameter_typed TEXT NOT NULL,
  od_inches_exact TEXT NOT NULL,
  wall_typed TEXT NOT NULL,
  wall_inches_exact TEXT NOT NULL,
  material TEXT NOT NULL,
  seam TEXT NOT NULL,
  heat_number TEXT NOT NULL DEFAULT '',
  certificate TEXT NOT NULL DEFAULT '',
  location TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT '',
  added_at TEXT NOT NULL
) STRICT;

CREATE TABLE stock_move (
  id INTEGER PRIMARY KEY,
  item_id INTEGER NOT NULL REFERENCES stock_item (id),
  kind TEXT NOT NULL CHECK (kind IN ('add', 'take', 'return', 'adjust')),
  delta_inches TEXT NOT NULL,
  typed TEXT NOT NULL,
  reason TEXT NOT NULL DEFAULT '',
  job_id TEXT REFERENCES job (id),
  who TEXT NOT NULL,
  at TEXT NOT NULL
) STRICT;
CREATE INDEX stock_move_item ON stock_move (item_id, id);

CREATE TABLE stock_change (
  id INTEGER PRIMARY KEY,
  item_id INTEGER NOT NULL REFERENCES stock_item (id),
  before_json TEXT NOT NULL,
  after_json TEXT NOT NULL,
  who TEXT NOT NULL,
  at TEXT NOT NULL
) STRICT;

-- What was written down stays written down: a correction is a new row.
CREATE TRIGGER step_event_stays BEFORE UPDATE ON step_event BEGIN SELECT RAISE(ABORT, 'step_event is append-only'); END;
CREATE TRIGGER step_event_kept BEFORE DELETE ON step_event BEGIN SELECT RAISE(ABORT, 'step_event is append-only'); END;
CREATE TRIGGER record_stays BEFORE UPDATE ON record BEGIN SELECT RAISE(ABORT, 'record is append-only'); END;
CREATE TRIGGER record_kept BEFORE DELETE ON record BEGIN SELECT RAISE(ABORT, 'record is append-only'); END;
CREATE TRIGGER amendment_stays BEFORE UPDATE ON amendment BEGIN SELECT RAISE(ABORT, 'amendment is append-only'); END;
CREATE TRIGGER amendment_kept BEFORE DELETE ON amendment BEGIN SELECT RAISE(ABORT, 'amendment is append-only'); END;
CREATE TRIGGER job_section_stays BEFORE UPDATE ON job_section BEGIN SELECT RAISE(ABORT, 'job_section is append-only'); END;
CREATE TRIGGER job_section_kept BEFORE DELETE ON job_section BEGIN SELECT RAISE(ABORT, 'job_section is append-only'); END;
CREATE TRIGGER stock_move_stays BEFORE UPDATE ON stock_move BEGIN SELECT RAISE(ABORT, 'stock_move is append-only'); END;
CREATE TRIGGER stock_move_kept BEFORE DELETE ON stock_move BEGIN SELECT RAISE(ABORT, 'stock_move is append-only'); END;
CREATE TRIGGER stock_change_stays BEFORE UPDATE ON stock_change BEGIN SELECT RAISE(ABORT, 'stock_change is append-only'); END;
CREATE TRIGGER stock_change_kept BEFORE DELETE ON stock_change BEGIN SELECT RAISE(ABORT, 'stock_change is append-only'); END;
-- INSERT OR REPLACE deletes without firing a delete trigger unless recursive_triggers is on; connection.py sets it.

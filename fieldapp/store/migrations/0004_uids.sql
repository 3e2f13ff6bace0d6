-- uid: the same row on every laptop it is copied to. row_sha256: a digest of the row, so that a
-- byte that changes on the disk is found (fieldapp/store/rows.py; the function is registered there).

ALTER TABLE operation ADD COLUMN row_sha256 TEXT NOT NULL DEFAULT '';
ALTER TABLE job ADD COLUMN uid TEXT NOT NULL DEFAULT '';
ALTER TABLE job ADD COLUMN row_sha256 TEXT NOT NULL DEFAULT '';
ALTER TABLE job_section ADD COLUMN uid TEXT NOT NULL DEFAULT '';
ALTER TABLE job_section ADD COLUMN row_sha256 TEXT NOT NULL DEFAULT '';
ALTER TABLE step_event ADD COLUMN uid TEXT NOT NULL DEFAULT '';
ALTER TABLE step_event ADD COLUMN row_sha256 TEXT NOT NULL DEFAULT '';
ALTER TABLE record ADD COLUMN uid TEXT NOT NULL DEFAULT '';
ALTER TABLE record ADD COLUMN row_sha256 TEXT NOT NULL DEFAULT '';
ALTER TABLE amendment ADD COLUMN uid TEXT NOT NULL DEFAULT '';
ALTER TABLE amendment ADD COLUMN row_sha256 TEXT NOT NULL DEFAULT '';
ALTER TABLE stock_item ADD COLUMN uid TEXT NOT NULL DEFAULT '';
ALTER TABLE stock_item ADD COLUMN row_sha256 TEXT NOT NULL DEFAULT '';
ALTER TABLE stock_move ADD COLUMN uid TEXT NOT NULL DEFAULT '';
ALTER TABLE stock_move ADD COLUMN row_sha256 TEXT NOT NULL DEFAULT '';
ALTER TABLE stock_change ADD COLUMN uid TEXT NOT NULL DEFAULT '';
ALTER TABLE stock_change ADD COLUMN row_sha256 TEXT NOT NULL DEFAULT '';
ALTER TABLE photo ADD COLUMN row_sha256 TEXT NOT NULL DEFAULT '';

-- Old rows get theirs, made of what they say: two laptops with copies of one file make the same.
-- The triggers that keep rows as they are stand aside for it.
DROP TRIGGER step_event_stays;
DROP TRIGGER record_stays;
DROP TRIGGER amendment_stays;
DROP TRIGGER job_section_stays;
DROP TRIGGER stock_move_stays;
DROP TRIGGER stock_change_stays;
DROP TRIGGER photo_stays;
UPDATE operation SET row_sha256 = row_sha256('operation', key, route, payload_sha256, status, response_json, at);
UPDATE job SET uid = substr(row_sha256('job', id, created_at, created_by), 1, 32);
UPDATE job SET row_sha256 = row_sha256('job', id, title, created_at, created_by, state, demo, uid);
UPDATE job_section SET uid = substr(row_sha256('job_section', job_id, name, revision, data_json, at, who), 1, 32);
UPDATE job_section SET row_sha256 = row_sha256('job_section', job_id, name, revision, data_json, at, who, uid);
UPDATE step_event SET uid = substr(row_sha256('step_event', id, job_id, step, action, value_typed, value_inches, reason, who, at, operation_key, event_json), 1, 32);
UPDATE step_event SET row_sha256 = row_sha256('step_event', id, job_id, step, action, value_typed, value_inches, reason, who, at, operation_key, event_json, uid);
UPDATE record SET uid = substr(row_sha256('record', id, job_id, sealed_at, sealed_by, body_json, sha256), 1, 32);
UPDATE record SET row_sha256 = row_sha256('record', id, job_id, sealed_at, sealed_by, body_json, sha256, uid);
UPDATE amendment SET uid = substr(row_sha256('amendment', record_id, number, at, who, text, previous_sha256, sha256), 1, 32);
UPDATE amendment SET row_sha256 = row_sha256('amendment', record_id, number, at, who, text, previous_sha256, sha256, uid);
UPDATE stock_item SET uid = substr(row_sha256('stock_item', id, outside_diameter_typed, wall_typed, material, added_at), 1, 32);
UPDATE stock_item SET row_sha256 = row_sha256('stock_item', id, outside_diameter_typed, od_inches_exact, wall_typed, wall_inches_exact, material, seam, heat_number, certificate, location, note, added_at, uid);
UPDATE stock_move SET uid = substr(row_sha256('stock_move', id, item_id, kind, delta_inches, typed, reason, job_id, who, at), 1, 32);
UPDATE stock_move SET row_sha256 = row_sha256('stock_move', id, item_id, kind, delta_inches, typed, reason, job_id, who, at, uid);
UPDATE stock_change SET uid = substr(row_sha256('stock_change', id, item_id, before_json, after_json, who, at), 1, 32);
UPDATE stock_change SET row_sha256 = row_sha256('stock_change', id, item_id, before_json, after_json, who, at, uid);
UPDATE photo SET row_sha256 = row_sha256('photo', id, job_id, step, note, who, taken_at, at, width, height, sha256);
CREATE TRIGGER step_event_stays BEFORE UPDATE ON step_event BEGIN SELECT RAISE(ABORT, 'step_event is append-only'); END;
CREATE TRIGGER record_stays BEFORE UPDATE ON record BEGIN SELECT RAISE(ABORT, 'record is append-only'); END;
CREATE TRIGGER amendment_stays BEFORE UPDATE ON amendment BEGIN SELECT RAISE(ABORT, 'amendment is append-only'); END;
CREATE TRIGGER job_section_stays BEFORE UPDATE ON job_section BEGIN SELECT RAISE(ABORT, 'job_section is append-only'); END;
CREATE TRIGGER stock_move_stays BEFORE UPDATE ON stock_move BEGIN SELECT RAISE(ABORT, 'stock_move is append-only'); END;
CREATE TRIGGER stock_change_stays BEFORE UPDATE ON stock_change BEGIN SELECT RAISE(ABORT, 'stock_change is append-only'); END;
CREATE TRIGGER photo_stays BEFORE UPDATE ON photo BEGIN SELECT RAISE(ABORT, 'photo is append-only'); END;

CREATE UNIQUE INDEX job_uid ON job (uid);
CREATE UNIQUE INDEX job_section_uid ON job_section (uid);
CREATE UNIQUE INDEX step_event_uid ON step_event (uid);
CREATE UNIQUE INDEX record_uid ON record (uid);
CREATE UNIQUE INDEX amendment_uid ON amendment (uid);
CREATE UNIQUE INDEX stock_item_uid ON stock_item (uid);
CREATE UNIQUE INDEX stock_move_uid ON stock_move (uid);
CREATE UNIQUE INDEX stock_change_uid ON stock_change (uid);

-- generation: new with the file and after every restore, so that phones send again what they keep.
CREATE TABLE meta (
  name TEXT PRIMARY KEY,
  value TEXT NOT NULL,
  row_sha256 TEXT NOT NULL
) STRICT;
INSERT INTO meta (name, value, row_sha256) VALUES ('generation', lower(hex(randomblob(16))), '');
UPDATE meta SET row_sha256 = row_sha256('meta', name, value);

-- What another laptop saved of a section while this one went on: kept beside the history, for people.
-- beside is the revision that was the newest here when it came.
CREATE TABLE section_conflict (
  uid TEXT PRIMARY KEY,
  job_id TEXT NOT NULL REFERENCES job (id),
  name TEXT NOT NULL,
  revision INTEGER NOT NULL,
  data_json TEXT NOT NULL,
  at TEXT NOT NULL,
  who TEXT NOT NULL,
  beside INTEGER NOT NULL,
  row_sha256 TEXT NOT NULL
) STRICT;
CREATE INDEX section_conflict_job ON section_conflict (job_id, name);
CREATE TRIGGER section_conflict_stays BEFORE UPDATE ON section_conflict BEGIN SELECT RAISE(ABORT, 'section_conflict is append-only'); END;
CREATE TRIGGER section_conflict_kept BEFORE DELETE ON section_conflict BEGIN SELECT RAISE(ABORT, 'section_conflict is append-only'); END;

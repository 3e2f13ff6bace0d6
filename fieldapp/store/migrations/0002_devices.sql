-- Phones that may read or write. What opens a door is kept as its SHA-256 only.

CREATE TABLE device (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  role TEXT NOT NULL CHECK (role IN ('plan', 'weld', 'view')),
  token_sha256 TEXT NOT NULL,
  paired_at TEXT NOT NULL,
  last_seen_at TEXT NOT NULL,
  revoked_at TEXT
) STRICT;

CREATE TABLE pairing (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  role TEXT NOT NULL CHECK (role IN ('plan', 'weld', 'view')),
  secret_sha256 TEXT NOT NULL,
  code_sha256 TEXT NOT NULL,
  made_at TEXT NOT NULL,
  expires_at TEXT NOT NULL,
  device_id TEXT UNIQUE REFERENCES device (id)
) STRICT;

-- Who was let in stays on the list, and what was taken back stays taken back.
CREATE TRIGGER device_kept BEFORE DELETE ON device BEGIN SELECT RAISE(ABORT, 'device is kept'); END;
CREATE TRIGGER device_stays_revoked BEFORE UPDATE OF revoked_at ON device WHEN OLD.revoked_at IS NOT NULL
  BEGIN SELECT RAISE(ABORT, 'device stays revoked'); END;
CREATE TRIGGER pairing_once BEFORE UPDATE ON pairing WHEN OLD.device_id IS NOT NULL
  BEGIN SELECT RAISE(ABORT, 'pairing is used'); END;

-- Version 3. What the maker keeps beside the shelf: papers, tools, lamps, baths, supplies, coats, prints. One table for all of them: the
-- book keeps, finds and undoes them in one way, and what each of them means is known further up.

CREATE TABLE records (
  number   INTEGER PRIMARY KEY AUTOINCREMENT,
  kind     TEXT NOT NULL CHECK (length(kind) > 0),
  ordinal  INTEGER NOT NULL CHECK (ordinal > 0),            -- counts within its kind and is never used again
  name     TEXT NOT NULL,
  standing TEXT NOT NULL CHECK (standing IN ('here', 'retired', 'undone')),
  facts    TEXT NOT NULL CHECK (json_valid(facts)),
  UNIQUE (kind, ordinal)
) STRICT;

-- What can be spoken of by name has a name of its own; a hundred prints may have one title.
CREATE UNIQUE INDEX records_spoken ON records (kind, lower(name)) WHERE standing = 'here' AND kind NOT IN ('coat', 'print');

-- What is in use among all there ever was: a hundred thousand coats are prints by now, and two wait.
CREATE INDEX records_here ON records (kind, ordinal) WHERE standing = 'here';

CREATE TABLE record_touches (
  record INTEGER NOT NULL REFERENCES records (number),
  act    INTEGER NOT NULL REFERENCES acts (number) DEFERRABLE INITIALLY DEFERRED,
  PRIMARY KEY (record, act)
) STRICT, WITHOUT ROWID;

-- Records an act changed, as they were before; items have the column `before`.
ALTER TABLE acts ADD COLUMN before_records TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(before_records));

-- What was asked for, as a digest of the answers: a key that comes again with other answers is a slip. Unknown of older acts.
ALTER TABLE acts ADD COLUMN asked TEXT;

-- What is counted beside the ledger: sheets taken, area through a bath, time under a lamp. Only added to; an undo adds the opposite, so
-- that taking one print back does not stand in the way of the next.
CREATE TABLE counts (
  act    INTEGER NOT NULL REFERENCES acts (number) DEFERRABLE INITIALLY DEFERRED,
  record INTEGER NOT NULL REFERENCES records (number),
  what   TEXT NOT NULL,
  amount INTEGER NOT NULL CHECK (amount <> 0),
  PRIMARY KEY (act, record, what)
) STRICT, WITHOUT ROWID;

CREATE TABLE count_totals (
  record INTEGER NOT NULL REFERENCES records (number),
  what   TEXT NOT NULL,
  amount INTEGER NOT NULL,
  PRIMARY KEY (record, what)
) STRICT, WITHOUT ROWID;

-- Words of every record, each also with its field before it (`paper=cotton`), so that any field can be asked for.
CREATE VIRTUAL TABLE record_words USING fts5 (
  words, content = '', contentless_delete = 1, prefix = '3', tokenize = "unicode61 tokenchars '='"
);

-- A day's printing under way. Not an act, so it may change.
CREATE TABLE sessions (
  number  INTEGER PRIMARY KEY AUTOINCREMENT,
  begun   TEXT NOT NULL,
  changed TEXT NOT NULL,
  body    TEXT NOT NULL CHECK (json_valid(body)),
  ended   TEXT
) STRICT;

-- A timer is wall time and time since the machine was started, side by side: the second does not jump when the clock is set.
CREATE TABLE timers (
  number        INTEGER PRIMARY KEY AUTOINCREMENT,
  session       INTEGER REFERENCES sessions (number),
  name          TEXT NOT NULL,
  span_ms       INTEGER NOT NULL CHECK (span_ms >= 0),
  begun         TEXT NOT NULL,                               -- RFC 3339, UTC
  boot          TEXT,                                        -- which start of the machine; none where it cannot be known
  begun_boot_ms INTEGER,
  ended         TEXT
) STRICT;

-- Pictures of prints, byte for byte as they came.
CREATE TABLE photos (
  sha256 TEXT PRIMARY KEY NOT NULL CHECK (length(sha256) = 64),
  media  TEXT NOT NULL,
  since  TEXT NOT NULL,
  bytes  BLOB NOT NULL
) STRICT;

CREATE TRIGGER records_kept BEFORE DELETE ON records BEGIN SELECT RAISE(ABORT, 'records are never deleted'); END;
CREATE TRIGGER records_stay BEFORE UPDATE OF number, kind, ordinal ON records
BEGIN SELECT RAISE(ABORT, 'the number of a record never changes'); END;
CREATE TRIGGER counts_stay  BEFORE UPDATE ON counts  BEGIN SELECT RAISE(ABORT, 'counts are never changed'); END;
CREATE TRIGGER counts_kept  BEFORE DELETE ON counts  BEGIN SELECT RAISE(ABORT, 'counts are never deleted'); END;
CREATE TRIGGER photos_stay  BEFORE UPDATE ON photos  BEGIN SELECT RAISE(ABORT, 'photos are never changed'); END;
CREATE TRIGGER photos_kept  BEFORE DELETE ON photos  BEGIN SELECT RAISE(ABORT, 'photos are never deleted'); END;

CREATE TRIGGER counts_total AFTER INSERT ON counts BEGIN
  INSERT INTO count_totals (record, what, amount) VALUES (NEW.record, NEW.what, NEW.amount)
    ON CONFLICT (record, what) DO UPDATE SET amount = amount + NEW.amount;
END;

-- An undo asks what an act touched.
CREATE INDEX touches_of_act ON touches (act);
CREATE INDEX record_touches_of_act ON record_touches (act);

-- Version 1. Acts, entries and lines are only ever added to; the triggers are a tripwire, not the rule (the rule is craft's ledger).

CREATE TABLE facts (
  name  TEXT PRIMARY KEY NOT NULL,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE acts (
  number   INTEGER PRIMARY KEY AUTOINCREMENT,
  key      TEXT NOT NULL UNIQUE,            -- the same act asked for twice is done once
  kind     TEXT NOT NULL,
  who      TEXT NOT NULL,
  at       TEXT NOT NULL,                   -- RFC 3339, UTC
  body     TEXT NOT NULL CHECK (json_valid(body)),
  before   TEXT NOT NULL CHECK (json_valid(before)),
  reverses INTEGER UNIQUE REFERENCES acts (number)
) STRICT;

CREATE TABLE entries (
  number INTEGER PRIMARY KEY AUTOINCREMENT,
  act    INTEGER NOT NULL UNIQUE REFERENCES acts (number) DEFERRABLE INITIALLY DEFERRED
) STRICT;

CREATE TABLE lines (
  entry     INTEGER NOT NULL REFERENCES entries (number) DEFERRABLE INITIALLY DEFERRED,
  account   TEXT NOT NULL,
  commodity TEXT NOT NULL,
  amount    INTEGER NOT NULL CHECK (amount <> 0),
  PRIMARY KEY (entry, account, commodity)
) STRICT, WITHOUT ROWID;

-- What replaying every line would give, kept by the trigger below so that a page need not replay.
CREATE TABLE balances (
  account   TEXT NOT NULL,
  commodity TEXT NOT NULL,
  amount    INTEGER NOT NULL,
  PRIMARY KEY (account, commodity),
  CHECK (amount >= 0 OR account IN ('supplier', 'owner', 'made', 'unexplained'))
) STRICT, WITHOUT ROWID;

CREATE TABLE items (
  number   INTEGER PRIMARY KEY AUTOINCREMENT,
  kind     TEXT NOT NULL CHECK (kind IN ('jar', 'bottle', 'vial')),
  name     TEXT NOT NULL,
  standing TEXT NOT NULL CHECK (standing IN ('here', 'retired', 'undone')),
  facts    TEXT NOT NULL CHECK (json_valid(facts))
) STRICT;

-- A spoken name means one thing on the shelf; a retired one may be spoken again.
CREATE UNIQUE INDEX items_spoken ON items (lower(name)) WHERE standing = 'here';

CREATE TABLE touches (
  item INTEGER NOT NULL REFERENCES items (number),
  act  INTEGER NOT NULL REFERENCES acts (number) DEFERRABLE INITIALLY DEFERRED,
  PRIMARY KEY (item, act)
) STRICT, WITHOUT ROWID;

-- Work that is under way at the bench. Not an act yet, so it may change and go.
CREATE TABLE benches (
  number  INTEGER PRIMARY KEY AUTOINCREMENT,
  begun   TEXT NOT NULL,
  changed TEXT NOT NULL,
  body    TEXT NOT NULL CHECK (json_valid(body)),
  act     INTEGER REFERENCES acts (number)
) STRICT;

CREATE TRIGGER acts_stay    BEFORE UPDATE ON acts    BEGIN SELECT RAISE(ABORT, 'acts are never changed'); END;
CREATE TRIGGER acts_kept    BEFORE DELETE ON acts    BEGIN SELECT RAISE(ABORT, 'acts are never deleted'); END;
CREATE TRIGGER entries_stay BEFORE UPDATE ON entries BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entries_kept BEFORE DELETE ON entries BEGIN SELECT RAISE(ABORT, 'entries are never deleted'); END;
CREATE TRIGGER lines_stay   BEFORE UPDATE ON lines   BEGIN SELECT RAISE(ABORT, 'lines are never changed'); END;
CREATE TRIGGER lines_kept   BEFORE DELETE ON lines   BEGIN SELECT RAISE(ABORT, 'lines are never deleted'); END;
CREATE TRIGGER items_kept   BEFORE DELETE ON items   BEGIN SELECT RAISE(ABORT, 'items are never deleted'); END;

CREATE TRIGGER lines_balance AFTER INSERT ON lines BEGIN
  -- In two steps: an upsert would hold the line itself, not the sum, against the balance's CHECK.
  INSERT OR IGNORE INTO balances (account, commodity, amount) VALUES (NEW.account, NEW.commodity, 0);
  UPDATE balances SET amount = amount + NEW.amount WHERE account = NEW.account AND commodity = NEW.commodity;
END;

-- The lines of an entry are written first, then the entry itself; it must find them summing to zero.
CREATE TRIGGER entries_sum BEFORE INSERT ON entries
WHEN EXISTS (SELECT 1 FROM lines WHERE entry = NEW.number GROUP BY commodity HAVING sum(amount) <> 0)
BEGIN SELECT RAISE(ABORT, 'an entry must sum to zero'); END;

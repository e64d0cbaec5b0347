-- Version 5. Long work on large pictures: what was asked for, how far it is, and where it goes on after the machine went dark. A job is no
-- act: it may change, and what it comes to is an act of its own.

CREATE TABLE jobs (
  number     INTEGER PRIMARY KEY AUTOINCREMENT,
  kind       TEXT NOT NULL CHECK (length(kind) > 0),
  asked      TEXT NOT NULL CHECK (json_valid(asked)),
  target     TEXT NOT NULL,                                  -- the file it makes
  state      TEXT NOT NULL CHECK (state IN ('waiting', 'running', 'made', 'failed', 'stopped')),
  holder     TEXT NOT NULL,                                  -- the process that has it; when that is gone the job is interrupted
  stop       INTEGER NOT NULL DEFAULT 0 CHECK (stop IN (0, 1)),
  done       INTEGER NOT NULL DEFAULT 0 CHECK (done >= 0),   -- rows of the sheet
  of         INTEGER NOT NULL DEFAULT 0 CHECK (of >= 0),
  begun      TEXT NOT NULL,                                  -- RFC 3339, UTC
  went_on    TEXT NOT NULL,                                  -- when it was last begun or gone on with, and from which row
  went_from  INTEGER NOT NULL DEFAULT 0,
  seen       TEXT NOT NULL,
  checkpoint BLOB,
  outcome    TEXT CHECK (outcome IS NULL OR json_valid(outcome)),
  act        INTEGER REFERENCES acts (number)
) STRICT;

CREATE INDEX jobs_open ON jobs (number) WHERE state IN ('waiting', 'running');

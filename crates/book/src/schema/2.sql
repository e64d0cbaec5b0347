-- Version 2. Devices that were let in from the local network. Of the token in a device's cookie only the SHA-256 is kept, so that a
-- copy of the book opens no door. A device that is forgotten is gone: it is no act, and nothing stands on it.

CREATE TABLE devices (
  number INTEGER PRIMARY KEY AUTOINCREMENT,
  hash   TEXT NOT NULL UNIQUE CHECK (length(hash) = 64),   -- hexadecimal
  name   TEXT NOT NULL,
  since  TEXT NOT NULL                                     -- RFC 3339, UTC
) STRICT;

-- Version 4. What a paper does with light: set-ups, which have a name of their own, and what was tested and read with them, which need none.

DROP INDEX records_spoken;
CREATE UNIQUE INDEX records_spoken ON records (kind, lower(name))
  WHERE standing = 'here' AND kind NOT IN ('coat', 'print', 'test', 'response');

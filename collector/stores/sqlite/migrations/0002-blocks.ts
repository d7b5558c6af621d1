/**
 * Sealed days. What stands about a block is apart from its bytes, so that finding one reads no bytes. A block counts from the moment it
 * is `settled`: in the same transaction the rows it holds are removed. Before that it is a try, and is made anew.
 */
export const blocks = `
  CREATE TABLE block (
    id INTEGER PRIMARY KEY,
    series INTEGER NOT NULL,
    from_ms INTEGER NOT NULL,
    to_ms INTEGER NOT NULL,
    part INTEGER NOT NULL,
    first_ms INTEGER NOT NULL,
    last_ms INTEGER NOT NULL,
    count INTEGER NOT NULL,
    sha256 TEXT NOT NULL,
    settled INTEGER NOT NULL DEFAULT 0,
    UNIQUE (series, from_ms, part)
  ) STRICT;
  CREATE INDEX block_day ON block (from_ms);
  CREATE INDEX block_first ON block (series, first_ms) WHERE settled = 1;
  CREATE INDEX block_last ON block (series, last_ms) WHERE settled = 1;

  CREATE TABLE block_bytes (
    block INTEGER PRIMARY KEY,
    bytes BLOB NOT NULL
  ) STRICT;
`;

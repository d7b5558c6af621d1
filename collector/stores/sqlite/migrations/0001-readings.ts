/**
 * Readings under series and time, so that a repeated delivery meets its first; rollups of good readings beside them.
 * `stored` counts the readings of a series of any quality: counting rows would take seconds in a season's file.
 */
export const readings = `
  CREATE TABLE series (
    id INTEGER PRIMARY KEY,
    probe TEXT NOT NULL,
    channel TEXT NOT NULL,
    stored INTEGER NOT NULL DEFAULT 0,
    UNIQUE (probe, channel)
  ) STRICT;

  CREATE TABLE reading (
    series INTEGER NOT NULL,
    time_ms INTEGER NOT NULL,
    value REAL NOT NULL,
    quality INTEGER NOT NULL,
    PRIMARY KEY (series, time_ms)
  ) STRICT, WITHOUT ROWID;

  CREATE TABLE rollup_10min (
    series INTEGER NOT NULL,
    from_ms INTEGER NOT NULL,
    count INTEGER NOT NULL,
    sum REAL NOT NULL,
    min REAL NOT NULL,
    max REAL NOT NULL,
    PRIMARY KEY (series, from_ms)
  ) STRICT, WITHOUT ROWID;

  CREATE TABLE rollup_6h (
    series INTEGER NOT NULL,
    from_ms INTEGER NOT NULL,
    count INTEGER NOT NULL,
    sum REAL NOT NULL,
    min REAL NOT NULL,
    max REAL NOT NULL,
    PRIMARY KEY (series, from_ms)
  ) STRICT, WITHOUT ROWID;
`;

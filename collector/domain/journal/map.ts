/** A map with one entry more (or another value): the map given stays as it was. */
export const withEntry = <Key, Value>(map: ReadonlyMap<Key, Value>, key: Key, value: Value): ReadonlyMap<Key, Value> => new Map(map).set(key, value);

export const withoutEntry = <Key, Value>(map: ReadonlyMap<Key, Value>, key: Key): ReadonlyMap<Key, Value> => {
  const copy = new Map(map);
  copy.delete(key);
  return copy;
};

/**
 * MQTT topic filters (MQTT 5.0, section 4.7): `+` stands for one whole level, `#` for all that follow and stands last.
 * A filter that begins with a wildcard matches no topic that begins with `$` (4.7.2-1).
 */

/** Whether a text is a topic filter: a wildcard fills its level, `#` is the last one (4.7.1-1, 4.7.1-2), no U+0000, at most 65,535 bytes. */
export const isTopicFilter = (filter: string): boolean => {
  if (filter === '' || filter.includes('\0') || Buffer.byteLength(filter) > 65_535) return false;
  const levels = filter.split('/');
  return levels.every((level, index) => level === '+' || (level === '#' ? index === levels.length - 1 : !/[+#]/.test(level)));
};

/** What the wildcards stand for, in their order (`#` as one text with its slashes); null where the filter does not match. */
export const matchTopic = (filter: string, topic: string): readonly string[] | null => {
  const wanted = filter.split('/');
  const given = topic.split('/');
  if (topic.startsWith('$') && /^[+#]/.test(filter)) return null;
  const stood: string[] = [];
  for (const [index, level] of wanted.entries()) {
    // `sport/#` matches `sport` as well.
    if (level === '#') return [...stood, given.slice(index).join('/')];
    const actual = given[index];
    if (actual === undefined || (level !== '+' && level !== actual)) return null;
    if (level === '+') stood.push(actual);
  }
  return given.length === wanted.length ? stood : null;
};

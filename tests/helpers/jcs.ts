/**
 * A second hand at the JSON Canonicalization Scheme (RFC 8785), written from its text: no package of the project has part in it.
 * Section 3.2.2: no white space, strings and numbers as ECMAScript prints them; 3.2.3: names sorted by UTF-16 code units.
 */
export const secondCanonical = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(secondCanonical).join(',')}]`;
  if (typeof value === 'object' && value !== null) {
    const names = Object.keys(value).sort(byCodeUnits);
    return `{${names.map((name) => `${quoted(name)}:${secondCanonical((value as Record<string, unknown>)[name])}`).join(',')}}`;
  }
  if (typeof value === 'string') return quoted(value);
  if (typeof value === 'number') return String(value === 0 ? 0 : value);
  return String(value);
};

const byCodeUnits = (one: string, other: string): number => {
  for (let index = 0; index < Math.min(one.length, other.length); index += 1) {
    const apart = one.charCodeAt(index) - other.charCodeAt(index);
    if (apart !== 0) return apart;
  }
  return one.length - other.length;
};

const short: Readonly<Record<string, string>> = { '\b': '\\b', '\t': '\\t', '\n': '\\n', '\f': '\\f', '\r': '\\r', '"': '\\"', '\\': '\\\\' };

const quoted = (text: string): string => {
  let out = '"';
  for (const unit of text) out += short[unit] ?? (unit < ' ' ? `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}` : unit);
  return `${out}"`;
};

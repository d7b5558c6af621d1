/**
 * The trees a text names: a variety and the numbers behind it, as people write where a pick came from.
 *
 * `Leccino 7, 8` names Leccino 7 and Leccino 8; `Picual 1-3` three trees; `the old one by the gate` is one tree of that name.
 * Source: common practice, no source. A text of several varieties is split at each new one.
 */
export const treesNamed = (text: string): readonly string[] => {
  const trees: string[] = [];
  let variety = '';
  for (const part of text.split(/\s*(?:,|;|\band\b|&)\s*/)) {
    const [, words = '', from = '', to] = /^(.*?)\s*(\d{1,3})(?:\s*[-–]\s*(\d{1,3}))?$/.exec(part.trim()) ?? [];
    if (from === '') {
      if (part.trim() !== '') trees.push(part.trim());
      continue;
    }
    variety = words === '' ? variety : words;
    const last = Math.min(Number(to ?? from), Number(from) + mostInOneSpan);
    for (let number = Number(from); number <= last; number += 1) trees.push(`${variety} ${number}`.trim());
  }
  return [...new Set(trees)];
};

const mostInOneSpan = 200;

/** The name of a tree by its mark on a pick: a bare number is one of its variety. */
export const markedTree = (mark: string, variety: string | null): string => (variety !== null && /^\d+$/.test(mark) ? `${variety} ${mark}` : mark);

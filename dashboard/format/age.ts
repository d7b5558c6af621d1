/** How old something is, in the one unit that matters: `7 s`, `12 min`, `5 h`, `3 days`. A slightly fast sender never reads as the future. */
export const age = (ms: number): string => {
  const seconds = Math.max(0, Math.round(ms / 1_000));
  if (seconds < 100) return `${String(seconds)} s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 100) return `${String(minutes)} min`;
  const hours = Math.round(minutes / 60);
  if (hours < 48) return `${String(hours)} h`;
  return `${String(Math.round(hours / 24))} days`;
};

export const ago = (ms: number): string => `${age(ms)} ago`;

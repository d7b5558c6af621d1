const shortestPauseMs = 500;
const longestPauseMs = 30_000;

/** How long to wait before trying again: doubled each time, half of it fixed, the other half random (0 to 1), so that many do not come at once. */
export const reconnectPauseMs = (attempt: number, random: () => number): number => {
  const most = Math.min(longestPauseMs, shortestPauseMs * 2 ** Math.min(attempt, 10));
  return most / 2 + (most / 2) * random();
};

/** Waits for a condition by looking again and again, never by a fixed time. `withinMs` only decides when to give up: be generous. */
export const until = async <Value>(what: string, condition: () => Value | Promise<Value>, withinMs = 30_000): Promise<NonNullable<Value>> => {
  const giveUpAt = performance.now() + withinMs;
  for (;;) {
    const found = await condition();
    if (found !== null && found !== undefined && found !== false) return found;
    if (performance.now() > giveUpAt) throw new Error(`not within ${withinMs} ms: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
};

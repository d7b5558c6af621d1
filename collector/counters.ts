/** What came in since the collector started, and what became of it: every refusal is counted by its reason. */
export interface Counters {
  stored: number;
  duplicates: number;
  conflicts: number;
  late: number;
  setAside: number;
  readonly refused: Record<string, number>;
  refuse(reason: string): void;
}

export const createCounters = (): Counters => {
  const refused: Record<string, number> = {};
  return {
    stored: 0,
    duplicates: 0,
    conflicts: 0,
    late: 0,
    setAside: 0,
    refused,
    refuse: (reason) => {
      refused[reason] = (refused[reason] ?? 0) + 1;
    },
  };
};

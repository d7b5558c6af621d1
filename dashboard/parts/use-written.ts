import { useCallback, useState } from 'preact/hooks';
import type { Sign } from '#contract';
import { clockTime } from '../format/time.ts';
import { actWords } from '../state/kept-words.ts';
import type { Outcome } from '../state/queue.ts';
import { answerTo } from '../state/signs.ts';
import { failureWords, type Act } from './forms/form-frame.ts';
import { useScreen } from './screen.ts';
import type { Undoable } from './undo.tsx';

/** What a screen says after something was written: ten seconds to take it back, and what follows from a sign. */
export interface Written {
  readonly undo: (Undoable & { readonly drum: string }) | null;
  readonly sign: { readonly sign: Sign; readonly drum: string } | null;
  readonly problem: string | null;
  readonly tell: (drum: { readonly id: string; readonly name: string }, act: Act, outcome: Outcome, zone: string) => void;
  readonly say: (problem: string | null) => void;
  readonly takeBack: () => Promise<void>;
  readonly forgetUndo: () => void;
  readonly readSign: () => void;
}

export const useWritten = (): Written => {
  const { queue, settings } = useScreen();
  const [undo, setUndo] = useState<Written['undo']>(null);
  const [sign, setSign] = useState<Written['sign']>(null);
  const [problem, setProblem] = useState<string | null>(null);
  return {
    undo,
    sign,
    problem,
    tell: (drum, act, outcome, zone) => {
      if (outcome.state === 'refused') {
        setProblem(failureWords(outcome.failure));
        return;
      }
      const { title, detail } = actWords(act, settings.units.peek());
      const what = detail === '' ? title : `${title}: ${detail}`;
      setProblem(null);
      setUndo({ key: outcome.key, drum: drum.id, words: `${drum.name}. ${what}, ${outcome.state === 'kept' ? 'kept here' : clockTime(Date.parse(act.at), zone)}` });
      const found = act.kind === 'observed' ? answerTo(act.sign) : null;
      setSign(found === null ? null : { sign: found, drum: drum.name });
    },
    say: setProblem,
    takeBack: async () => {
      if (undo === null) return;
      setUndo(null);
      setSign(null);
      const failed = await queue.takeBack(undo.key);
      setProblem(failed === null ? null : failureWords(failed));
    },
    forgetUndo: useCallback(() => setUndo(null), []),
    readSign: () => setSign(null),
  };
};

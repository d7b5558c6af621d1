import { fromRfc3339 } from '../units/time.ts';
import type { EntryOf } from './entry.ts';
import { withEntry, withoutEntry } from './map.ts';
import type { Shed } from './shed.ts';

/** What is expected of the air, and what the readings made somebody ask. An answer to what was never asked changes nothing, nor does a second one. */
export const projectAhead = (shed: Shed, entry: EntryOf<'air-forecast' | 'question-asked' | 'question-answered'>): Shed => {
  switch (entry.kind) {
    case 'air-forecast': {
      const { day, lowC, highC } = entry.body;
      return { ...shed, airDays: lowC === null || highC === null ? withoutEntry(shed.airDays, day) : withEntry(shed.airDays, day, { lowC, highC }) };
    }
    case 'question-asked': {
      const { at, ...question } = entry.body;
      if (shed.questions.has(question.id)) return shed;
      return touched({ ...shed, questions: withEntry(shed.questions, question.id, { ...question, at: fromRfc3339(at), askedAt: fromRfc3339(entry.time), answer: null }) }, question.drum, entry.sequence);
    }
    case 'question-answered': {
      const asked = shed.questions.get(entry.body.id);
      if (asked === undefined || asked.answer !== null) return shed;
      const answer = { answer: entry.body.answer, by: entry.who, at: fromRfc3339(entry.time) };
      return touched({ ...shed, questions: withEntry(shed.questions, asked.id, { ...asked, answer }) }, asked.drum, entry.sequence);
    }
  }
};

const touched = (shed: Shed, id: string, revision: number): Shed => {
  const drum = shed.drums.get(id);
  return drum === undefined ? shed : { ...shed, drums: withEntry(shed.drums, id, { ...drum, revision }) };
};

import type { RecallExercise } from '#domain/journal/recall-entries.ts';
import { dayOf } from '#domain/trace/trace-words.ts';
import { fromRfc3339, type EpochMs } from '#domain/units/time.ts';
import { bold, finish, openPaper, paper, plain, type Page } from './page.ts';

export interface RecallPaperFacts {
  readonly site: string;
  readonly producer: string | null;
  readonly zone: string;
  readonly printedAt: EpochMs;
}

const widthPt = paper.widthPt - 2 * paper.marginPt;
const footPt = paper.heightPt - 50;

/** The paper of a recall that was played through: what was called back, where every jar is, how long it took, what was found wanting. */
export const recallPaper = (exercise: RecallExercise, { site, producer, zone, printedAt }: RecallPaperFacts): Promise<Buffer> => {
  const { number, of, result, minutes, tookMs } = exercise;
  const page = openPaper(`Recall exercise ${number}, ${of.kind} ${of.id}`, new Date(printedAt));
  const pen = { page, y: 34 };
  const time = (at: string): string => clock(fromRfc3339(at), zone);
  say(pen, `RECALL EXERCISE ${number}`, 16, bold);
  say(pen, `${producer ?? site}. This is an exercise. Nothing was called back.`, 10);
  gap(pen);
  say(pen, `Called back: everything that ${of.kind === 'lot' ? `is of lot ${of.id}` : `ingredient lot ${of.id} went into`}`, 11, bold);
  say(pen, `Started ${time(exercise.startedAt)}, ended ${time(exercise.endedAt)}: ${minutes} minutes. The program followed it in ${tookMs} ms.`, 10);
  say(pen, `Jars filled ${result.filled}, located ${result.located}, unaccounted ${result.unaccounted}${result.filled === 0 ? '' : `: ${((100 * result.located) / result.filled).toFixed(1)} % located`}.`, 11, bold);
  const uncounted = result.lots.filter(({ counted }) => !counted).map(({ lot }) => lot);
  if (uncounted.length > 0) say(pen, `Not counted on the shelf, taken as written: ${uncounted.join(', ')}.`, 10);
  section(pen, 'Lots');
  for (const { lot, filled, out, otherwise, here, unaccounted } of result.lots) say(pen, `${lot}: ${filled} filled = ${out} with buyers + ${otherwise} tested, broken or otherwise gone + ${here} here + ${unaccounted} unaccounted`, 10);
  for (const { lot, drum } of result.inDrums) say(pen, `${lot}: fruit still in drum ${drum}`, 10);
  if (result.lots.length + result.inDrums.length === 0) say(pen, 'None reached.', 10);
  section(pen, 'To be told');
  for (const { to, lot, jars, at } of result.buyers) say(pen, `[   ]  ${to}: ${jars} jars of ${lot}, ${dayOf(fromRfc3339(at), zone)}`, 10);
  if (result.buyers.length === 0) say(pen, 'Nobody was given jars.', 10);
  section(pen, 'Where it comes from');
  for (const { kind, name, words } of result.sources) say(pen, `${kind === 'pick' ? 'Pick' : 'Ingredient'} ${name}: ${words}`, 10);
  if (result.sources.length === 0) say(pen, 'Nothing written down.', 10);
  section(pen, 'Found wanting');
  say(pen, exercise.gaps ?? 'Nothing was written.', 10);
  section(pen, 'What is done about it');
  say(pen, exercise.action ?? 'Nothing was written.', 10);
  gap(pen);
  say(pen, 'Read by ______________________   on ____________', 10);
  gap(pen);
  say(pen, 'This paper shows what was written down and found. It is no approval. In a recall your authority says who is to be told, and how soon.', 9);
  say(pen, `Printed ${clock(printedAt, zone)}.`, 9);
  return finish(page);
};

interface Pen {
  readonly page: Page;
  y: number;
}

const say = (pen: Pen, text: string, size: number, font: typeof plain | typeof bold = plain): void => {
  pen.page.font(font).fontSize(size);
  const height = pen.page.heightOfString(text, { width: widthPt });
  if (pen.y + height > footPt) {
    pen.page.addPage();
    pen.y = 34;
  }
  pen.page.font(font).fontSize(size).text(text, paper.marginPt, pen.y, { width: widthPt });
  pen.y += height + 3;
};

const gap = (pen: Pen): void => {
  pen.y += 9;
};

const section = (pen: Pen, title: string): void => {
  gap(pen);
  if (pen.y + 40 > footPt) {
    pen.page.addPage();
    pen.y = 34;
  }
  pen.page.lineWidth(0.8).moveTo(paper.marginPt, pen.y).lineTo(paper.marginPt + widthPt, pen.y).stroke('black');
  pen.y += 5;
  say(pen, title, 11, bold);
};

const clock = (at: EpochMs, zone: string): string => {
  const local = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone);
  return `${dayOf(at, zone)} ${local.toPlainTime().toString({ smallestUnit: 'minute' })} (UTC${local.offset})`;
};

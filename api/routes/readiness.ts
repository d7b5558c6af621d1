import { byUser } from '#domain/journal/entry.ts';
import type { Review } from '#domain/journal/kept-checks.ts';
import { readinessLevels, type ReadinessFacts } from '#domain/readiness/finding.ts';
import { readinessOf, readinessWords } from '#domain/readiness/readiness.ts';
import { fromRfc3339, toRfc3339 } from '#domain/units/time.ts';
import { unfit } from '../errors.ts';
import { findBatch } from '../shed/find-code.ts';
import { personOf } from '../shed/shape.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Verifier } from '../shed/verification.ts';
import type { Handlers } from './mount.ts';

const reviewShape = ({ lot, until, name, found, by, at }: Review) => ({ lot, until, name, found, by: personOf(by), at: toRfc3339(at) });

/** The last check of the journal that came to an end; null: there was none since the program started. */
const verifiedBy = (verifier: Verifier): ReadinessFacts['verified'] => {
  const { state, endedAt, text } = verifier.now();
  if (endedAt === null || (state !== 'intact' && state !== 'fault')) return null;
  return { at: fromRfc3339(endedAt), fault: state === 'fault' ? text : null };
};

/** What is open before an inspector comes, and reviews: acts with a name and a time. */
export const readinessRoutes = (model: ShedModel, verifier: Verifier): Handlers<'readiness' | 'review' | 'reviews'> => ({
  readiness: () => {
    const now = model.clock.now();
    const shed = model.shed();
    const checks = readinessOf(shed, model.zone, now, { verified: verifiedBy(verifier) });
    const findings = checks.flatMap((check) => check.findings);
    const [stop = 0, fix = 0, look = 0] = readinessLevels.map((level) => findings.filter((finding) => finding.level === level).length);
    return {
      at: toRfc3339(now),
      checks: checks.map((check) => ({ ...check, findings: check.findings.map((finding) => ({ ...finding })) })),
      open: { stop, fix, look },
      notRecorded: checks.filter(({ state }) => state === 'not-recorded').length,
      words: readinessWords(checks),
      reviews: shed.reviews.toReversed().slice(0, 50).map(({ lot, until, name, at }) => ({ lot, until, name, at: toRfc3339(at) })),
    };
  },
  review: ({ body, user }) => {
    const { sequence } = model.shed();
    const until = body.until ?? sequence;
    if (until > sequence) throw unfit('until', `is no entry yet: the last one is ${String(sequence)}`);
    const lot = body.lot === null ? null : findBatch(model, body.lot).lot;
    model.write([{ who: byUser(user.name), kind: 'reviewed', body: { lot, until, name: body.name, ...(body.found !== undefined && { found: body.found }) } }]);
    const review = model.shed().reviews.at(-1);
    if (review === undefined) throw new Error('the review was written and is not there');
    return reviewShape(review);
  },
  reviews: () => ({ reviews: model.shed().reviews.toReversed().map(reviewShape) }),
});

import { openDeviations, unnumberedExcursions } from './deviations.ts';
import type { ReadinessRule } from './finding.ts';
import { doubtsUndecided, lapsed, oldBuffers, uncheckedThermometer } from './instruments.ts';
import { jarAboveLimit, oldEvidence, oneDecimal, repeatedValues, stripOnly, unprovenJars, unusableJarPh } from './jar-ph.ts';
import { brokenJournal, notAtHand } from './keeping.ts';
import { massBalance } from './mass-balance.ts';
import { unnamed, unreviewed } from './people.ts';
import { closures, emptyFields, gaps, lateActs, lateEntries, limitSources, validation } from './process.ts';
import { labelFields, noExercise, reusedLots, unaccountedJars, undecidedClass, unknownSources } from './sources.ts';

/** What inspectors commonly find, as checks the shed runs on itself; each names the finding behind it. Thresholds are settings of the site. */
export const readinessRules: readonly ReadinessRule[] = [
  unprovenJars, jarAboveLimit, unusableJarPh, oldBuffers, oneDecimal, stripOnly, oldEvidence, uncheckedThermometer, doubtsUndecided, lateActs, emptyFields, gaps, openDeviations,
  unnumberedExcursions, unreviewed, limitSources, validation, undecidedClass, noExercise, reusedLots, unknownSources, unaccountedJars, massBalance, labelFields, repeatedValues, unnamed,
  lateEntries, brokenJournal, notAtHand, lapsed, closures,
];

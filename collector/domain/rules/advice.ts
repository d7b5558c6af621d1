import type { LimitSide } from './alert.ts';
import type { Limit } from './limit.ts';

/**
 * What to do now, by limit: plain words, conservative, in the order to do it. Advice never says that anything may be eaten; toxin
 * gives no sign that can be seen, smelled or tasted, so where it is thinkable the words are measure, hold, do not taste.
 */
const measureAndHold = 'Measure pH and salt today; until pH is measured treat it as above 4.6. Hold the lot if anything smells or looks wrong, and do not taste to find out. A guide only: local rules decide.';
const cool = 'Cool the drum now: shade, wet sacks, onto the floor, sealed bottles of ice (loose ice thins the brine).';
const leaveCold = 'Do not add sugar or disturb the brine.';

const byLimit: Readonly<Record<string, string>> = {
  'soak-temperature-low': 'Leaching is slow in the cold; nothing is lost. Move the drum somewhere milder if you can.',
  'soak-temperature-high': 'Water and weak brine hold back nothing: cool the drum and change the water today, cold. Keep the fruit under, never sealed.',
  'soak-temperature-danger': `${cool} Change the water now, cold. Water and weak brine hold back nothing. ${measureAndHold}`,
  'leach-temperature-low': 'Leaching is slow in the cold; nothing is lost. Move the drum somewhere milder if you can.',
  'leach-temperature-high': 'Shade the drum and look for film and soft fruit. Check that the fruit is under the brine, and measure the salt.',
  'leach-temperature-danger': `${cool} ${measureAndHold}`,
  'ferment-temperature-low': `Acid forms slowly below 15 °C. Wait, or warm the shed. ${leaveCold}`,
  'ferment-temperature-stalled': `Below about 12 °C acid all but stops forming. Warm the shed or wait. ${leaveCold} Measure pH; in spring it starts again with gas, so leave the lid free to vent.`,
  'ferment-temperature-high': 'Shade the drum and look for film, gas and soft fruit. Measure pH and salt in the next day.',
  'ferment-temperature-danger': `${cool} ${measureAndHold}`,
  'hold-temperature-low': 'Keep the drum from freezing: ice splits fruit. If it froze, thaw it slowly and check the drum for cracks.',
  'hold-temperature-high': 'Shade the drum or jar soon. Look for film and measure pH: warm waiting fruit may lose its acid.',
  'hold-temperature-danger': `${cool} ${measureAndHold}`,
  'ferment-salinity-low': 'Stir from the bottom, wait half an hour and measure again, mid-depth. If it stays low raise it with dissolved salt, at most 2 % in a step.',
  'ferment-salinity-danger': `Stir, wait half an hour and measure again. If it stays low add dissolved salt now, counting the fruit and not only the brine. ${measureAndHold}`,
  'ferment-salinity-slow': 'Above 8 % salt acid forms slowly. Nothing to do but to expect it.',
  'ferment-salinity-high': 'Do not add salt. Measure pH: little acid forms in so strong a brine, and fruit may shrivel.',
  'hold-salinity-low': 'Stir, wait half an hour and measure again. Raise it with dissolved salt before the fruit waits longer.',
  'kept-brine-hold-ph-high': 'Check the meter in a fresh buffer. Look for film and for top-ups with plain water. Measure again in 24 and 72 hours; hold the lot until pH is at or below 4.3.',
  'kept-brine-hold-ph-danger': `Check the meter in a fresh buffer and measure again. Hold the lot: above pH 4.6 acid is no barrier. ${measureAndHold}`,
  'changed-brine-hold-ph-high': 'Leached fruit has little acid of its own. Do not jar without an acid plan: bench trial first, and pH at or below 4.3 in the pack. Local rules and a process authority decide.',
  'water-then-brine-hold-ph-high': 'Leached fruit has little acid of its own. Do not jar without an acid plan: bench trial first, and pH at or below 4.3 in the pack. Local rules and a process authority decide.',
  'change-overdue': 'Change it when you can, or skip it with a reason. Late costs time, and the schedule moves on from the day you do it.',
  'soak-change-late': 'Change the water today. In water and weak brine the interval is a hygiene limit, not a matter of speed.',
  'soak-change-danger': `Change the water now, and look before you do: film, slime, soft fruit or a foul smell mean hold the lot. ${measureAndHold}`,
};

const bySide: Readonly<Record<string, string>> = {
  'temperature high': cool,
  'temperature low': `Move the drum somewhere milder, or wait. ${leaveCold}`,
  'ph high': measureAndHold,
  'salinity low': 'Stir, wait half an hour, measure again; raise it with dissolved salt.',
};

export const adviceFor = (limit: Limit, side: LimitSide | null): string => byLimit[limit.id] ?? bySide[`${limit.quantity} ${side}`] ?? 'Go and look at the drum, measure by hand, and write down what you find.';

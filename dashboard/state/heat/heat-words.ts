import { hourMs, type DrumHeat } from '#contract';

/** Which drums need someone, which are watched and well, and of which nothing can be foretold. */
export const heatState = (heat: DrumHeat): 'outside' | 'crosses' | 'stays' | 'unknown' =>
  heat.outside !== null ? 'outside' : heat.unknown !== null ? 'unknown' : heat.crossing !== null ? 'crosses' : 'stays';

export const heatWord: Readonly<Record<ReturnType<typeof heatState>, string>> = { outside: 'outside now', crosses: 'will pass a limit', stays: 'stays inside', unknown: 'not known' };

/** How well the drum's own pace is known. */
export const paceWords = ({ response }: DrumHeat): string => {
  if (response === null) return '';
  const hours = (value: number): string => value.toFixed(value < 10 ? 1 : 0);
  const span = `${hours(response.timeConstantHours)} h (${hours(response.lowHours)} to ${hours(response.highHours)})`;
  const offset = Math.abs(response.offsetC) < 0.5 ? '' : `; settles ${Math.abs(response.offsetC).toFixed(1)} °C ${response.offsetC > 0 ? 'warmer' : 'colder'} than the air probe`;
  return response.basis === 'fitted' ? `Time constant ${span}, from its own readings${offset}.` : `Time constant ${span}, assumed from its size until its own readings tell it.`;
};

/** Every third hour is enough for a table. */
export const tableRows = (heat: DrumHeat): DrumHeat['ahead'] => heat.ahead.filter(({ t }, index) => (t - (heat.ahead[0]?.t ?? t)) % (3 * hourMs) === 0 || index === heat.ahead.length - 1);

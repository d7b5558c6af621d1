import type { Pick, PickShare } from '#contract';
import { massScale } from '../../format/units.ts';
import { dayWords, kg, massWords, placeWords } from '../../state/pick-words.ts';
import { Stepper } from '../forms/stepper.tsx';
import { useScreen } from '../screen.ts';

interface PickSharesProps {
  readonly picks: readonly Pick[];
  readonly zone: string;
  readonly shares: readonly PickShare[];
  readonly onChange: (shares: readonly PickShare[]) => void;
}

/** Which picks go into the drum, and how much of each; weights are rough, so too much is said and not refused. */
export const PickShares = ({ picks, zone, shares, onChange }: PickSharesProps) => {
  const { settings } = useScreen();
  if (picks.length === 0) return null;
  const change = (share: PickShare, kilograms: number): void => onChange(shares.map((each) => (each === share ? { ...share, kg: Number(kilograms.toFixed(2)) } : each)));
  return (
    <div class="pick-shares">
      <fieldset class="choice">
        <legend>From picks</legend>
        {picks.map((pick) => {
          const share = shares.find((each) => each.pick === pick.pick);
          return (
            <label key={pick.pick}>
              <input
                type="checkbox"
                checked={share !== undefined}
                onChange={() => onChange(share === undefined ? [...shares, { pick: pick.pick, kg: Number(leftOf(pick).toFixed(1)) }] : shares.filter((each) => each !== share))}
              />
              <span>
                {pick.pick}: {dayWords(pick, zone)}, {placeWords(pick)}, {pick.unaccountedKg === null ? massWords(pick) : `${kg(pick.unaccountedKg)} left`}
              </span>
            </label>
          );
        })}
      </fieldset>
      {shares.map((share) => {
        const left = picks.find(({ pick }) => pick === share.pick)?.unaccountedKg ?? null;
        return (
          <div key={share.pick}>
            <Stepper label={`of ${share.pick}`} value={share.kg * 1_000} scale={massScale(settings.units.value)} step={1} decimals={1} least={0.1} onChange={(grams) => change(share, grams / 1_000)} />
            {left !== null && share.kg > left + 0.05 && <p class="caution">{kg(share.kg - left)} more than is left of this pick. Weights are rough; look whether one was written twice.</p>}
          </div>
        );
      })}
    </div>
  );
};

/** What fills a drum where nothing was weighed. */
const usualKg = 30;
const leftOf = ({ unaccountedKg }: Pick): number => unaccountedKg ?? usualKg;

import { inWords, showMass, showVolume, type UnitChoice } from '../../format/units.ts';
import type { ToCarry } from '../../state/today.ts';

/** What to carry out to the drums, all of it together; water apart, because there it is hygiene. */
export const CarryWords = ({ carry, units }: { readonly carry: ToCarry; readonly units: UnitChoice }) => {
  const brine = carry.brineL > 0 ? `${inWords(showVolume(carry.brineL, units))} brine` : '';
  const salt = carry.saltG > 0 ? `${inWords(showMass(carry.saltG, units))} salt` : '';
  const carried = [brine, salt].filter((part) => part !== '').join(', ');
  if (carried === '' && carry.waterL === 0) return null;
  return (
    <p class="carry">
      {carried !== '' && (
        <>
          <b>{carried}</b> to carry
        </>
      )}
      {carry.waterL > 0 && (
        <span>
          {' '}
          <b>{inWords(showVolume(carry.waterL, units))} fresh water</b>, for hygiene
        </span>
      )}
    </p>
  );
};

import { changeSaltBrine, saltUptakePerDay, takeUpSalt, type SaltState } from '../brine/salt-change.ts';
import { isAct, type Batch } from '../journal/shed.ts';
import { dayMs, type EpochMs } from '../units/time.ts';
import { fleshWaterL } from './brine-ratio.ts';

/**
 * The salt to expect in the brine at a time, in g/L: what was poured, less what the fruit has taken, plus what it gives back.
 *
 * The two-water balance of `takeUpSalt` is run over the batch's acts at 18 °C (uptake hardly depends on temperature: 20 kJ/mol);
 * a top-up mixes in, strewn salt dissolves, a split divides the amounts, fresh fruit holds none.
 *
 * Source: `takeUpSalt`, with its assumptions. A measurement beats it; it is there so that a wrong one stands out.
 * Example: 27 L at 100 g/L on 30 kg of slit fruit (16.2 L of flesh water) is going to 62.5.
 */
export const expectedSaltGPerL = (batch: Batch, at: EpochMs): number => {
  const perDay = saltUptakePerDay(batch.cut, assumedC);
  let { fruitKg, brineL } = batch.opened;
  let from = batch.startedAt;
  let salt: SaltState = { fleshGPerL: 0, brineGPerL: batch.saltGPerL };
  const runTo = (to: EpochMs): void => {
    salt = takeUpSalt(salt, (perDay * Math.max(0, to - from)) / dayMs, brineL / fleshWaterL({ fruitKg }));
    from = Math.max(from, to);
  };
  for (const act of batch.acts) {
    if (act.at > at || !act.standing) continue;
    runTo(act.at);
    if (isAct('brine-changed')(act)) {
      const { fraction = 1, saltGPerL } = act.body;
      salt = changeSaltBrine(salt, saltGPerL, fraction);
      if (fraction === 1) brineL = act.body.brineL;
    } else if (isAct('brine-topped-up')(act)) salt = changeSaltBrine(salt, act.body.saltGPerL, act.body.brineL / (brineL + act.body.brineL));
    else if (isAct('split')(act)) {
      // Both parts go on with the strength there is: only the amounts are divided.
      const stays = !batch.lineage.includes(act.body.into);
      fruitKg = stays ? fruitKg - act.body.fruitKg : act.body.fruitKg;
      brineL = stays ? brineL - act.body.brineL : act.body.brineL;
    } else if (isAct('salt-added')(act)) salt = { ...salt, brineGPerL: salt.brineGPerL + act.body.saltG / brineL };
  }
  runTo(at);
  return salt.brineGPerL;
};

const assumedC = 18;

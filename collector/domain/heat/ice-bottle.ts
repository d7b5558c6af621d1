/**
 * Heat that a sealed bottle of ice takes out of a drum until it is as warm as the drum.
 *
 * Q = m (L + c T): melting at 0 °C, then warming to T. m: a litre of water weighs 1 kg, frozen or not.
 *
 * Source: latent heat of fusion of water 334 kJ/kg, heat capacity 4.186 kJ/(kg·K) (steam and refrigeration tables). Units: L of water
 * filled in, °C, kJ. Valid range: T 0 to 40 °C; ice colder than 0 °C takes about 2 kJ/(kg·K) more, left out to be on the safe side.
 * Example: 2 L melting to 25 °C take 877 kJ, which cools a drum of 198 kJ/K by 4.4 K.
 */
export const iceBottleKj = (bottleL: number, drumC: number): number => bottleL * (fusionKjPerKg + waterKjPerKgK * drumC);

const fusionKjPerKg = 334;
const waterKjPerKgK = 4.186;

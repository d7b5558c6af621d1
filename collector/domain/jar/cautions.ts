import type { EntryBodies } from '../journal/entry.ts';

type Packed = Pick<EntryBodies['jarred'], 'ingredients' | 'acid' | 'coldC' | 'heat' | 'brine'>;

/**
 * What must be said where the risk is: when jars are filled, and as long as they stand there. Each names the risk and what is done about it.
 *
 * Source: guidance of extension services on low-acid jars, garlic and herbs in oil (toxin of Clostridium botulinum without air above pH 4.6),
 * and on thermal shock of glass; 21 CFR 114.3 for the limit. Local rules come first.
 */
export const jarCautions = ({ ingredients, acid, coldC, heat, brine }: Packed): readonly string[] => {
  const all = [...ingredients, brine, acid ?? ''].join(' ');
  return [
    lowAcidCaution,
    ...(/\boil\b/i.test(all) ? [oilCaution] : []),
    ...(/garlic|stuffed|pepper|lemon|herb|oregano|thyme|bay|chilli/i.test(ingredients.join(' ')) ? [addedCaution] : []),
    ...(coldC === undefined ? [] : [coldCaution]),
    ...(/hot|boil|°|heat|pasteur/i.test(`${brine} ${heat ?? ''}`) ? [hotBrineCaution] : []),
  ];
};

export const lowAcidCaution = 'In a closed jar above pH 4.6 the bacterium that causes botulism can grow, without smell or look. An unknown pH counts as above. Measure the packed jars before any leaves.';
export const oilCaution = 'Oil shuts out air and brings no acid: fruit under oil must be acid through and through first, and is kept cold.';
export const addedCaution = 'Garlic, herbs and vegetables raise the pH and bring spores of the soil: measure the jars that hold most of them.';
export const coldCaution = 'Cold slows, it does not stop: at 5 °C or less and not for long, with the date on the label.';
export const hotBrineCaution = 'Hot brine scalds and cracks cold glass: warm the jars first, wear gloves, and do not seal with a wet rim. Heat without the right acid does not make a jar keep.';

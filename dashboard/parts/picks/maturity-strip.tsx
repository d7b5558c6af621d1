import { maturityClasses } from '#contract';
import { FruitMark } from '../fruit-mark.tsx';

/** The eight classes side by side, each as tall as its share, its fruit under it and its number over it. */
export const MaturityStrip = ({ counts, words }: { readonly counts: readonly number[]; readonly words: string }) => {
  const most = Math.max(...counts, 1);
  return (
    <figure class="maturity-strip" role="img" aria-label={`Of ${String(counts.reduce((sum, count) => sum + count, 0))} fruits: ${maturityClasses.flatMap((look, index) => ((counts[index] ?? 0) > 0 ? [`${String(counts[index])} ${look}`] : [])).join(', ')}. ${words}`}>
      {counts.map((count, index) => (
        <span key={maturityClasses[index]} aria-hidden="true">
          <small>{count === 0 ? '' : count}</small>
          <i style={{ height: `${String((count / most) * 44)}px` }} />
          <FruitMark index={index} />
        </span>
      ))}
    </figure>
  );
};

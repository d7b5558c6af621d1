import { useEffect, useRef } from 'preact/hooks';
import { signCaution, type Sign } from '#contract';
import { holdAdvice, holdsLot, signName } from '../state/signs.ts';
import './sign-card.css';

/** What follows from a sign that was just written: what it may be, what to check, what to do. It never clears a lot. */
export const SignCard = ({ sign, drum, onClose }: { readonly sign: Sign; readonly drum: string; readonly onClose: () => void }) => {
  const card = useRef<HTMLElement>(null);
  const holds = holdsLot(sign);
  useEffect(() => {
    card.current?.scrollIntoView({ block: 'nearest' });
  }, [sign]);
  const rows = [['May be', sign.mayBe], ['Check', sign.check], ['Do', sign.act], ['Discard', sign.discardWhen ?? 'not for this sign alone']] as const;
  return (
    <section ref={card} class="sign-card" data-holds={holds ? 'yes' : 'no'} role="alert">
      <h2>
        {drum}: {signName(sign.id)}
      </h2>
      {holds && <p class="problem">{holdAdvice}</p>}
      <dl>
        {rows.map(([name, words]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      <p class="dim">{signCaution}</p>
      <p class="dim">
        Rests on: {sign.confidence}; {sign.source}.
      </p>
      <button type="button" class="quiet" onClick={onClose}>
        Read
      </button>
    </section>
  );
};

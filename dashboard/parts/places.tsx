import { useEffect, useRef } from 'preact/hooks';
import { places, type Place } from '../state/places.ts';
import { Go } from './go.tsx';
import { useScreen } from './screen.ts';
import './places.css';

/** The way to the other screens: at the top of a phone, at the foot of the wall. Where there is little room, all but a few are under "More". */
export const Places = () => {
  const { route } = useScreen();
  const here = route.value.view;
  const more = useRef<HTMLDetailsElement>(null);
  const link = ({ words, to }: Place) => (
    <Go key={to.view} to={to} aria-current={to.view === here ? 'page' : undefined}>
      {words}
    </Go>
  );
  const others = places.filter(({ atHand }) => atHand !== true);
  const current = others.find(({ to }) => to.view === here);
  useEffect(() => {
    const list = more.current;
    if (list === null) return undefined;
    const close = (): void => {
      list.open = false;
    };
    const onKey = ({ key }: KeyboardEvent): void => {
      if (key === 'Escape') close();
    };
    // Whoever goes elsewhere has done with the list.
    const onFocusOut = ({ relatedTarget }: FocusEvent): void => {
      if (relatedTarget instanceof Node && !list.contains(relatedTarget)) close();
    };
    list.addEventListener('keydown', onKey);
    list.addEventListener('focusout', onFocusOut);
    return () => {
      list.removeEventListener('keydown', onKey);
      list.removeEventListener('focusout', onFocusOut);
    };
  }, []);
  return (
    <nav class="places" aria-label="Screens">
      {places.filter(({ atHand }) => atHand === true).map(link)}
      <span class="places-wide">{others.map(link)}</span>
      <details ref={more} class="places-more">
        <summary data-here={current !== undefined}>{current?.words ?? 'More'}</summary>
        <span class="places-list">{others.map(link)}</span>
      </details>
    </nav>
  );
};

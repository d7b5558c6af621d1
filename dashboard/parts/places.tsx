import { places } from '../state/places.ts';
import { Go } from './go.tsx';
import { useScreen } from './screen.ts';
import './places.css';

/** The way to the other screens: at the top of a phone, at the foot of the wall. */
export const Places = () => {
  const { route } = useScreen();
  const here = route.value.view;
  return (
    <nav class="places" aria-label="Screens">
      {places.map(({ words, to }) => (
        <Go key={to.view} to={to} aria-current={to.view === here ? 'page' : undefined}>
          {words}
        </Go>
      ))}
    </nav>
  );
};

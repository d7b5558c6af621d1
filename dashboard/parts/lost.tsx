import type { Trouble } from '../state/trouble.ts';
import './lost.css';

/** Said across the whole width while nothing on the screen is live. It goes by itself when that is mended. */
export const LostBanner = ({ trouble }: { readonly trouble: Trouble }) => (
  <div class="lost" role="alert">
    <strong>{trouble.title}</strong>
    <span>{trouble.words}</span>
  </div>
);

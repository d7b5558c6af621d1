import type { DrumFlag } from '#contract';

/** The shape of a state (ISO 22324 colours, never colour alone): each has its own outline, so that it is told apart in grey. */
export const Mark = ({ state }: { readonly state: DrumFlag }) => (
  <svg class="mark" viewBox="0 0 24 24" aria-hidden="true">
    {shapes[state]}
  </svg>
);

const shapes = {
  inside: <circle cx="12" cy="12" r="7.5" fill="currentColor" />,
  caution: <path d="M12 2.5 22.5 21h-21z" fill="currentColor" />,
  danger: <path d="M6.5 2.5h11L23 12l-5.5 9.500h-11L1 12z" fill="currentColor" />,
  unknown: <path d="M12 2.5 21.5 12 12 21.5 2.5 12z" fill="none" stroke="currentColor" stroke-width="2.6" />,
  done: <rect x="4.5" y="4.5" width="15" height="15" fill="currentColor" />,
  empty: <rect x="5" y="5" width="14" height="14" fill="none" stroke="currentColor" stroke-width="2.4" stroke-dasharray="3.5 2.800" />,
} as const;

/** Due today or before: the one mark for something to do. */
export const DueMark = () => (
  <svg class="due-mark" viewBox="0 0 24 24" aria-hidden="true">
    <path d="M12 1.5 22.5 12 12 22.5 1.5 12z" fill="currentColor" />
  </svg>
);

import type { ComponentChildren } from 'preact';

/** A table that is wider than a phone moves sideways in its own room, by keys as well. */
export const TableRoom = ({ label, children }: { readonly label: string; readonly children: ComponentChildren }) => (
  // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex -- what scrolls must be reached without a mouse (WCAG 2.1.1)
  <div class="table-room" role="region" aria-label={label} tabIndex={0}>
    {children}
  </div>
);

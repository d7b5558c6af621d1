import type { ComponentChildren } from 'preact';
import './notice.css';

/** A whole-screen word: there is nothing else to show. */
export const Notice = ({ title, urgent = false, children }: { readonly title: string; readonly urgent?: boolean; readonly children: ComponentChildren }) => (
  <main class="notice">
    <div {...(urgent && { role: 'alert' as const })}>
      <h1>{title}</h1>
      <div>{children}</div>
    </div>
  </main>
);

import type { ComponentChildren } from 'preact';
import { pathOf, type Route } from '../state/route.ts';
import { useScreen } from './screen.ts';

/** A link between screens: a real address, followed without loading the page anew. */
export const Go = ({ to, children, ...rest }: { readonly to: Route; readonly children: ComponentChildren; readonly class?: string; readonly 'aria-label'?: string; readonly 'aria-current'?: 'page' | undefined }) => {
  const { go } = useScreen();
  return (
    <a
      {...rest}
      href={pathOf(to)}
      onClick={(event) => {
        if (event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
        event.preventDefault();
        go(to);
      }}
    >
      {children}
    </a>
  );
};

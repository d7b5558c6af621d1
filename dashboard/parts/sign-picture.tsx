import type { JSX } from 'preact';

/** What is seen, drawn with a few lines; the word beside it says the same. A smell is drawn as what rises. */
export const SignPicture = ({ sign }: { readonly sign: string }) => {
  const picture = pictures[sign];
  if (picture === undefined) return null;
  return (
    <svg class="sign-picture" viewBox="0 0 48 40" aria-hidden="true">
      {picture}
    </svg>
  );
};

const drum = <path d="M6 4v28a4 4 0 0 0 4 4h28a4 4 0 0 0 4-4V4" />;
const rising = <path d="M15 18c-4-4 4-7 0-12M24 18c-4-4 4-7 0-12M33 18c-4-4 4-7 0-12" />;

const pictures: Readonly<Record<string, JSX.Element>> = {
  'all-well': <>{drum}<path d="M6 14h36" /><path d="m16 24 6 6 11-12" stroke-width="3.4" /></>,
  film: <>{drum}<path d="M6 15q4.500-4 9 0t9 0 9 0 9 0" /><path d="M6 20h36" stroke-dasharray="3 3" /></>,
  mould: <>{drum}<path d="M6 20h36" /><path d="M13 20c-3-6 3-10 6-6 2-6 9-5 9 0 5-3 8 2 5 6z" /><path d="M17 10V7M24 9V5M31 11V8" /></>,
  bubbles: <>{drum}<path d="M6 12h36" /><circle cx="16" cy="27" r="3" /><circle cx="27" cy="21" r="4" /><circle cx="33" cy="30" r="2.500" /><circle cx="19" cy="17" r="1.800" /></>,
  foam: <>{drum}<path d="M6 18h36" /><circle cx="13" cy="12" r="5" /><circle cx="24" cy="9" r="6" /><circle cx="35" cy="12" r="5" /><path d="M3 20c0 4-1.500 5-1.500 8M45 20c0 4 1.500 5 1.500 8" /></>,
  soft: <><path d="M24 6c10 0 16 6 16 14s-6 14-16 14S8 28 8 20c0-3 1-5.500 2.500-7.500 2 4 6 4.500 8 1.500S20 6 24 6z" /><path d="M4 6l7 5" /></>,
  shrivelled: <><path d="M24 6c11-1 17 7 15 15s-8 13-16 13S7 27 8 19 14 7 24 6z" /><path d="M15 14q4 4 2 9M24 11q-3 6 1 11t-1 9M33 14q-4 5-1 11" /></>,
  putrid: <>{rising}<path d="M10 34c0-7 6-11 14-11s14 4 14 11z" /></>,
  butyric: <>{rising}<path d="M9 34V24h30v10z" /><path d="M17 24v10" /></>,
};

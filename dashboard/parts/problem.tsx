import { useEffect, useRef } from 'preact/hooks';

/** What was refused and why, brought into sight: whoever pressed the key at the foot of a long sheet would see nothing otherwise. */
export const Problem = ({ words }: { readonly words: string }) => {
  const line = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    line.current?.scrollIntoView({ block: 'center' });
  }, [words]);
  return (
    <p ref={line} class="problem" role="alert">
      {words}
    </p>
  );
};

import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { RefObject } from 'preact';

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** The size of an element in CSS pixels, kept current. Zero until it stands on the page. */
export const useSize = <Kind extends Element>(): readonly [RefObject<Kind | null>, Size] => {
  const element = useRef<Kind>(null);
  const [size, setSize] = useState<Size>({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const watched = element.current;
    if (watched === null) return undefined;
    const read = (): void => {
      const { width, height } = watched.getBoundingClientRect();
      setSize((before) => (before.width === width && before.height === height ? before : { width, height }));
    };
    read();
    const observer = new ResizeObserver(read);
    observer.observe(watched);
    return () => observer.disconnect();
  }, []);
  return [element, size];
};

import { useLayoutEffect, useState } from 'preact/hooks';

export interface Size {
  readonly width: number;
  readonly height: number;
}

const nothing: Size = { width: 0, height: 0 };

/** The size of an element in CSS pixels, kept current; zero while it does not stand on the page. Give the first of the pair as its `ref`. */
export const useSize = (): readonly [(element: Element | null) => void, Size] => {
  const [element, setElement] = useState<Element | null>(null);
  const [size, setSize] = useState(nothing);
  useLayoutEffect(() => {
    if (element === null) {
      setSize(nothing);
      return undefined;
    }
    const read = (): void => {
      const { width, height } = element.getBoundingClientRect();
      setSize((before) => (before.width === width && before.height === height ? before : { width, height }));
    };
    read();
    const observer = new ResizeObserver(read);
    observer.observe(element);
    return () => observer.disconnect();
  }, [element]);
  return [setElement, size];
};

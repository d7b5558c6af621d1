import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Notice } from './notice.tsx';

/** A view whose code is fetched when it is first shown. */
export const later = <Props extends object>(load: () => Promise<ComponentType<Props>>): ComponentType<Props> => {
  let View: ComponentType<Props> | null = null;
  return function Later(props: Props) {
    const [failed, setFailed] = useState(false);
    const [, setShown] = useState(View !== null);
    useEffect(() => {
      if (View !== null) return;
      load().then(
        (loaded) => {
          View = loaded;
          setShown(true);
        },
        () => setFailed(true),
      );
    }, []);
    if (failed) {
      return (
        <Notice title="This page did not come" urgent>
          The shed computer did not send it. Load the page again when the connection is back.
        </Notice>
      );
    }
    return View === null ? <p class="waiting">One moment …</p> : <View {...props} />;
  };
};

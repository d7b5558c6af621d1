import { Fragment, type ComponentChildren } from 'preact';
import type { Trace } from '#contract';
import { litWith, shownLines, tracePicture } from '../../state/trace/picture.ts';
import { kindHeads, kindWords } from '../../state/trace/trace-words.ts';
import { useSize } from '../use-size.ts';

const wide = 900;

interface TracePictureProps {
  readonly trace: Trace;
  readonly chosen: string;
  /** What is known of the chosen thing: below the picture, or at its place in the list. */
  readonly detail: ComponentChildren;
  readonly onChoose: (id: string) => void;
}

/** From the trees to the buyers; what is chosen lights its ways. On a phone the same things are a list. */
export const TracePicture = ({ trace, chosen, detail, onChoose }: TracePictureProps) => {
  const [ref, { width }] = useSize();
  const lit = litWith(trace, chosen);
  if (width > 0 && width < wide) {
    return (
      <div ref={ref} class="trace-list">
        {kindHeads.map(([kind, words]) => {
          const own = trace.nodes.filter((node) => node.kind === kind);
          return own.length === 0 ? null : (
            <section key={kind} aria-label={words}>
              <h2>{words}</h2>
              {own.map((node) => (
                <Fragment key={node.id}>
                  <button type="button" class="trace-node" data-kind={kind} data-lit={lit.has(node.id) || undefined} aria-pressed={node.id === chosen} onClick={() => onChoose(node.id)}>
                    <b>{node.name}</b>
                    {shownLines(node).map((line) => (
                      <span key={line}>{line}</span>
                    ))}
                  </button>
                  {node.id === chosen && detail}
                </Fragment>
              ))}
            </section>
          );
        })}
      </div>
    );
  }
  const picture = width === 0 ? null : tracePicture(trace, width);
  return (
    <>
      <div ref={ref} class="trace-room" style={{ height: `${String(picture?.height ?? 300)}px` }}>
        {picture !== null && (
          <>
            <svg aria-hidden="true" width={width} height={picture.height}>
              {picture.edges.toSorted((one, other) => Number(lit.has(one.from) && lit.has(one.to)) - Number(lit.has(other.from) && lit.has(other.to))).map(({ from, to, path }) => (
                <path key={`${from} ${to}`} d={path} data-lit={(lit.has(from) && lit.has(to)) || undefined} />
              ))}
            </svg>
            {picture.heads.map(({ words, x }) => (
              <p key={words} class="trace-head" style={{ left: `${String(x)}px` }}>
                {words}
              </p>
            ))}
            {picture.nodes.map((node) => (
              <button
                key={node.id}
                type="button"
                class="trace-node"
                data-kind={node.kind}
                data-lit={lit.has(node.id) || undefined}
                aria-pressed={node.id === chosen}
                style={{ left: `${String(node.x)}px`, top: `${String(node.y)}px`, width: `${String(node.width)}px`, height: `${String(node.height)}px` }}
                onClick={() => onChoose(node.id)}
              >
                <b>
                  <span class="hidden-words">{kindWords[node.kind]} </span>
                  {node.name}
                </b>
                {shownLines(node).map((line) => (
                  <span key={line}>{line}</span>
                ))}
              </button>
            ))}
          </>
        )}
      </div>
      {detail}
    </>
  );
};

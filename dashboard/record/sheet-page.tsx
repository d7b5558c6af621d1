import type { Sheet, SheetPart, SheetTable } from '#contract';
import { RibbonPicture } from './ribbon-picture.tsx';

/** A sheet on a screen, and printed from it. */
export const SheetPage = ({ sheet }: { readonly sheet: Sheet }) => (
  <main>
    <h1>{sheet.title}</h1>
    <section>
      {sheet.front.map((part, index) => (
        <Part key={index} part={part} label="Limits" stacks />
      ))}
    </section>
    <nav aria-label="Sections">
      {sheet.sections.map(({ title }, index) => (
        <a key={title} href={`#part-${index + 1}`}>
          {index + 1} {title}
        </a>
      ))}
    </nav>
    {sheet.sections.map(({ title, parts }, index) => (
      <section key={title} id={`part-${index + 1}`}>
        <h2>
          {index + 1} {title}
        </h2>
        {parts.map((part, place) => (
          <Part key={place} part={part} label={`${title}, table ${place + 1}`} />
        ))}
      </section>
    ))}
  </main>
);

/** `stacks`: on a phone each row of its table becomes a small block, so that no result is out of sight. */
export const Part = ({ part, label, stacks = false }: { readonly part: SheetPart; readonly label: string; readonly stacks?: boolean }) => {
  switch (part.kind) {
    case 'text':
      return <p class={part.strong === true ? 'strong' : ''}>{part.text}</p>;
    case 'pair':
      return (
        <p class={part.strong === true ? 'pair head' : 'pair'}>
          <span>{part.left}</span>
          <span>{part.right}</span>
        </p>
      );
    case 'state':
      return (
        <p class="state">
          <strong>{part.word}</strong> {part.text}
        </p>
      );
    case 'labelled':
      return (
        <dl>
          <dt>{part.label}</dt>
          {part.lines.map((line) => (
            <dd key={line}>{line}</dd>
          ))}
        </dl>
      );
    case 'sign':
      return (
        <div class="sign">
          <p>{part.text}</p>
          <p class="ink">
            <span>Reviewed by</span>
            <span>on</span>
          </p>
        </div>
      );
    case 'ribbon':
      return <RibbonPicture ribbon={part.ribbon} />;
    case 'table':
      return part.rows.length === 0 ? <p>{part.empty}</p> : <Table table={part} label={label} stacks={stacks} />;
  }
};

const Table = ({ table: { columns, rows }, label, stacks }: { readonly table: SheetTable; readonly label: string; readonly stacks: boolean }) => (
  // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex -- what scrolls must be reached without a mouse (WCAG 2.1.1)
  <div class={stacks ? 'wide stacks' : 'wide'} tabIndex={0} role="region" aria-label={label}>
    <table>
      <thead>
        <tr>
          {columns.map(({ title, right }) => (
            <th key={title} scope="col" class={right === true ? 'right' : ''}>
              {title}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ cells, struck, strong }, row) => (
          <tr key={row} class={[struck === true ? 'struck' : '', strong === true ? 'strong' : ''].join(' ').trim()}>
            {cells.map((cell, index) => (
              <td key={index} data-title={columns[index]?.title} class={[columns[index]?.right === true ? 'right' : '', columns[index]?.code === true ? 'code' : ''].join(' ').trim()}>
                {cell}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  </div>
);

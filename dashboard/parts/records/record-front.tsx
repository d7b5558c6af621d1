import { useEffect, useState } from 'preact/hooks';
import { sheetOf, type LotRecord } from '#contract';
import { fetchRecord } from '../../client/fetch-record.ts';
import { Part } from '../../record/sheet-page.tsx';
import { TableRoom } from '../compare/table-room.tsx';
import { failureWords } from '../forms/form-frame.ts';
import './record-front.css';

/** Page one of a record, set from the same sheet of words as the paper. */
export const RecordFront = ({ lot }: { readonly lot: string }) => {
  const [record, setRecord] = useState<LotRecord | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  useEffect(() => {
    void fetchRecord(lot).then((answer) => {
      setProblem(answer.ok ? null : failureWords(answer.error));
      setRecord(answer.ok ? answer.value.record : null);
    });
  }, [lot]);
  if (problem !== null) {
    return (
      <p class="problem" role="alert">
        {problem}
      </p>
    );
  }
  if (record === null) return <p role="status">Putting the record together …</p>;
  const { front, printed } = sheetOf(record);
  return (
    <article class="record-front" aria-label={`Page one of the record of ${lot}`}>
      {front.map((part, index) =>
        part.kind === 'ribbon' ? (
          // Wider than a phone: moved sideways by itself, also with the keyboard.
          <TableRoom key={index} label="Temperature through the cure">
            <Part part={part} label="Temperature" />
          </TableRoom>
        ) : (
          <Part key={index} part={part} label="Limits" stacks />
        ),
      )}
      <p class="dim">As it stood on {printed}. The PDF and the self-checking file hold everything behind it.</p>
    </article>
  );
};

/**
 * The page of a record: one file with data, picture and check, which works from a disk with no network and no server. Everything shown is
 * made from the data that is checked, so that nothing else in the file can tell a different story.
 */
import { render } from 'preact';
import { sheetOf, type Sheet } from '#contract';
import { checkRecord, type Checked } from './check-record.ts';
import { SheetPage } from './sheet-page.tsx';
import { Verdict } from './verdict.tsx';

const text = document.getElementById('record')?.textContent ?? '';
const place = document.getElementById('page');

/** Data that was changed may be of no shape at all. */
const sheetFrom = ({ sealed }: Checked): Sheet | null => {
  try {
    return sealed === null ? null : sheetOf(sealed.record);
  } catch {
    return null;
  }
};

if (place !== null) {
  const checked = checkRecord(text);
  const sheet = sheetFrom(checked);
  document.title = `${checked.verified ? 'Verified' : 'ALTERED'}: ${sheet === null ? 'record of a lot' : `record of lot ${sheet.lot}`}`;
  try {
    render(
      <>
        <Verdict checked={checked} />
        {sheet === null ? null : <SheetPage sheet={sheet} />}
      </>,
      place,
    );
  } catch {
    render(<Verdict checked={checked} />, place);
  }
}

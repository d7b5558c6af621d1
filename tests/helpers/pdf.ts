import { spawnSync } from 'node:child_process';
import { systemPart } from './system-parts.ts';

/** The pages of a PDF file as another program reads them: the text of each, laid out as it stands there. */
export const pdfPages = (file: Uint8Array): string[] => {
  const { status, stdout, stderr } = spawnSync(systemPart('pdftotext'), ['-layout', '-enc', 'UTF-8', '-', '-'], { input: file, encoding: 'utf8' });
  if (status !== 0) throw new Error(`pdftotext: ${stderr}`);
  return stdout.split('\f').slice(0, -1);
};

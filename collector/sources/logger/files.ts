import { createHash } from 'node:crypto';
import { createReadStream, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { RowRefusal } from '#domain/logger/mapping.ts';

/**
 * Where the file of a logger lies between the hand that brings it and the collector that takes it in: one folder each in the data
 * directory. What is to be done with it stands in the journal; the folder can be lost and only the file is.
 */
const folder = (directory: string): string => join(directory, 'imports');

export const importIdPattern = /^[0-9]{8}-[0-9a-f]{8}$/;

const folderOf = (directory: string, id: string): string => join(folder(directory), id);
export const importFile = (directory: string, id: string): string => join(folderOf(directory, id), 'file.csv');
const partFile = (directory: string, id: string): string => `${importFile(directory, id)}.part`;
const infoFile = (directory: string, id: string): string => join(folderOf(directory, id), 'info.json');
const progressFile = (directory: string, id: string): string => join(folderOf(directory, id), 'progress.json');

/** What is known of a file that was handed in, before anybody has said how it is to be read. */
export interface ImportInfo {
  readonly file: string;
  readonly bytes: number;
  readonly digest: string;
  readonly by: string;
  readonly at: string;
}

/** How far the collector is; `rows` counts from the first row after those to be skipped. */
export interface ImportProgress {
  readonly rows: number;
  readonly bytes: number;
  readonly stored: number;
  readonly duplicates: number;
  readonly conflicts: number;
  readonly refused: Readonly<Partial<Record<RowRefusal, number>>>;
  /** The first rows refused, so that a person can look at them. */
  readonly examples: readonly { readonly row: number; readonly reason: RowRefusal; readonly text: string }[];
  readonly from: number | null;
  readonly to: number | null;
}

export const noProgress: ImportProgress = { rows: 0, bytes: 0, stored: 0, duplicates: 0, conflicts: 0, refused: {}, examples: [], from: null, to: null };

const readJson = <Shape>(file: string): Shape | null => {
  try {
    return JSON.parse(readFileSync(file, 'utf8')) as Shape;
  } catch {
    return null;
  }
};

/** Renamed into place, so that a reader never sees half of it. */
const writeJson = (file: string, value: unknown): void => {
  writeFileSync(`${file}.new`, JSON.stringify(value));
  renameSync(`${file}.new`, file);
};

/** Makes the folder; the file is written beside its name, and gets it when it is whole. */
export const beginImport = (directory: string, id: string): string => {
  mkdirSync(folderOf(directory, id), { recursive: true });
  return partFile(directory, id);
};

export const keepImport = (directory: string, id: string, info: ImportInfo): void => {
  renameSync(partFile(directory, id), importFile(directory, id));
  writeJson(infoFile(directory, id), info);
};

export const importInfo = (directory: string, id: string): ImportInfo | null => (importIdPattern.test(id) ? readJson<ImportInfo>(infoFile(directory, id)) : null);
export const importProgress = (directory: string, id: string): ImportProgress | null => readJson<ImportProgress>(progressFile(directory, id));
export const sayImportProgress = (directory: string, id: string, progress: ImportProgress): void => writeJson(progressFile(directory, id), progress);

/** The file has done its work; what became of it stays to be read. */
export const forgetImportFile = (directory: string, id: string): void => rmSync(importFile(directory, id), { force: true });
export const dropImport = (directory: string, id: string): void => {
  if (importIdPattern.test(id)) rmSync(folderOf(directory, id), { recursive: true, force: true });
};

export const importIds = (directory: string): readonly string[] => (existsSync(folder(directory)) ? readdirSync(folder(directory)).filter((id) => importIdPattern.test(id)) : []);

/** When the folder was last touched, epoch ms. */
export const importTouchedAt = (directory: string, id: string): number => statSync(folderOf(directory, id)).mtimeMs;

export const digestOf = async (file: string): Promise<string> => {
  const hash = createHash('sha256');
  for await (const chunk of createReadStream(file)) hash.update(chunk as Buffer);
  return hash.digest('hex');
};

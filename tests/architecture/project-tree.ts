/** The files of the project as version control sees them: committed ones and new ones that are not ignored. */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { readSource, type SourceFile } from './source-file.ts';

export const projectRoot = fileURLToPath(new URL('../..', import.meta.url));

export const projectPaths = (): string[] =>
  execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard', '-z'], { cwd: projectRoot, encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 })
    .split('\0')
    .filter((path) => path !== '' && existsSync(projectRoot + path));

export const readProjectFile = (path: string): string => readFileSync(projectRoot + path, 'utf8');

export const projectSources = (): SourceFile[] =>
  projectPaths()
    .filter((path) => /\.tsx?$/.test(path) && !path.endsWith('.d.ts'))
    .map((path) => readSource(path, readProjectFile(path)));

import { fail, importUploaded, importUploadPath, ok, problem, type ImportUploaded, type Result } from '#contract';
import type { Failure } from './call.ts';

const lost: Failure = { code: 'unreachable', title: 'The file did not get through', detail: 'The connection was lost on the way. Nothing was kept; try again.', errors: [] };

/** Sends a file as it is, and tells how far it is. `fetch` cannot tell that yet. */
export const sendFile = (file: File, progress: (share: number) => void): Promise<Result<ImportUploaded, Failure>> =>
  new Promise((resolve) => {
    const request = new XMLHttpRequest();
    request.open('POST', `/api${importUploadPath}?name=${encodeURIComponent(file.name.slice(0, 120) || 'file.csv')}`);
    request.setRequestHeader('content-type', 'text/csv');
    request.upload.addEventListener('progress', ({ loaded, total }) => progress(total > 0 ? loaded / total : 0));
    request.addEventListener('error', () => resolve(fail(lost)));
    request.addEventListener('abort', () => resolve(fail(lost)));
    request.addEventListener('load', () => resolve(read(request)));
    request.send(file);
  });

const read = ({ status, responseText }: XMLHttpRequest): Result<ImportUploaded, Failure> => {
  let answer: unknown;
  try {
    answer = JSON.parse(responseText);
  } catch {
    return fail(lost);
  }
  const taken = importUploaded.safeParse(answer);
  if (status === 201 && taken.success) return ok(taken.data);
  const refused = problem.safeParse(answer);
  return fail(refused.success ? { code: 'internal', title: refused.data.title, detail: refused.data.detail, errors: refused.data.errors ?? [] } : lost);
};

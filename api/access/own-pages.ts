import type { RequestHandler } from 'express';
import { ApiError } from '../errors.ts';

/**
 * A browser says from whose page a request comes (Fetch Metadata, W3C): acts asked for by a foreign page are refused. This adds to
 * SameSite cookies, which other ports of the same machine still get. Programs send no such header and bring a token.
 */
export const ownPagesOnly: RequestHandler = (request, _response, next) => {
  const from = request.headers['sec-fetch-site'];
  const reads = request.method === 'GET' || request.method === 'HEAD';
  if (reads || from === undefined || from === 'same-origin' || from === 'none') next();
  else next(new ApiError('not-allowed', 'This was asked for by the page of another site. Nothing was written.'));
};

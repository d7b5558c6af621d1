import { existsSync } from 'node:fs';
import { join } from 'node:path';
import express, { type RequestHandler } from 'express';
import helmet from 'helmet';

/** What a browser may do with our answers: load our own files, and nothing else from anywhere. */
export const pagePolicy: RequestHandler = helmet({
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      defaultSrc: ["'none'"],
      scriptSrc: ["'self'"],
      styleSrc: ["'self'"],
      imgSrc: ["'self'", 'data:'],
      fontSrc: ["'self'"],
      connectSrc: ["'self'"],
      manifestSrc: ["'self'"],
      baseUri: ["'none'"],
      formAction: ["'self'"],
      frameAncestors: ["'none'"],
    },
  },
  // Served in the clear on a local network: promising TLS would lock the grower out.
  strictTransportSecurity: false,
});

/** The built dashboard. Its files have their content in their name and never change; the page itself is asked for each time. */
export const servePage = (directory: string): RequestHandler[] => [
  express.static(directory, {
    index: false,
    acceptRanges: false,
    setHeaders: (response, path) => void response.set('cache-control', path.includes('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache'),
  }),
  (request, response, next) => {
    const page = join(directory, 'index.html');
    const isPage = (request.method === 'GET' || request.method === 'HEAD') && !request.path.startsWith('/assets/') && request.accepts('html') !== false;
    if (!isPage || !existsSync(page)) return void next();
    response.set('cache-control', 'no-cache').sendFile(page, { acceptRanges: false });
  },
];

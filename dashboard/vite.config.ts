import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build, defineConfig, type Plugin } from 'vite';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const jsx = { runtime: 'automatic', importSource: 'preact' } as const;
const target = 'es2022';

/** The script of the page of a record, all in one piece; of the contract only what it uses. */
const recordScript = async (): Promise<string> => {
  const built = await build({
    configFile: false,
    root: here('.'),
    logLevel: 'warn',
    oxc: { jsx },
    build: { write: false, target, modulePreload: false, rolldownOptions: { input: here('record/main.tsx'), output: { format: 'iife' }, treeshake: { moduleSideEffects: false } } },
  });
  const [chunk, ...others] = [built].flat().flatMap((each) => ('output' in each ? each.output : []));
  if (chunk?.type !== 'chunk' || others.length > 0) throw new Error('The page of a record must be built into one script.');
  if (/<\/script|<!--/i.test(chunk.code)) throw new Error('The script of the page of a record holds what would end it.');
  return chunk.code;
};

const hashOf = (text: string): string => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;

/**
 * `record.html`: the page of a record without its data, for the API to fill in. It may run the script and wear the style that stand in it,
 * and reach nothing else.
 */
const recordPage: Plugin = {
  name: 'record-page',
  apply: 'build',
  async generateBundle() {
    const script = await recordScript();
    const style = readFileSync(here('record/record.css'), 'utf8');
    const policy = `default-src 'none'; script-src ${hashOf(script)}; style-src ${hashOf(style)}; base-uri 'none'; form-action 'none'`;
    const parts: Readonly<Record<string, string>> = { __POLICY__: policy, __STYLE__: style, __SCRIPT__: script };
    const source = readFileSync(here('record/page.html'), 'utf8').replaceAll(/__(POLICY|STYLE|SCRIPT)__/g, (name) => parts[name] ?? '');
    this.emitFile({ type: 'asset', fileName: 'record.html', source });
  },
};

/** One page, split by view: the wall never loads the chart library. Assets stay files, because the content policy allows no data URLs. */
export default defineConfig({
  root: here('.'),
  base: '/',
  oxc: { jsx },
  plugins: [recordPage],
  build: {
    outDir: here('dist'),
    emptyOutDir: true,
    assetsInlineLimit: 0,
    target,
    modulePreload: { polyfill: false },
  },
  server: { port: 5173, proxy: { '/api': 'http://127.0.0.1:8470' } },
});

/** What really lands in the browser: the import rules judge the source, this judges the built result. */
import { fileURLToPath } from 'node:url';
import { relative } from 'node:path';
import { build, type Plugin } from 'vite';
import { beforeAll, describe, expect, it } from 'vitest';
import { projectRoot } from './project-tree.ts';

interface Chunk {
  readonly file: string;
  readonly isEntry: boolean;
  readonly imports: readonly string[];
  readonly modules: readonly string[];
}

/** Packages that may reach the browser, each with the packages it brings along. */
const browserPackages = [
  'preact',
  '@preact/signals',
  '@preact/signals-core',
  '@fontsource-variable/atkinson-hyperlegible-next',
  'zod',
  'chart.js',
  '@kurkle/color',
  'chartjs-adapter-date-fns',
  'chartjs-plugin-annotation',
  'date-fns',
];

const chartPackages = ['chart.js', '@kurkle/color', 'chartjs-adapter-date-fns', 'chartjs-plugin-annotation', 'date-fns'];

const packageOf = (module: string): string | null => /.*node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(module)?.[1] ?? null;

const isOurs = (module: string): boolean => ['dashboard/', 'api/contract/', 'collector/domain/'].some((room) => module.startsWith(room));

/** Modules made up by the bundler itself, such as its preload helper, start with a zero byte. */
const isBundler = (module: string): boolean => module.startsWith('\0');

const strangers = (modules: readonly string[]): string[] =>
  modules.filter((module) => {
    const name = packageOf(module);
    return name === null ? !isOurs(module) && !isBundler(module) : !browserPackages.includes(name);
  });

/** The modules a page has loaded before anybody asks for more: the entry and all it imports at once. */
const firstLoad = (chunks: readonly Chunk[]): string[] => {
  const seen = new Set<string>();
  const visit = (file: string): void => {
    const chunk = chunks.find((one) => one.file === file);
    if (chunk === undefined || seen.has(file)) return;
    seen.add(file);
    chunk.imports.forEach(visit);
  };
  chunks.filter(({ isEntry }) => isEntry).forEach(({ file }) => visit(file));
  return chunks.filter(({ file }) => seen.has(file)).flatMap(({ modules }) => modules);
};

const charts = (modules: readonly string[]): string[] => modules.filter((module) => chartPackages.includes(packageOf(module) ?? ''));

const bundle = async (): Promise<Chunk[]> => {
  const chunks: Chunk[] = [];
  const collect: Plugin = {
    name: 'collect-modules',
    generateBundle(_options, output) {
      for (const part of Object.values(output)) {
        if (part.type !== 'chunk') continue;
        const modules = part.moduleIds.map((id) => (isBundler(id) ? id : relative(projectRoot, id)));
        chunks.push({ file: part.fileName, isEntry: part.isEntry, imports: part.imports, modules });
      }
    },
  };
  await build({
    configFile: fileURLToPath(new URL('../../dashboard/vite.config.ts', import.meta.url)),
    plugins: [collect],
    build: { write: false },
    logLevel: 'warn',
  });
  return chunks;
};

describe('the built dashboard', () => {
  let chunks: readonly Chunk[] = [];
  beforeAll(async () => {
    chunks = await bundle();
  }, 60_000);

  it('holds the dashboard and the contract', () => {
    const modules = chunks.flatMap((chunk) => chunk.modules);
    expect(modules).toContain('dashboard/main.tsx');
    expect(modules.some((module) => module.startsWith('api/contract/'))).toBe(true);
  });

  it('holds nothing else but the domain and the named packages', () => {
    expect(strangers(chunks.flatMap((chunk) => chunk.modules)), 'Find who imports it; only the dashboard, the contract and the domain may be bundled.').toEqual([]);
    expect(strangers(['dashboard/main.tsx', 'api/app.ts', 'collector/stores/memory.ts', 'node_modules/express/index.js', 'node_modules/zod/index.js'])).toEqual([
      'api/app.ts',
      'collector/stores/memory.ts',
      'node_modules/express/index.js',
    ]);
  });

  it('loads the chart library only with the view that draws a chart', () => {
    expect(charts(firstLoad(chunks)), 'Import the view that draws charts lazily.').toEqual([]);
    const eager = [
      { file: 'main.js', isEntry: true, imports: ['charts.js'], modules: ['dashboard/main.tsx'] },
      { file: 'charts.js', isEntry: false, imports: [], modules: ['node_modules/chart.js/dist/chart.js'] },
    ];
    expect(charts(firstLoad(eager))).toEqual(['node_modules/chart.js/dist/chart.js']);
  });
});

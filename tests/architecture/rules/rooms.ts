/** Which room may import what. Imports flow one way: dashboard → api/contract → collector/domain. */
import { eachImport, roomOf, type Rule, type Target } from '../rule.ts';

/** The client packages of each collector room: one room speaks to one kind of outside world. */
const clients: Readonly<Record<string, readonly string[]>> = {
  'collector/sources': ['aedes', 'mqtt', 'serialport', 'modbus-serial', 'cborg', 'csv-parse'],
  'collector/stores': [],
  'collector/journal': ['canonicalize'],
  'collector/watch': [],
  'collector/outlets': ['nodemailer'],
  'collector/demo': ['mqtt'],
};

const startsIn = (target: Target, ...folders: readonly string[]): boolean =>
  target.kind === 'file' && folders.some((folder) => target.path === folder || target.path.startsWith(`${folder}/`));

const isPackage = (target: Target, names: readonly string[]): boolean => target.kind === 'package' && names.includes(target.name);

const domainIsAlone: Rule = {
  name: 'the domain imports only itself',
  because: 'A formula that needs nothing can be read, tested and run anywhere, the browser included.',
  instead: 'Pass what it needs as an argument, or move the code to the room that owns the outside thing.',
  violations: eachImport(({ path }, target) =>
    roomOf(path) === 'collector/domain' && !startsIn(target, 'collector/domain') ? 'is outside the domain' : null,
  ),
  wrong: [
    { 'collector/domain/a.ts': "import { readFileSync } from 'node:fs';" },
    { 'collector/domain/a.ts': "import { z } from 'zod';" },
    { 'collector/domain/a.ts': "import type { Store } from '../stores/memory.ts';" },
    { 'collector/domain/a.ts': "export { code } from '#contract';" },
    { 'collector/domain/a.ts': "export type A = import('mqtt').MqttClient;" },
  ],
  right: [{ 'collector/domain/brine/a.ts': "import { ok } from '../result.ts'; export * from './b.ts';" }],
};

const collectorRoomsApart: Rule = {
  name: 'the rooms of the collector do not import each other',
  because: 'A source that knows a store cannot be replaced alone.',
  instead: 'Let both meet in collector/pipeline.ts; a shared type belongs in the domain.',
  violations: eachImport(({ path }, target) => {
    const room = roomOf(path);
    if (!(room in clients) || target.kind !== 'file') return null;
    return startsIn(target, room, 'collector/domain') ? null : `is not for ${room}`;
  }),
  wrong: [
    { 'collector/sources/a.ts': "import { open } from '../stores/sqlite/open.ts';" },
    { 'collector/watch/a.ts': "import type { Book } from '../journal/book.ts';" },
    { 'collector/outlets/a.ts': "import { config } from '../config.ts';" },
  ],
  right: [
    { 'collector/sources/a.ts': "import { b } from './b.ts'; import { ok } from '#domain/result.ts'; import { once } from 'node:events';" },
    { 'collector/pipeline.ts': "import { open } from './stores/sqlite/open.ts'; import { listen } from './sources/broker.ts';" },
  ],
};

const oneClient: Rule = {
  name: 'a room of the collector uses only its own client packages',
  because: 'The table of clients says which outside world each room speaks to; a package that turns up elsewhere moves a wall unseen.',
  instead: 'Move the code to the room that owns the package, or, for a new kind of source or outlet, add its client to the table in tests/architecture/rules/rooms.ts.',
  violations: eachImport(({ path }, target) => {
    const allowed = clients[roomOf(path)];
    return allowed !== undefined && target.kind === 'package' && !allowed.includes(target.name) ? `is not a client of ${roomOf(path)}` : null;
  }),
  wrong: [{ 'collector/watch/a.ts': "import { connect } from 'mqtt';" }, { 'collector/stores/a.ts': "const { z } = await import('zod');" }],
  right: [{ 'collector/sources/a.ts': "import { connect } from 'mqtt';" }],
};

const collectorKnowsNoHttp: Rule = {
  name: 'the collector imports neither api nor dashboard',
  because: 'Collecting must go on when the api is dead.',
  instead: 'Offer what the api needs in collector/index.ts and let the api call it; acts travel through the journal.',
  violations: eachImport(({ path }, target) =>
    path.startsWith('collector/') && (startsIn(target, 'api', 'dashboard') || isPackage(target, ['express', 'helmet', 'express-rate-limit']))
      ? 'belongs to the api or the dashboard'
      : null,
  ),
  wrong: [
    { 'collector/pipeline.ts': "import { routes } from '#contract';" },
    { 'collector/main.ts': "import { createApp } from '../api/app.ts';" },
    { 'collector/main.ts': "import express from 'express';" },
  ],
  right: [{ 'collector/main.ts': "import { pipeline } from './pipeline.ts';" }],
};

const contractForBrowsers: Rule = {
  name: 'the contract runs in a browser',
  because: 'The dashboard bundles it; Node or Express in it would break the page or swell it.',
  instead: 'Keep schemas, names and codes here; put what runs on the server in the rest of the api.',
  violations: eachImport(({ path }, target) =>
    roomOf(path) === 'api/contract' && !startsIn(target, 'api/contract', 'collector/domain') && !isPackage(target, ['zod'])
      ? 'is neither zod nor the domain'
      : null,
  ),
  wrong: [
    { 'api/contract/a.ts': "import type { Request } from 'express';" },
    { 'api/contract/a.ts': "import { Buffer } from 'node:buffer';" },
    { 'api/contract/a.ts': "import { status } from '../errors.ts';" },
    { 'api/contract/a.ts': "import type { Health } from '#collector';" },
  ],
  right: [{ 'api/contract/a.ts': "import { z } from 'zod'; import { channels } from '#domain/reading/channel.ts'; import { b } from './b.ts';" }],
};

const oneDoor: Rule = {
  name: 'the api enters the collector by one door',
  because: 'Two processes that share only the data directory and the bus must not grow together inside.',
  instead: 'Import from #collector, and export there what is missing; pure arithmetic comes from #domain.',
  violations: eachImport(({ path }, target) =>
    path.startsWith('api/') && startsIn(target, 'collector') && !startsIn(target, 'collector/index.ts', 'collector/domain')
      ? 'goes past collector/index.ts'
      : null,
  ),
  wrong: [{ 'api/routes/a.ts': "import { open } from '../../collector/stores/sqlite/open.ts';" }, { 'api/main.ts': "import type { Config } from '../collector/config.ts';" }],
  right: [{ 'api/routes/a.ts': "import { openBook } from '#collector'; import { ok } from '#domain/result.ts';" }],
};

const apiServesFiles: Rule = {
  name: 'the api imports no dashboard source',
  because: 'The api serves the built files and must start without the browser code.',
  instead: 'Share the thing through the contract.',
  violations: eachImport(({ path }, target) => (path.startsWith('api/') && startsIn(target, 'dashboard') ? 'is dashboard source' : null)),
  wrong: [{ 'api/app.ts': "import { duration } from '../dashboard/format/duration.ts';" }],
  right: [{ 'api/app.ts': "import { join } from 'node:path';" }],
};

const browserPackages = ['preact', '@preact/signals', '@fontsource-variable/atkinson-hyperlegible-next'];
/** The page of a record checks itself. */
const checkPackages = ['@noble/ed25519', '@noble/hashes', 'canonicalize'];
const chartPackages = ['chart.js', 'chartjs-adapter-date-fns', 'chartjs-plugin-annotation', 'date-fns'];

const dashboardSeesContract: Rule = {
  name: 'the dashboard sees only the contract',
  because: 'A page that knows nothing else can be served by any version of the server that keeps the contract.',
  instead: 'Import from #contract, and export there what is missing. A new browser package goes into the list in tests/architecture/rules/rooms.ts.',
  violations: eachImport(({ path }, target) => {
    if (!path.startsWith('dashboard/') || path === 'dashboard/vite.config.ts') return null;
    return startsIn(target, 'dashboard', 'api/contract/index.ts') || isPackage(target, [...browserPackages, ...chartPackages, ...(path.startsWith('dashboard/record/') ? checkPackages : [])])
      ? null
      : 'is neither the contract, the dashboard nor one of its packages';
  }),
  wrong: [
    { 'dashboard/views/a.tsx': "import { dayMs } from '#domain/units/time.ts';" },
    { 'dashboard/client/a.ts': "import { acts } from '../../api/contract/acts.ts';" },
    { 'dashboard/client/a.ts': "import { createApp } from '../../api/app.ts';" },
    { 'dashboard/state/a.ts': "import { readFile } from 'node:fs/promises';" },
    { 'dashboard/state/a.ts': "import { z } from 'zod';" },
    { 'dashboard/parts/a.tsx': "import { useState } from 'react';" },
    { 'dashboard/views/a.tsx': "import { verify } from '@noble/ed25519';" },
  ],
  right: [
    { 'dashboard/views/a.tsx': "import { useRef } from 'preact/hooks'; import { routes } from '#contract'; import '../style.css';" },
    { 'dashboard/vite.config.ts': "import { defineConfig } from 'vite';" },
    { 'dashboard/record/a.ts': "import { verify } from '@noble/ed25519';" },
  ],
};

const chartsApart: Rule = {
  name: 'the chart library is imported only in dashboard/charts',
  because: 'The wall must load without it, and one adapter is enough to replace it.',
  instead: 'Give dashboard/charts a function that draws what the view needs.',
  violations: eachImport(({ path }, target) =>
    isPackage(target, chartPackages) && !path.startsWith('dashboard/charts/') && !path.startsWith('tests/') ? 'is for dashboard/charts' : null,
  ),
  wrong: [{ 'dashboard/views/a.tsx': "import { Chart } from 'chart.js/auto';" }, { 'api/papers/a.ts': "import { format } from 'date-fns';" }],
  right: [{ 'dashboard/charts/a.ts': "import { Chart } from 'chart.js'; import 'chartjs-adapter-date-fns';" }],
};

const testsStayOutside: Rule = {
  name: 'no room imports tests',
  because: 'What runs in the shed must not need what runs on a desk.',
  instead: 'Move the shared code into the room it serves and let the test import it from there.',
  violations: eachImport(({ path }, target) => (!path.startsWith('tests/') && startsIn(target, 'tests') ? 'is a test' : null)),
  wrong: [{ 'api/app.ts': "import { fakeClock } from '../tests/helpers/fake-clock.ts';" }],
  right: [{ 'tests/api/a.test.ts': "import { fakeClock } from '../helpers/fake-clock.ts';" }],
};

export const roomRules: readonly Rule[] = [
  domainIsAlone,
  collectorRoomsApart,
  oneClient,
  collectorKnowsNoHttp,
  contractForBrowsers,
  oneDoor,
  apiServesFiles,
  dashboardSeesContract,
  chartsApart,
  testsStayOutside,
];

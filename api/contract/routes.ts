import { z } from 'zod';
import { newEntry } from './acts.ts';
import { session, setUp, signIn, type Role } from './access.ts';
import { alert, alertAction, alertMeasures, alerts, alertsQuery, measuresQuery, outOfService, outOfServiceList, setOutOfService, shelve } from './alerts.ts';
import { batchDetail, batches, newBatch, writtenEntry } from './batches.ts';
import { beside, calculatorList } from './calculators.ts';
import { checkSettings, checkSettingsChange, doubtDecision, instrument, instruments, newCalibration, newInstrument } from './calibrations.ts';
import { text } from './common.ts';
import { closeDeviation, deviation, deviationAction, deviations, deviationsQuery, newRecall, newReview, recall, recalls, review, reviews } from './deviations.ts';
import { compare, comparePair, compareQuery } from './compare.ts';
import { drum, drums, newDrum, readings, readingsQuery } from './drums.ts';
import { airForecast, airForecasts, heatPlan } from './heat.ts';
import { importLook, importPreview, importReport, importReports, loggerMapping } from './imports.ts';
import { givenInspection, inspections, newInspection, openInspection } from './inspections.ts';
import { journal, journalQuery } from './journal.ts';
import { limit, limitChange, limits } from './limits.ts';
import { outlet, outletRoute, outlets, outletSet, setOutlet, testAsked } from './outlets.ts';
import { newPick, newSorting, pick, pickAmendment, picks } from './picks.ts';
import { probeHealths, probeReadingsQuery } from './probe-health.ts';
import { newPlacement, placement, probePassword, probes } from './probes.ts';
import { questionAnswer, questionAnswered, questions } from './questions.ts';
import { recordList, verification } from './record-list.ts';
import { recordRoles } from './records.ts';
import { readiness } from './readiness.ts';
import { schedule, scheduleChange, schedules } from './schedules.ts';
import { producer, producerAnswer } from './producer.ts';
import { ingredient, ingredients, newCount, newIngredient, toldIngredient } from './stores.ts';
import { newRecallExercise, recallExercise, recallExercises, trace, traceQuery } from './trace.ts';
import { newTreeLoad, planQuestion, season, seasonPlan, seasonQuery, treeLoadWritten } from './season.ts';
import { health, site, wall } from './site.ts';
import { stall, stallQuery } from './stall.ts';
import { task, tasks } from './tasks.ts';
import { madeToken, newToken, tokens } from './tokens.ts';
import { whatIfAnswer, whatIfQuery } from './what-if.ts';

const watchers: readonly Role[] = ['owner', 'helper', 'wall'];
const workers: readonly Role[] = ['owner', 'helper'];
const owner: readonly Role[] = ['owner'];

interface RouteShape {
  readonly method: 'get' | 'post' | 'put' | 'delete';
  /** OpenAPI form: `/drums/{drum}`. */
  readonly path: string;
  readonly summary: string;
  /** Who may call it; 'open': also without signing in. */
  readonly roles: 'open' | readonly Role[];
  readonly query?: z.ZodType;
  readonly body?: z.ZodType;
  /** What is sent again with the same `Idempotency-Key` is written once, and answered as the first time. */
  readonly keyed?: true;
  readonly answer: z.ZodType | null;
  readonly status: 200 | 201 | 204;
}

/** Every call of the API in one table: the server mounts it, the client is typed by it, `/api/openapi.json` is printed from it. */
export const routes = {
  health: { method: 'get', path: '/health', summary: 'How the shed is doing', roles: 'open', answer: health, status: 200 },
  session: { method: 'get', path: '/session', summary: 'Who is signed in', roles: 'open', answer: session, status: 200 },
  signIn: { method: 'post', path: '/session', summary: 'Sign in', roles: 'open', body: signIn, answer: session, status: 200 },
  signOut: { method: 'delete', path: '/session', summary: 'Sign out', roles: 'open', answer: null, status: 204 },
  setUp: { method: 'post', path: '/setup', summary: 'Make the owner with the one-time set-up code', roles: 'open', body: setUp, answer: session, status: 201 },
  site: { method: 'get', path: '/site', summary: 'The site and where probes send to', roles: watchers, answer: site, status: 200 },
  wall: { method: 'get', path: '/wall', summary: 'Everything the wall shows', roles: watchers, answer: wall, status: 200 },
  addDrum: { method: 'post', path: '/drums', summary: 'Add a drum', roles: owner, body: newDrum, answer: drum, status: 201 },
  drums: { method: 'get', path: '/drums', summary: 'All drums with what is known now', roles: watchers, answer: drums, status: 200 },
  drum: { method: 'get', path: '/drums/{drum}', summary: 'One drum', roles: watchers, answer: drum, status: 200 },
  readings: { method: 'get', path: '/drums/{drum}/readings', summary: 'Readings of one channel of a drum', roles: watchers, query: readingsQuery, answer: readings, status: 200 },
  probes: { method: 'get', path: '/probes', summary: 'Probes seen so far', roles: watchers, answer: probes, status: 200 },
  probeHealths: { method: 'get', path: '/probe-health', summary: 'What the readings of each probe, and its calibrations, say about the probe', roles: watchers, answer: probeHealths, status: 200 },
  probeReadings: { method: 'get', path: '/probes/{probe}/readings', summary: 'Readings of one channel of a probe, wherever it was', roles: watchers, query: probeReadingsQuery, answer: readings, status: 200 },
  place: { method: 'put', path: '/probes/{probe}/placement', summary: 'Say which drum a channel watches, from when', roles: workers, body: newPlacement, answer: placement, status: 200 },
  calibrate: { method: 'post', path: '/probes/{probe}/calibrations', summary: 'Write down a calibration', roles: workers, body: newCalibration, answer: z.record(z.string(), z.unknown()), status: 201 },
  instruments: { method: 'get', path: '/instruments', summary: 'Instruments with their checks, when the next is due, and what a failed one put in doubt', roles: watchers, answer: instruments, status: 200 },
  addInstrument: { method: 'post', path: '/instruments', summary: 'Add an instrument that is held in the hand', roles: workers, body: newInstrument, answer: instrument, status: 201 },
  decideDoubt: { method: 'post', path: '/instruments/{instrument}/doubts', summary: 'Decide whether results of a lot stand after a failed check', roles: owner, body: doubtDecision, answer: instrument, status: 200 },
  checkSettings: { method: 'get', path: '/check-settings', summary: 'The numbers instruments and records are checked by', roles: workers, answer: checkSettings, status: 200 },
  setCheckSettings: { method: 'put', path: '/check-settings', summary: 'Change some of them for the site', roles: owner, body: checkSettingsChange, answer: checkSettings, status: 200 },
  deviations: { method: 'get', path: '/deviations', summary: 'Departures from critical limits, newest first, each with its number', roles: watchers, query: deviationsQuery, answer: deviations, status: 200 },
  deviationAction: { method: 'post', path: '/deviations/{number}/action', summary: 'Write down what was done about a deviation', roles: workers, body: deviationAction, answer: deviation, status: 200 },
  closeDeviation: { method: 'post', path: '/deviations/{number}/close', summary: 'Close a deviation with cause, action and what becomes of the product; a later closing takes the place of an earlier one', roles: owner, body: closeDeviation, answer: deviation, status: 200 },
  recallLot: { method: 'post', path: '/batches/{lot}/recall', summary: 'Call a lot back: no jar of it may leave any more', roles: owner, body: newRecall, answer: recall, status: 201 },
  recalls: { method: 'get', path: '/recalls', summary: 'Lots called back, with where their jars went', roles: watchers, answer: recalls, status: 200 },
  readiness: { method: 'get', path: '/readiness', summary: 'What is open before an inspector comes; no approval', roles: workers, answer: readiness, status: 200 },
  review: { method: 'post', path: '/reviews', summary: 'Write down that somebody read the records, of one lot or of all', roles: workers, body: newReview, answer: review, status: 201 },
  reviews: { method: 'get', path: '/reviews', summary: 'Reviews, newest first', roles: workers, answer: reviews, status: 200 },
  setProbePassword: { method: 'post', path: '/probes/{probe}/password', summary: 'Give a probe a password for the embedded broker; it is told once', roles: owner, answer: probePassword, status: 201 },
  removeProbePassword: { method: 'delete', path: '/probes/{probe}/password', summary: 'Take the password of a probe away', roles: owner, answer: null, status: 204 },
  imports: { method: 'get', path: '/imports', summary: 'Files of loggers that were taken in, the newest first', roles: watchers, answer: importReports, status: 200 },
  import: { method: 'get', path: '/imports/{id}', summary: 'One file of a logger: how far it is, and what was refused and why', roles: watchers, answer: importReport, status: 200 },
  lookAtImport: { method: 'post', path: '/imports/{id}/look', summary: 'The first rows of a file, as they would be taken in; nothing is written', roles: workers, body: importLook, answer: importPreview, status: 200 },
  startImport: { method: 'post', path: '/imports/{id}/start', summary: 'Take a file in as said here; the collector does it', roles: workers, body: loggerMapping, answer: importReport, status: 200 },
  dropImport: { method: 'delete', path: '/imports/{id}', summary: 'Forget a file that waits', roles: workers, answer: null, status: 204 },
  openBatch: { method: 'post', path: '/batches', summary: 'Start a batch in a drum', roles: workers, body: newBatch, answer: batchDetail, status: 201 },
  batches: { method: 'get', path: '/batches', summary: 'All batches', roles: watchers, answer: batches, status: 200 },
  batch: { method: 'get', path: '/batches/{lot}', summary: 'One batch with its story', roles: watchers, answer: batchDetail, status: 200 },
  whatIf: { method: 'get', path: '/batches/{lot}/what-if', summary: 'When it is likely sweet if it is warmer, or changed otherwise', roles: watchers, query: whatIfQuery, answer: whatIfAnswer, status: 200 },
  addEntry: { method: 'post', path: '/batches/{lot}/entries', summary: 'Write an act in the story of a batch', roles: workers, body: newEntry, keyed: true, answer: writtenEntry, status: 201 },
  picks: { method: 'get', path: '/picks', summary: 'Picks, the newest first: what was picked, sorted out, and where it went', roles: workers, answer: picks, status: 200 },
  pick: { method: 'get', path: '/picks/{pick}', summary: 'One pick', roles: workers, answer: pick, status: 200 },
  addPick: { method: 'post', path: '/picks', summary: 'Write down a pick; all but its time may be told later', roles: workers, body: newPick, keyed: true, answer: pick, status: 201 },
  amendPick: { method: 'post', path: '/picks/{pick}/amended', summary: 'Tell more of a pick, or mend what was told: each field given takes the place of what stood', roles: workers, body: pickAmendment, keyed: true, answer: pick, status: 201 },
  sortPick: { method: 'post', path: '/picks/{pick}/sorted', summary: 'Write down what was sorted out of a pick', roles: workers, body: newSorting, keyed: true, answer: pick, status: 201 },
  ingredients: { method: 'get', path: '/ingredients', summary: 'Lots of salt, vinegar, jars, lids and the like, the newest first: what used them and what is left', roles: workers, answer: ingredients, status: 200 },
  ingredient: { method: 'get', path: '/ingredients/{ingredient}', summary: 'One ingredient lot', roles: workers, answer: ingredient, status: 200 },
  receiveIngredient: { method: 'post', path: '/ingredients', summary: 'Write down a lot that came in', roles: workers, body: newIngredient, keyed: true, answer: ingredient, status: 201 },
  tellIngredient: { method: 'put', path: '/ingredients/{ingredient}', summary: 'Tell the facts of an ingredient lot anew, where they were written wrongly', roles: workers, body: toldIngredient, keyed: true, answer: ingredient, status: 200 },
  countIngredient: { method: 'post', path: '/ingredients/{ingredient}/counts', summary: 'Write down what is left of an ingredient lot', roles: workers, body: newCount, keyed: true, answer: ingredient, status: 201 },
  trace: { method: 'get', path: '/trace', summary: 'Both ways from a lot, an ingredient lot, a pick or a probe: what it came from, what it became, and whether the amounts add up', roles: recordRoles, query: traceQuery, answer: trace, status: 200 },
  recallExercises: { method: 'get', path: '/recall-exercises', summary: 'Recalls that were played through', roles: workers, answer: recallExercises, status: 200 },
  exerciseRecall: { method: 'post', path: '/recall-exercises', summary: 'Play a recall through, and keep what it found and how long it took', roles: workers, body: newRecallExercise, keyed: true, answer: recallExercise, status: 201 },
  producer: { method: 'get', path: '/producer', summary: 'Who answers for the product, and what its labels say', roles: workers, answer: producerAnswer, status: 200 },
  setProducer: { method: 'put', path: '/producer', summary: 'Set who answers for the product and what its labels say', roles: owner, body: producer, answer: producerAnswer, status: 200 },
  tasks: { method: 'get', path: '/tasks', summary: 'What is to be done', roles: watchers, answer: tasks, status: 200 },
  finishTask: { method: 'post', path: '/tasks/{id}/done', summary: 'A task is done: the body holds the fields of its act (kind and at may be left out), which is written in the story', roles: workers, body: z.record(z.string(), z.unknown()), keyed: true, answer: z.object({ task, entry: writtenEntry.nullable() }), status: 200 },
  skipTask: { method: 'post', path: '/tasks/{id}/skip', summary: 'A task is left out, with a reason', roles: workers, body: z.strictObject({ reason: text(300) }), answer: z.object({ task }), status: 200 },
  tokens: { method: 'get', path: '/tokens', summary: 'Tokens that were made: one\'s own, or all for the owner', roles: workers, answer: tokens, status: 200 },
  makeToken: { method: 'post', path: '/tokens', summary: 'Make a token to read one thing without signing in; its secret is told once', roles: workers, body: newToken, answer: madeToken, status: 201 },
  revokeToken: { method: 'delete', path: '/tokens/{id}', summary: 'Revoke a token', roles: workers, answer: null, status: 204 },
  schedules: { method: 'get', path: '/schedules', summary: 'Schedules of changes by style, with their sources', roles: watchers, answer: schedules, status: 200 },
  setSchedule: { method: 'put', path: '/schedules/{style}', summary: 'Change the schedule of a style for the site, cures under way included', roles: owner, body: scheduleChange, answer: schedule, status: 200 },
  alerts: { method: 'get', path: '/alerts', summary: 'Alerts; active: not normal', roles: watchers, query: alertsQuery, answer: alerts, status: 200 },
  acknowledge: { method: 'post', path: '/alerts/{id}/acknowledge', summary: 'Somebody has seen the alert', roles: workers, body: z.strictObject({}).default({}), answer: alert, status: 200 },
  shelve: { method: 'post', path: '/alerts/{id}/shelve', summary: 'Put an alert aside for a stated time and reason', roles: workers, body: shelve, answer: alert, status: 200 },
  unshelve: { method: 'post', path: '/alerts/{id}/unshelve', summary: 'Take an alert from the shelf', roles: workers, body: z.strictObject({}).default({}), answer: alert, status: 200 },
  alertAction: { method: 'post', path: '/alerts/{id}/action', summary: 'Write down what was done about an alert, and what became of the fruit', roles: workers, body: alertAction, answer: alert, status: 200 },
  alertMeasures: { method: 'get', path: '/alert-measures', summary: 'How many alerts came up, in which floods, and which come most often', roles: watchers, query: measuresQuery, answer: alertMeasures, status: 200 },
  outlets: { method: 'get', path: '/outlets', summary: 'Ways by which word of the shed reaches people, and what they were told last', roles: workers, answer: outlets, status: 200 },
  setOutlet: { method: 'put', path: '/outlets/{id}', summary: 'Set an outlet: mail, webhook or heartbeat; what is secret is never answered, but the key of a new webhook, once', roles: owner, body: setOutlet, answer: outletSet, status: 200 },
  setOutletRoute: { method: 'put', path: '/outlets/{id}/route', summary: 'Say what goes to an outlet and when', roles: owner, body: outletRoute.strict(), answer: outlet, status: 200 },
  removeOutlet: { method: 'delete', path: '/outlets/{id}', summary: 'Take an outlet away, with its secrets', roles: owner, answer: null, status: 204 },
  testOutlet: { method: 'post', path: '/outlets/{id}/test', summary: 'Ask for a test message; its result is told among the announced. The outlet mqtt is always there', roles: owner, body: z.strictObject({}).default({}), answer: testAsked, status: 200 },
  outOfService: { method: 'get', path: '/out-of-service', summary: 'Limits of drums that are not judged for now', roles: watchers, answer: outOfServiceList, status: 200 },
  setOutOfService: { method: 'put', path: '/drums/{drum}/limits/{id}/out-of-service', summary: 'Stop judging a limit of a drum, with a reason', roles: owner, body: setOutOfService, answer: outOfService, status: 200 },
  setInService: { method: 'delete', path: '/drums/{drum}/limits/{id}/out-of-service', summary: 'Judge a limit of a drum again', roles: owner, answer: null, status: 204 },
  limits: { method: 'get', path: '/limits', summary: 'Limits with their sources', roles: watchers, answer: limits, status: 200 },
  setLimit: { method: 'put', path: '/limits/{id}', summary: 'Change a limit for the site', roles: owner, body: limitChange, answer: limit, status: 200 },
  setDrumLimit: { method: 'put', path: '/drums/{drum}/limits/{id}', summary: 'Change a limit for one drum', roles: owner, body: limitChange, answer: limit, status: 200 },
  heatPlan: { method: 'get', path: '/heat-plan', summary: 'The next 48 hours of each drum: which limit it passes when, and what helps', roles: watchers, answer: heatPlan, status: 200 },
  setAirForecast: { method: 'put', path: '/air-forecast', summary: 'Say how cold and warm the air in the shed will be on a day; both null: like the last day again', roles: workers, body: airForecast, answer: airForecasts, status: 200 },
  questions: { method: 'get', path: '/questions', summary: 'What the readings make us ask, and nobody has answered', roles: watchers, answer: questions, status: 200 },
  answerQuestion: { method: 'post', path: '/questions/{id}/answer', summary: 'Answer a question; yes to a change nobody wrote down writes it, at its own time, as the last one was', roles: workers, body: questionAnswer, answer: questionAnswered, status: 200 },
  compare: { method: 'get', path: '/compare', summary: 'Finished cures in groups: days by temperature, fit, interval, what was left out and why', roles: watchers, query: compareQuery, answer: compare, status: 200 },
  comparePair: { method: 'get', path: '/compare/{lot}/{other}', summary: 'Two cures over one time scale, and why the first was slower', roles: watchers, query: compareQuery, answer: comparePair, status: 200 },
  stall: { method: 'get', path: '/stall', summary: 'Backwards from a stall date: by when things must be done, and which lots are on the table', roles: watchers, query: stallQuery, answer: stall, status: 200 },
  season: { method: 'get', path: '/season', summary: 'One season: where its fruit went, what trees bore, and where the next plan begins', roles: watchers, query: seasonQuery, answer: season, status: 200 },
  planSeason: { method: 'post', path: '/season/plan', summary: 'Play the next season a thousand times: drums, salt, jars and stalls, and what to buy; nothing is written', roles: workers, body: planQuestion, answer: seasonPlan, status: 200 },
  writeTreeLoad: { method: 'post', path: '/season/trees', summary: 'Write down what a tree bore in a year; the last one written holds', roles: workers, body: newTreeLoad, answer: treeLoadWritten, status: 201 },
  calculators: { method: 'get', path: '/calculate', summary: 'The calculators with their inputs, sources and valid ranges', roles: watchers, answer: calculatorList, status: 200 },
  calculate: { method: 'post', path: '/calculate/{name}', summary: 'Work something out; inputs and answer by calculator', roles: watchers, body: z.record(z.string(), z.unknown()), answer: beside.loose(), status: 200 },
  records: { method: 'get', path: '/records', summary: 'The lots whose records the caller may read, and what their papers are checked against', roles: recordRoles, answer: recordList, status: 200 },
  inspections: { method: 'get', path: '/inspector-access', summary: 'Who was let in to read records, and what was looked at', roles: owner, answer: inspections, status: 200 },
  giveInspection: { method: 'post', path: '/inspector-access', summary: 'Let somebody outside read the records of some lots for some hours; the code is told once', roles: owner, body: newInspection, answer: givenInspection, status: 201 },
  revokeInspection: { method: 'delete', path: '/inspector-access/{id}', summary: 'Take an access back before its time', roles: owner, answer: null, status: 204 },
  openInspection: { method: 'post', path: '/inspector-access/open', summary: 'Open the records with a code', roles: 'open', body: openInspection, answer: recordList, status: 200 },
  verification: { method: 'get', path: '/verification', summary: 'The check of journal, seals and sealed readings: how far it is, or what the last one found', roles: owner, answer: verification, status: 200 },
  startVerification: { method: 'post', path: '/verification', summary: 'Check journal, seals and sealed readings now', roles: owner, body: z.strictObject({}).default({}), answer: verification, status: 200 },
  journal: { method: 'get', path: '/journal', summary: 'The journal as stored', roles: workers, query: journalQuery, answer: journal, status: 200 },
} as const satisfies Record<string, RouteShape>;

export type Routes = typeof routes;
export type RouteName = keyof Routes;
export type { RouteShape };

type Of<Name extends RouteName, Part extends string> = Routes[Name] extends Record<Part, infer Schema extends z.ZodType> ? Schema : never;
/** What a caller sends and gets, by route name. */
export type RouteBody<Name extends RouteName> = z.input<Of<Name, 'body'>>;
export type RouteQuery<Name extends RouteName> = z.input<Of<Name, 'query'>>;
export type RouteAnswer<Name extends RouteName> = Routes[Name]['answer'] extends z.ZodType ? z.output<Of<Name, 'answer'>> : null;

/** The event stream stands beside the table: its answer is not JSON. */
export const livePath = '/live';
export const liveRoles: readonly Role[] = watchers;

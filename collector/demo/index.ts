/**
 * The demo shed: an invented place, simulated by pure functions of time and a seed, that publishes through a real broker.
 * May import the domain, Node and the MQTT client; nothing else of the collector. Wired in the pipeline.
 */
export { buildDemoSeason, readingsBetween, type DemoSeason } from './demo-season.ts';
export { writeHistory } from './demo-history.ts';
export { startDemoPublisher, type DemoPublisher } from './demo-publisher.ts';

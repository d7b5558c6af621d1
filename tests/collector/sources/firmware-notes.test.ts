import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { channelNames } from '#domain/reading/channel.ts';
import { decodeMessage } from '../../../collector/sources/payload.ts';

/** What firmware-notes promise is what the program does: every example marked `frame` is decoded here. */
const folder = new URL('../../../firmware-notes/', import.meta.url);
const notes = readdirSync(folder).filter((name) => name.endsWith('.md')).map((name) => ({ name, text: readFileSync(new URL(name, folder), 'utf8') }));
const frames = notes.flatMap(({ name, text }) => [...text.matchAll(/^```frame(-cbor)? (\S+)\n([\s\S]*?)^```$/gm)].map(([, form, topic = '', payload = '']) => ({ name, topic, payload, isHex: form !== undefined })));
const now = Date.UTC(2026, 4, 3, 6, 0, 0);

describe('the examples of the notes for probe builders', () => {
  it('are there', () => {
    expect(frames.length).toBeGreaterThanOrEqual(5);
  });

  it.each(frames)('$topic ← $payload is taken whole', ({ topic, payload, isHex }) => {
    const decoded = decodeMessage('home', topic, isHex ? Buffer.from(payload.trim(), 'hex') : new TextEncoder().encode(payload), now);
    expect(decoded.refused).toEqual([]);
    expect(decoded.aside).toEqual([]);
    expect(decoded.readings.length > 0 || decoded.presence !== null).toBe(true);
    expect(decoded.readings.every(({ quality }) => quality === 'good')).toBe(true);
  });

  it('name every channel there is', () => {
    const text = notes.map((note) => note.text).join('\n');
    expect(channelNames.filter((channel) => !text.includes(`| \`${channel}\``))).toEqual([]);
  });
});

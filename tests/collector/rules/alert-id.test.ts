import { describe, expect, it } from 'vitest';
import { alertId, probeOfAlert } from '#domain/rules/alert-id.ts';
import { defaultLimits } from '#domain/rules/default-limits.ts';

const at = Date.parse('2026-11-25T09:56:12Z');

describe('alert id', () => {
  it('tells drum, limit and time in slug characters', () => {
    expect(alertId('barrel-2', 'leach-temperature-danger', null, at)).toBe('barrel-2-leach-temperature-danger-20261125t095612z');
    expect(alertId('barrel-2', 'leach-temperature-danger', null, at + 250)).toBe('barrel-2-leach-temperature-danger-20261125t095612250z');
  });

  it('gives back the probe it is about, dashes and all', () => {
    for (const probe of ['p1', 'barrel-2', 'a-b-c', '20261125t095612z']) {
      expect(probeOfAlert(alertId('barrel-2', 'temperature-silent', probe, at + 7), 'barrel-2', 'temperature-silent')).toBe(probe);
    }
    expect(probeOfAlert(alertId('barrel-2', 'change-overdue', null, at), 'barrel-2', 'change-overdue')).toBeNull();
  });

  it('is made of slug characters for every limit', () => {
    for (const { id } of defaultLimits) expect(alertId('b', id, 'p', at)).toMatch(/^[a-z0-9]+(?:-[a-z0-9]+)*$/);
  });
});

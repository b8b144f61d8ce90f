/** `explain` knows every key of a scenario and of a parts file. */
import { InputError } from '@longnight/core';
import { partsKeys, scenarioKeys } from '@longnight/core/scenario';
import { describe, expect, test } from 'vitest';
import { paint } from '../../packages/cli/src/render/document/paint.ts';
import { toScreen } from '../../packages/cli/src/render/document/to-screen.ts';
import { termsDocument, termsNamed } from '../../packages/cli/src/render/help/explain.ts';
import { longnight } from './support/process.ts';

/** What `explain` prints of a name, without starting a process for it. */
const said = (name: string): string => toScreen(termsDocument(termsNamed(name)), null, paint(false));
const plain = (text: string): string => text.replace(/\s+/g, ' ');

describe('explain', () => {
  test('answers every key, with meaning, what it takes and what holds without it', () => {
    const keys = [...scenarioKeys(), ...partsKeys()];
    expect(keys.length).toBeGreaterThan(300);
    for (const { path, meaning, rule } of keys) {
      const words = plain(said(path));
      expect(words, path).toContain(plain(meaning));
      expect(words, path).toContain(plain(`Takes ${rule.takes}`));
      expect(words, path).toMatch(/Required|Default .+: .+|Left out: .+|May be left out/);
      if (rule.why !== undefined) expect(words, path).toContain(plain(`: ${rule.why}`));
      if (rule.without !== undefined) expect(words, path).toContain(plain(`Left out: ${rule.without}`));
    }
  });

  test('says unit, range, default and why', () => {
    expect(longnight(['explain', 'arrays[].tilt_deg'])).toMatchObject({
      status: 0,
      stderr: '',
      stdout:
        'arrays[].tilt_deg (°), scenario\n' +
        '  From horizontal; twelve for a rack set anew by month\n' +
        '  Takes a number from 0 to 90, or a list of 12 of them\n' +
        '  Required\n',
    });
    expect(said('arrays[0].tracker.efficiency_share')).toBe(
      'arrays[].tracker.efficiency_share, scenario\n' +
        '  Output over input\n' +
        '  Takes a number from 0.5 to 1\n' +
        '  Default 0.97: conversion from array to bank voltage; common practice, no\n' +
        '  source\n',
    );
    expect(said('run.initial_soc')).toMatch(/ {2}Left out: the year closes/);
  });

  test('takes a place in a list, no brackets at all, a last word and a section', () => {
    expect(said('loads[3].power_W')).toBe(said('loads[].power_W'));
    expect(said('loads.power_W')).toBe(said('loads[].power_W'));
    expect(said('floor_soc')).toBe(said('bank.floor_soc'));
    expect(said('bank.module')).toMatch(
      /^bank\.module, scenario\n[\s\S]*\nbank\.module\.capacity_Ah \(Ah\), /,
    );
  });

  test('says which kinds have a key where not all do', () => {
    expect(said('weather.turbidity_linke')).toMatch(
      /\(clear-sky\), [\s\S]*Required[\s\S]*\(monthly_means\), [\s\S]*Default 3/,
    );
    expect(said('generator.starts.kind')).toMatch(
      /starts\.kind \(before_night\), scenario\n {2}It runs in the evening/,
    );
  });

  test.each([
    ['arrays[].tilt_dge', 'arrays.tilt_deg'],
    ['bank.flor_soc', 'bank.floor_soc'],
    ['bnak.floor_soc', 'bank.floor_soc'],
    ['inverter.rating_w', 'inverter.rating_kW'],
    // It stands in several sections, and its last word names all of them.
    ['efficiency_shar', 'efficiency_share'],
    ['parts[].brings.traker', 'parts.brings.tracker'],
  ])('says what %s may have meant', (wrong, meant) => {
    expect.assertions(2);
    try {
      termsNamed(wrong);
    } catch (error) {
      expect(error).toBeInstanceOf(InputError);
      expect((error as InputError).issues[0]!.fix).toContain(`did you mean "${meant}"?`);
    }
  });

  test('gives keys as data too, and names them to the shell without brackets', () => {
    const [key] = JSON.parse(longnight(['explain', 'bank.taper_end_share', '--json']).stdout);
    expect(key).toMatchObject({
      where: 'scenario',
      name: 'bank.taper_end_share',
      unit: '1',
      key: { takes: 'a number from 0.005 to 1', required: false, default: 0.05, kinds: [] },
    });
    const listed = longnight(['complete', '--', 'explain', 'arrays.ti']).stdout;
    expect(listed).toMatch(/^arrays\.tilt_deg\b/m);
  });
});

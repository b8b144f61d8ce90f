import { findings, LEDGER_COLUMNS, plantOf, playYear, prepareYear, readScenario } from '@longnight/core';
import { json } from '../../packages/cli/src/render/document/json.ts';

/** What one playing of a scenario gives, in a form that can be sent from a page or a worker. */
export interface Played {
  readonly steps: number;
  /** Each column's bytes as base64, which is passed on in no time; a list of half a million numbers isn't. */
  readonly columns: Readonly<Record<string, string>>;
  /** As report.json has it. */
  readonly report: string;
}

/** Plays the scenario of a text and its series; needs nothing that a page or a worker lacks. */
export function played(text: string, series: readonly (readonly [name: string, text: string])[]): Played {
  const year = prepareYear(readScenario(text, 'scenario.yaml'), 'scenario.yaml', new Map(series));
  const plant = plantOf(year.scenario);
  const ledger = playYear(year, plant);
  return {
    steps: ledger.steps,
    columns: Object.fromEntries(LEDGER_COLUMNS.map(({ name }) => [name, textOf(ledger.columns[name])])),
    report: json('report.json', findings(ledger)),
  };
}

function textOf(column: Float64Array): string {
  let signs = '';
  for (const byte of new Uint8Array(column.slice().buffer)) signs += String.fromCharCode(byte);
  return btoa(signs);
}

/** The numbers of a column that was passed on. */
export const numbersOf = (text: string): Float64Array =>
  new Float64Array(Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0)).buffer);

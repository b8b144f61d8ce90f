import type { Report } from '@longnight/core';
import type { OtherSourceSpec, Scenario } from '@longnight/core/scenario';
import { FILES, figures, present, type Section, tableOf } from '../document/document.ts';
import {
  amount,
  counted,
  digits,
  fixed,
  kWh,
  MONTHS,
  percent,
  price,
  socPercent,
} from '../document/figures.ts';
import { listed } from '../document/words.ts';
import { itemNoun } from './assumption-groups.ts';

/** What was played: the plant as built, its loads, and every input that was stated. */

/** A part of the plant in a line: what it is, which part of a file, the price of one. */
type Built = readonly [
  what: string,
  said: string,
  named?: { readonly part?: string | undefined; readonly price?: number | undefined },
];

const COMPASS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'];

const stated_kW = (value: number): string => `${digits(value, 6)} kW`;

/** Figures as the scenario has them, by month where they differ. */
const byMonth = (value: number | readonly number[], unit: string): string =>
  typeof value === 'number'
    ? `${digits(value, 6)}${unit}`
    : `${value.map(String).join(', ')}${unit} by month`;

const windowsSaid = ({ windows }: { readonly windows: readonly string[] }): string =>
  windows.join() === '00:00-24:00' ? '' : `, ${windows.join(', ')}`;

function* built({ bank: found }: Report, scenario: Scenario): Generator<Built> {
  const { arrays, bank, inverter, charger, generator, shore, alternator } = scenario;
  for (const array of arrays) {
    const { tracker, azimuth_deg, panels, panel_kWp, panels_in_series } = array;
    const counting =
      panels === undefined || panel_kWp === undefined
        ? ''
        : ` of ${counted(panels, 'panel')} of ${digits(panel_kWp, 6)} kWp${panels_in_series === undefined ? '' : `, ${panels_in_series} in series`}`;
    yield [
      `array: ${array.name}`,
      `${digits(array.size_kWp, 6)} kWp${counting}, tilt ${byMonth(array.tilt_deg, '°')}, azimuth ${azimuth_deg}° ` +
        `(${COMPASS[Math.round(azimuth_deg / 45) % 8]}), ${array.mounting === 'open_rack' ? 'open rack' : 'close to a roof'}` +
        `${array.coupling === 'ac' ? ', on the AC side' : ''}`,
      array,
    ];
    yield [
      `its ${array.coupling === 'ac' ? 'inverter' : 'tracker'}`,
      `takes ${stated_kW(tracker.max_power_kW)}${tracker.max_charge_A === undefined ? '' : `, charges with ${digits(tracker.max_charge_A, 6)} A`}${tracker.built_in ? ', built into the inverter' : ''}`,
      tracker,
    ];
  }
  const older = bank.older?.reduce((sum, { modules }) => sum + modules, 0) ?? 0;
  yield [
    'bank',
    `${counted(bank.modules_parallel, 'module')} of ${digits(bank.module.nominal_voltage_V)} V and ${digits(bank.module.capacity_Ah, 6)} Ah` +
      `${older === 0 ? '' : `, beside ${older} older`} (${bank.chemistry === 'lfp' ? 'lithium iron phosphate' : 'lead-acid'}): ${kWh(found.capacity_kWh)}, ` +
      `${kWh(found.usable_kWh)} usable above its floor of ${socPercent(bank.floor_soc)} %`,
    bank,
  ];
  yield [
    'inverter',
    `${inverter.units === 1 ? '' : `${inverter.units} units of `}${stated_kW(inverter.rating_kW)}, ${stated_kW(inverter.surge_kW)} for moments, ` +
      `idle draw ${digits(inverter.idle_W)} W${inverter.legs === 1 ? '' : `, ${inverter.legs} legs`}`,
    inverter,
  ];
  if (charger !== undefined)
    yield [
      'charger',
      `${digits(charger.max_charge_A, 6)} A${charger.built_in ? ', built into the inverter' : ''}`,
      charger,
    ];
  if (generator !== undefined) {
    const { start_soc, stop_soc, starts, quiet_windows } = generator;
    const rule =
      starts.kind === 'before_night'
        ? 'runs in the evening for the night'
        : starts.kind === 'on_shortfall' || start_soc === undefined
          ? 'starts when load would go unmet'
          : `starts at ${socPercent(start_soc)} %`;
    yield [
      'generator',
      `${stated_kW(generator.rating_kW)}; ${rule}, stops at ${socPercent(stop_soc)} %` +
        `${quiet_windows.length === 0 ? '' : `; never from ${quiet_windows.map((window) => window.replace('-', ' to ')).join(', ')}`}`,
      generator,
    ];
  }
  if (shore !== undefined)
    yield ['shore power', `${digits(shore.max_A, 6)} A at ${digits(shore.voltage_V)} V${windowsSaid(shore)}`];
  if (alternator !== undefined)
    yield ['alternator', `${digits(alternator.max_charge_A, 6)} A into the bank${windowsSaid(alternator)}`];
  for (const other of scenario.other_sources ?? [])
    yield [other.name, `on the ${other.bus === 'ac' ? 'AC' : 'DC'} side, ${offeredBy(other)}`, other];
}

/** What is told of another source. */
const offeredBy = (other: OtherSourceSpec): string =>
  other.kind === 'series'
    ? `by ${other.file}`
    : typeof other.power_W === 'number'
      ? `${digits(other.power_W, 6)} W`
      : `${digits(Math.min(...other.power_W), 6)} to ${digits(Math.max(...other.power_W), 6)} W by month`;

/** The plant as built. */
export function plantSection(report: Report, scenario: Scenario): Section {
  const { array, bank, money } = report;
  const { inverter, generator, shore, alternator, arrays } = scenario;
  const rows = [...built(report, scenario)];
  const [hasParts, hasPrices] = (['part', 'price'] as const).map((key) =>
    rows.some(([, , named]) => named?.[key] !== undefined),
  );
  const others = present([
    generator && `a generator of ${stated_kW(generator.rating_kW)}`,
    shore && 'shore power',
    alternator && 'an alternator',
    ...(scenario.other_sources ?? []).map(({ name }) => name),
  ]);
  return {
    id: 'plant',
    title: 'The plant as built',
    on: FILES,
    sentence: `${listed([
      `${amount(array.size_kWp)} kWp in ${counted(arrays.length, 'array')}`,
      `a bank of ${kWh(bank.usable_kWh)} usable`,
      `${stated_kW(inverter.units * inverter.rating_kW)} of inverter`,
      ...others,
    ])}${others.length === 0 ? '; no other source' : ''}.`,
    blocks: [
      tableOf('What it is made of', rows, [
        ['what', ([what]) => what],
        [{ title: 'as played', holds: 'words' }, ([, said]) => said],
        hasParts! && ['part', ([, , named]) => named?.part ?? ''],
        hasPrices! && [
          figures('price of one', money?.currency ?? 'money'),
          ([, , named]) => (named?.price === undefined ? '' : price(named.price)),
        ],
      ]),
    ],
  };
}

const KIND: Readonly<Partial<Record<Report['load']['by_load'][number]['kind'], string>>> = {
  flexible: ' (flexible)',
  surplus: ' (takes what is left over)',
};

/** Each load with its day and its share, over the year and in winter, the largest first. */
export function loadsSection({ load }: Report): Section {
  const loads = [...load.by_load].sort((a, b) => (b.wanted_kWh ?? -1) - (a.wanted_kWh ?? -1));
  const [first] = loads;
  const sum = (key: 'mean_kWh_day' | 'winter_kWh_day'): number =>
    loads.reduce((whole, each) => whole + (each[key] ?? 0), 0);
  const [from, , to] = load.winter_months;
  const winter = `${MONTHS[from! - 1]} to ${MONTHS[to! - 1]}`;
  const share = (value: number | null): string => fixed(value === null ? null : 100 * value, 1);
  return {
    id: 'loads',
    title: 'What it is asked for',
    on: FILES,
    sentence:
      load.wanted_kWh === 0
        ? 'No load is wanted.'
        : `${counted(loads.length, 'load')} ${loads.length === 1 ? 'asks' : 'ask'} for ${kWh(load.mean_kWh_day)} on a mean day, ${kWh(sum('winter_kWh_day'))} in winter (${winter}); ` +
          `the largest is ${first!.name}, ${percent(first!.share)} of the year and ${percent(first!.winter_share)} of the winter.`,
    blocks: [
      tableOf(
        'Loads, the largest first',
        loads,
        [
          ['load', (each) => `${each.name}${KIND[each.kind] ?? ''}`],
          [figures('tier'), (each) => (each.tier === null ? '' : String(each.tier))],
          [figures('year', 'kWh a day'), (each) => fixed(each.mean_kWh_day, 2)],
          [figures('of the year', '%'), (each) => share(each.share)],
          [figures('winter', 'kWh a day'), (each) => fixed(each.winter_kWh_day, 2)],
          [figures('of the winter', '%'), (each) => share(each.winter_share)],
        ],
        { sums: ['all', '', fixed(load.mean_kWh_day, 2), '100', fixed(sum('winter_kWh_day'), 2), '100'] },
      ),
    ],
  };
}

/** One section of the scenario, or an item of it, and all that it says. */
export interface Stated {
  readonly section: string;
  readonly values: readonly (readonly [key: string, value: string])[];
}

/** Every input that was stated, as it stands in the file. */
export function statedSection(stated: readonly Stated[]): Section {
  const count = stated.reduce((sum, { values }) => sum + values.length, 0);
  const nameOf = ({ section, values }: Stated): string | undefined =>
    section.includes('[') ? values.find(([key]) => key === 'name')?.[1] : undefined;
  return {
    id: 'stated',
    title: 'What the scenario states',
    on: FILES,
    sentence: `${counted(count, 'input')} were stated, parts filled in; what was not stated is listed under the assumptions.`,
    blocks: [
      {
        ...tableOf('Every stated input, by its key', stated, [
          [
            'of',
            (one) => (nameOf(one) === undefined ? one.section : `${itemNoun(one.section)}: ${nameOf(one)}`),
          ],
          [
            { title: 'stated', holds: 'words' },
            ({ section, values }) =>
              values
                .filter(([key]) => key !== 'name' || !section.includes('['))
                // A report must not tell where somebody's files are.
                .map(([key, value]) =>
                  `${key} ${/(^|_)files?$/.test(key || section) ? value.replace(/(^|, )[^,]*[\\/]/g, '$1') : value}`.trim(),
                )
                .join('; '),
          ],
        ]),
        folded: 'till_printed',
      },
    ],
  };
}

import type { Issue } from '../../basis/errors.ts';
import { rounded } from '../../basis/rounding.ts';
import { parseWindow } from '../../clock/window.ts';
import type { Load, Scenario } from '../schema/schema.ts';

type Found = Omit<Issue, 'place'>;

const code = 'contradiction';

/** Where loads and arrays hang: buses, legs, voltages, circuits. */
export const places = (scenario: Scenario): Found[] => [
  ...scenario.loads.flatMap((load, i) => loadPlace(load, `loads[${i}]`, scenario)),
  ...units(scenario),
  ...arrayPlaces(scenario),
  ...circuits(scenario),
  ...shoreRules(scenario),
  ...derating(scenario),
  ...sleep(scenario),
];

function loadPlace(load: Load, path: string, { inverter }: Scenario): Found[] {
  if (load.kind === 'surplus') return [];
  if (load.kind === 'waiting') return waiting(load, path);
  const found: Found[] = [];
  const add = (key: string, message: string, fix: string) =>
    found.push({ code, path: `${path}.${key}`, message, fix });
  if (load.bus === 'dc') {
    if (load.leg !== undefined) {
      add('leg', 'a load on the DC side has no leg', 'leave leg out, or take it off the DC side');
    }
    if (load.voltage_V !== undefined) {
      const message =
        'voltage_V is held against what the inverter gives, and a load on the DC side hangs before it';
      add('voltage_V', message, 'leave voltage_V out, or take it off the DC side');
    }
    return found;
  }
  const { legs, output_voltage_V: volts } = inverter;
  if (load.leg !== undefined && load.leg > legs) {
    const has = legs === 1 ? 'one leg' : `${legs} legs`;
    add(
      'leg',
      `leg ${load.leg}, but the inverter has ${has}`,
      'set inverter.legs, or name a leg that is there',
    );
  }
  if (load.voltage_V === undefined) return found;
  if (volts === undefined) {
    const message = `needs ${load.voltage_V} V, but the file does not say what the inverter gives`;
    add('voltage_V', message, 'add inverter.output_voltage_V, from leg to neutral');
    return found;
  }
  const between = legs === 1 ? null : legs === 2 ? 2 * volts : Math.sqrt(3) * volts;
  if (isNear(load.voltage_V, volts)) return found;
  if (between !== null && isNear(load.voltage_V, between)) {
    if (load.leg !== undefined) {
      const message = `${load.voltage_V} V stands between two legs, not on leg ${load.leg} alone`;
      add('leg', message, 'leave leg out: it is shared by the legs');
    }
    return found;
  }
  const gives = between === null ? `${volts} V` : `${volts} V, and ${Math.round(between)} V between legs`;
  const fix =
    between === null
      ? 'stack units for it (inverter.units and inverter.legs), or leave the load out'
      : 'check both voltages';
  add('voltage_V', `needs ${load.voltage_V} V; the inverter gives ${gives}: it can't be served`, fix);
  return found;
}

/** Networks and data sheets differ by this much from each other: 115 and 120 V, 230 and 240 V. */
const isNear = (a: number, b: number): boolean => Math.abs(a - b) <= 0.06 * b;

function waiting(load: Extract<Load, { kind: 'waiting' }>, path: string): Found[] {
  const { start_min, end_min } = parseWindow(load.window);
  if (load.window.slice(0, 5) === load.window.slice(6)) {
    const message = `"${load.window}" ends where it begins`;
    return [
      { code: 'empty-window', path: `${path}.window`, message, fix: 'write "00:00-24:00" for the whole day' },
    ];
  }
  const most_kWh = (load.max_power_W / 1000) * ((end_min - start_min) / 60);
  if (load.energy_kWh <= most_kWh * (1 + 1e-9)) return [];
  const message = `${load.energy_kWh} kWh don't go through ${load.max_power_W} W in the window ${load.window}: at most ${rounded(most_kWh, 4)} kWh do`;
  return [{ code, path: `${path}.energy_kWh`, message, fix: 'ask for less, or widen the window' }];
}

function units({ inverter: { units: count, legs } }: Scenario): Found[] {
  if (count % legs === 0) return [];
  const message = `${count} ${count === 1 ? 'unit' : 'units'} can't be spread over ${legs} legs`;
  return [{ code, path: 'inverter.units', message, fix: `give ${legs}, or a multiple of it` }];
}

function arrayPlaces({ arrays }: Scenario): Found[] {
  return arrays.flatMap(({ coupling, tracker }, i): Found[] => {
    const path = `arrays[${i}].tracker`;
    const isAc = coupling === 'ac';
    const [own, other] = isAc
      ? (['max_output_kW', 'max_charge_A'] as const)
      : (['max_charge_A', 'max_output_kW'] as const);
    const side = isAc ? 'an array on the AC side' : 'a tracker on the DC side';
    const found: Found[] = [];
    if (tracker[own] === undefined) {
      const fix = isAc
        ? 'add max_output_kW, the AC power of its inverter'
        : 'add max_charge_A, or set arrays[].coupling to ac';
      found.push({ code: 'missing', path, message: `${side} needs ${own}`, fix });
    }
    if (tracker[other] !== undefined) {
      const fix = `leave it out, or set arrays[].coupling to ${isAc ? 'dc' : 'ac'}`;
      found.push({ code, path: `${path}.${other}`, message: `${side} has no ${other}`, fix });
    }
    return found;
  });
}

/** A charger that draws more on one circuit than on another must be told which circuits there are. */
function circuits({ charger, shore, generator }: Scenario): Found[] {
  const list = charger?.input_at_voltage;
  if (list === undefined) return [];
  const found: Found[] = [];
  const path = 'charger.input_at_voltage';
  for (const [i, { voltage_V }] of list.entries()) {
    if (i > 0 && voltage_V <= list[i - 1]!.voltage_V) {
      const message = `${voltage_V} V does not come after ${list[i - 1]!.voltage_V} V`;
      found.push({
        code,
        path: `${path}[${i}].voltage_V`,
        message,
        fix: 'list each voltage once, lowest first',
      });
    }
  }
  if (generator !== undefined && generator.voltage_V === undefined) {
    const message = 'the charger draws by voltage, but the file does not say what the generator gives';
    found.push({ code: 'missing', path: 'generator', message, fix: 'add generator.voltage_V' });
  }
  const lowest_V = list[0]!.voltage_V;
  for (const [key, volts] of [
    ['shore.voltage_V', shore?.voltage_V],
    ['generator.voltage_V', generator?.voltage_V],
  ] as const) {
    if (volts === undefined || volts >= 0.95 * lowest_V) continue;
    const message = `${volts} V is less than any voltage of ${path}: nothing would be charged`;
    found.push({ code, path: key, message, fix: 'check it, or list what the charger draws at this voltage' });
  }
  return found;
}

/** A rule of what the socket carries must be playable: see `ShoreRule`. */
function shoreRules({ shore, bank }: Scenario): Found[] {
  const rule = shore?.carries;
  if (shore === undefined || rule === undefined) return [];
  const path = 'shore.carries';
  if (rule.kind === 'after_sun' && shore.connection !== 'parallel') {
    const message =
      'behind a transfer switch the loads hang on the socket alone: the sun can carry none of them';
    return [
      {
        code,
        path: `${path}.kind`,
        message,
        fix: 'set shore.connection: parallel, or kind: all or after_bank',
      },
    ];
  }
  if (rule.kind !== 'after_bank') return [];
  const found: Found[] = [];
  if (rule.at_soc >= rule.until_soc) {
    const message = `takes over at ${rule.at_soc}, which is not below until_soc ${rule.until_soc}`;
    found.push({
      code,
      path: `${path}.at_soc`,
      message,
      fix: 'let the socket take over at a lower soc than it hands back at',
    });
  }
  if (rule.at_soc < bank.floor_soc) {
    const message = `${rule.at_soc} is below the bank's floor of ${bank.floor_soc}: the bank never gets there`;
    found.push({ code, path: `${path}.at_soc`, message, fix: `take over at ${bank.floor_soc} or more` });
  }
  return found;
}

function derating({ inverter: { derating: spec } }: Scenario): Found[] {
  return (spec?.points ?? []).flatMap((point, i): Found[] => {
    const before = spec!.points[i - 1];
    if (before === undefined) return [];
    const path = `inverter.derating.points[${i}]`;
    if (point.temperature_C <= before.temperature_C) {
      const message = `${point.temperature_C} °C does not come after ${before.temperature_C} °C`;
      return [
        { code, path: `${path}.temperature_C`, message, fix: 'list each temperature once, coldest first' },
      ];
    }
    if (point.share <= before.share) return [];
    const message = `a share of ${point.share} at ${point.temperature_C} °C is more than ${before.share} where it is cooler`;
    return [{ code, path: `${path}.share`, message, fix: 'check both against the data sheet' }];
  });
}

/** Asleep it must not draw more than awake: it would have no reason to sleep, and the books of an empty bank no sense. */
function sleep({ inverter: { sleep: spec, standing_W } }: Scenario): Found[] {
  if (spec === undefined || spec.search_W <= standing_W) return [];
  const message = `asleep it draws ${spec.search_W} W, more than the ${standing_W} W of standing_W awake`;
  return [{ code, path: 'inverter.sleep.search_W', message, fix: 'check both against the data sheet' }];
}

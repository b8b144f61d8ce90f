import type { Issue, Place } from '../../basis/errors.ts';
import { ofObject } from '../../basis/memo.ts';
import type { Assumption } from '../../basis/notices.ts';
import { DAY_min, overlap_min, parseWindow } from '../../clock/window.ts';
import type {
  ApplianceLoad,
  GeneratorSpec,
  InverterSpec,
  PlainLoad,
  Scenario,
  SeriesTime,
  SurplusLoad,
  TemperatureLoad,
} from '../schema/schema.ts';
import { hasYear } from '../schema/weather.ts';
import { checkArrays } from './arrays.ts';
import { bankModelIssues } from './bank.ts';
import { type FuelPoint, idleFuel_L_per_h } from './fuel-points.ts';
import { places } from './places.ts';
import { checkSite } from './site.ts';

type Found = Omit<Issue, 'place'>;

/**
 * Rules between values that the schema can't say. Needed again after a study has changed a scenario.
 *
 * @param place where a path stands in the file; left out for a scenario that comes from no file
 * @returns every rule broken; empty if all hold
 */
export function checkScenario(scenario: Scenario, place?: (path: string) => Place): Issue[] {
  const found: Found[] = [
    ...checkSite(scenario),
    ...stateOfCharge(scenario),
    ...checkArrays(scenario),
    ...wiring(scenario),
    ...peaks(scenario),
    ...cycleLife(scenario.bank),
    ...shedding(scenario),
    ...coldBank(scenario),
    ...places(scenario),
    ...bankModelIssues(scenario.bank),
    ...(scenario.generator ? [...fuel(scenario.generator), ...starts(scenario.generator)] : []),
    ...inverter(scenario.inverter),
    ...(scenario.weather.kind === 'series' ? yearless(scenario.weather.time, 'weather') : []),
    ...twice(scenario.arrays, 'arrays'),
    ...twice(scenario.loads, 'loads'),
    ...scenario.loads.flatMap((load, i) => {
      if (load.kind === 'waiting') return [];
      if (load.kind === 'surplus') return windows(load, `loads[${i}]`);
      if (load.kind === 'series') return yearless(load.time, `loads[${i}]`);
      const unseeded = seedless(load, `loads[${i}]`);
      if (load.kind !== 'daily') return [...unseeded, ...windows(load, `loads[${i}]`)];
      const isShapeless = Array.isArray(load.shape) && load.shape.every((w) => w === 0);
      return isShapeless && load.energy_kWh_day > 0
        ? [...unseeded, shapeless(`loads[${i}].shape`)]
        : unseeded;
    }),
  ];
  return found.map((issue) => (place ? { ...issue, place: place(issue.path) } : issue));
}

function stateOfCharge({ bank, generator, run }: Scenario): Found[] {
  const found: Found[] = [];
  const code = 'contradiction';
  const floor = bank.floor_soc;
  const add = (path: string, message: string, fix: string) => found.push({ code, path, message, fix });
  if (bank.self_discharge_share_per_month >= 1 - floor) {
    const message = `a share of ${bank.self_discharge_share_per_month} a month empties a full bank to its floor of ${floor}`;
    add(
      'bank.self_discharge_share_per_month',
      message,
      'give the share of the capacity lost in 30 days, such as 0.03',
    );
  }
  if (run.initial_soc !== undefined && run.initial_soc < floor) {
    const message = `${run.initial_soc} is below the bank's floor of ${floor}`;
    add('run.initial_soc', message, `start at ${floor} or more, or lower bank.floor_soc`);
  }
  if (!generator) return found;
  const { start_soc, stop_soc } = generator;
  if (start_soc !== undefined && start_soc >= stop_soc) {
    const message = `starts at ${start_soc}, which is not below stop_soc ${stop_soc}`;
    add('generator.start_soc', message, 'let it start at a lower soc than it stops at');
  }
  if (start_soc !== undefined && start_soc < floor) {
    const message = `${start_soc} is below the bank's floor of ${floor}: the bank never gets there, so it would never start`;
    add('generator.start_soc', message, `start at ${floor} or more`);
  }
  if (stop_soc <= floor) {
    const message = `${stop_soc} is not above the bank's floor of ${floor}`;
    add('generator.stop_soc', message, `stop above ${floor}`);
  }
  return found;
}

/** Heaters of a bank indoors have no air to fight, and points of capacity must run one way. */
function coldBank({ bank }: Scenario): Found[] {
  const code = 'contradiction';
  const found: Found[] = [];
  if (bank.heater !== undefined && bank.temperature.kind === 'indoors') {
    const fix = 'leave bank.heater out, or set bank.temperature to { kind: outdoors }';
    found.push({
      code,
      path: 'bank.heater',
      message: 'the bank is indoors, at a temperature of its own',
      fix,
    });
  }
  for (const [i, point] of (bank.capacity_at_temperature ?? []).entries()) {
    const before = bank.capacity_at_temperature?.[i - 1];
    if (before === undefined) continue;
    const path = `bank.capacity_at_temperature[${i}]`;
    if (point.temperature_C <= before.temperature_C) {
      const message = `${point.temperature_C} °C does not come after ${before.temperature_C} °C`;
      found.push({
        code,
        path: `${path}.temperature_C`,
        message,
        fix: 'list each temperature once, coldest first',
      });
    } else if (point.share < before.share) {
      const message = `a share of ${point.share} at ${point.temperature_C} °C is less than ${before.share} in the greater cold`;
      found.push({ code, path: `${path}.share`, message, fix: 'check both against the data sheet' });
    }
  }
  return found;
}

/**
 * A tier must be shed before it can come back, and no tier before one that matters less: tiers are served in order, and
 * the report tells them apart by that order.
 */
function shedding({ shedding: rules, loads: all }: Scenario): Found[] {
  const loads = all.filter((load): load is PlainLoad => load.kind !== 'waiting' && load.kind !== 'surplus');
  const code = 'contradiction';
  const found: Found[] = [];
  for (const [i, rule] of rules.entries()) {
    const at = `shedding[${i}]`;
    const add = (key: string, message: string, fix: string) =>
      found.push({ code, path: `${at}.${key}`, message, fix });
    if (rules.findIndex((other) => other.tier === rule.tier) < i) {
      add('tier', `tier ${rule.tier} has a rule already`, 'give each tier one rule');
    }
    if (!loads.some((load) => load.tier === rule.tier)) {
      add('tier', `no load is of tier ${rule.tier}`, 'give the tier of the loads that shall be shed');
    }
    if (rule.restore_soc <= rule.shed_soc) {
      const message = `comes back at ${rule.restore_soc}, which is not above shed_soc ${rule.shed_soc}`;
      add('restore_soc', message, 'leave a gap, so that the loads do not flutter');
    }
    for (const load of loads) {
      if (load.tier <= rule.tier) continue;
      const other = rules.find((r) => r.tier === load.tier);
      if (other !== undefined && other.shed_soc >= rule.shed_soc && other.restore_soc >= rule.restore_soc)
        continue;
      const message =
        other === undefined
          ? `tier ${rule.tier} would be shed while tier ${load.tier}, which matters less, is not`
          : `tier ${rule.tier} would be shed before tier ${load.tier}, which matters less, or come back before it does`;
      add('shed_soc', message, `shed tier ${load.tier} at the same soc or a higher one`);
      break;
    }
  }
  return found;
}

/** A cable has one size, and current can't be drawn below a voltage that is above the nominal one. */
function wiring({ wiring, bank }: Scenario): Found[] {
  if (wiring === undefined) return [];
  const code = 'contradiction';
  const found: Found[] = [];
  if (wiring.cable_AWG !== undefined && wiring.cable_mm2 !== undefined) {
    const message = `${wiring.cable_mm2} mm² beside ${wiring.cable_AWG} AWG`;
    found.push({ code, path: 'wiring.cable_mm2', message, fix: 'give the size of the cable once' });
  }
  const { bank_lowest_voltage_V: lowest_V } = wiring;
  if (lowest_V !== undefined && lowest_V > bank.module.nominal_voltage_V) {
    const message = `${lowest_V} V is above the nominal ${bank.module.nominal_voltage_V} V`;
    found.push({
      code,
      path: 'wiring.bank_lowest_voltage_V',
      message,
      fix: 'give the voltage of the bank near empty',
    });
  }
  return found;
}

/** A motor that starts draws no less than when it runs; a peak is no lower than what is allowed all the time. */
function peaks({ loads, bank }: Scenario): Found[] {
  const code = 'contradiction';
  const { max_discharge_A, peak_discharge_A = max_discharge_A } = bank.module;
  const found: Found[] = [];
  if (peak_discharge_A < max_discharge_A) {
    const message = `${peak_discharge_A} A is less than max_discharge_A ${max_discharge_A}`;
    const fix = 'give the current for moments; leave it out if it is not known';
    found.push({ code, path: 'bank.module.peak_discharge_A', message, fix });
  }
  for (const [i, load] of loads.entries()) {
    if (load.kind !== 'appliance' || load.start_W === undefined || load.start_W >= load.power_W) continue;
    const message = `starts with ${load.start_W} W, which is less than its power_W ${load.power_W}`;
    found.push({
      code,
      path: `loads[${i}].start_W`,
      message,
      fix: 'give the watts of one of it at the moment it starts',
    });
  }
  return found;
}

/** Deeper cycles are fewer, and each depth stands once. */
function cycleLife({ cycle_life = [] }: Scenario['bank']): Found[] {
  const code = 'contradiction';
  return cycle_life.slice(1).flatMap(({ depth_share, cycles }, i): Found[] => {
    const before = cycle_life[i]!;
    const at = `bank.cycle_life[${i + 1}]`;
    if (depth_share <= before.depth_share) {
      const message = `depth ${depth_share} does not come after ${before.depth_share}`;
      return [{ code, path: `${at}.depth_share`, message, fix: 'list each depth once, lowest first' }];
    }
    if (cycles < before.cycles) return [];
    const message = `${cycles} cycles at depth ${depth_share} are not fewer than ${before.cycles} at ${before.depth_share}`;
    return [{ code, path: `${at}.cycles`, message, fix: 'check both: a deeper cycle wears more' }];
  });
}

/** More load burns more, and the line through the lowest points must not give fuel back at idle. */
function fuel({ fuel: spec }: GeneratorSpec): Found[] {
  const code = 'contradiction';
  if ('points' in spec) return fuelPointsGiven(spec.points);
  const path = 'generator.fuel.half_load_L_per_h';
  const { full_load_L_per_h: full, half_load_L_per_h: half } = spec;
  if (half >= full) {
    const message = `half load burns ${half} L/h, which is not less than the ${full} L/h of full load`;
    return [{ code, path, message, fix: 'check both figures against the data sheet' }];
  }
  if (2 * half < full) {
    const message = `${half} L/h is less than half of the ${full} L/h at full load: the line through both would give fuel back at idle`;
    return [{ code, path, message, fix: `give ${full / 2} L/h or more; check that both are litres an hour` }];
  }
  return [];
}

function fuelPointsGiven(points: readonly FuelPoint[]): Found[] {
  const code = 'contradiction';
  for (const [i, { load_share, L_per_h }] of points.entries()) {
    const before = points[i - 1];
    if (before === undefined) continue;
    const at = `generator.fuel.points[${i}]`;
    if (load_share <= before.load_share) {
      const message = `load ${load_share} does not come after ${before.load_share}`;
      return [{ code, path: `${at}.load_share`, message, fix: 'list each load once, lowest first' }];
    }
    if (L_per_h <= before.L_per_h) {
      const message = `${L_per_h} L/h at load ${load_share} is not more than ${before.L_per_h} L/h at ${before.load_share}`;
      return [{ code, path: `${at}.L_per_h`, message, fix: 'check both figures against the data sheet' }];
    }
  }
  const idle = idleFuel_L_per_h(points);
  // Rounding of a line that goes through nothing at idle.
  if (idle >= -1e-12) return [];
  const message = `the line through the points at ${points[0]!.load_share} and ${points[1]!.load_share} would give fuel back at idle: ${rounded(idle)} L/h`;
  const fix = 'check both points; all are litres an hour, not litres a kWh';
  return [{ code, path: 'generator.fuel.points[0].L_per_h', message, fix }];
}

/** What starts it must be said as far as its strategy asks for it, and it must run longer than it warms up. */
function starts({ starts: { kind }, start_soc, warm_up_min, min_run_h }: GeneratorSpec): Found[] {
  const found: Found[] = [];
  const code = 'contradiction';
  if (start_soc === undefined && kind !== 'on_shortfall') {
    const message = `missing, and starts is of kind ${kind}`;
    const fix =
      kind === 'at_soc'
        ? 'add the state of charge at which it starts'
        : 'add the state of charge that the bank shall keep through the night';
    found.push({ code: 'missing-key', path: 'generator.start_soc', message, fix });
  }
  if (warm_up_min > 0 && warm_up_min >= 60 * min_run_h) {
    const message = `${warm_up_min} min is not less than min_run_h ${min_run_h}: it might stop before it carries anything`;
    const fix = `give a shorter time, or let min_run_h be above ${rounded(warm_up_min / 60)}`;
    found.push({ code, path: 'generator.warm_up_min', message, fix });
  }
  return found;
}

function inverter({ rating_kW, surge_kW, standing_W, efficiency }: InverterSpec): Found[] {
  const found: Found[] = [];
  const code = 'contradiction';
  if (surge_kW < rating_kW) {
    const message = `${surge_kW} kW is less than the rating of ${rating_kW} kW`;
    const fix = 'give the short-time power; if it is not known, give the rating';
    found.push({ code, path: 'inverter.surge_kW', message, fix });
  }
  if (!('points' in efficiency)) return found;
  let before = { load_share: 0, input_kW: standing_W / 1000 };
  for (const [i, { load_share, efficiency_share }] of efficiency.points.entries()) {
    const path = `inverter.efficiency.points[${i}]`;
    const output_kW = load_share * rating_kW;
    const input_kW = output_kW / efficiency_share;
    const loss_W = 1000 * (input_kW - output_kW);
    if (load_share <= before.load_share) {
      const message = `load ${load_share} does not come after ${before.load_share}`;
      const fix = 'list each load once, lowest first';
      found.push({ code, path: `${path}.load_share`, message, fix });
    } else if (loss_W < standing_W * (1 - 1e-9)) {
      const message = `efficiency ${efficiency_share} at load ${load_share} is a loss of ${rounded(loss_W)} W, less than the ${standing_W} W it stands for all the time`;
      const highest = Math.floor((1000 * output_kW) / (output_kW + standing_W / 1000)) / 1000;
      const fix = `points include the standing loss: give ${highest} or less here, or a lower standing_W`;
      found.push({ code, path: `${path}.efficiency_share`, message, fix });
    } else if (input_kW <= before.input_kW) {
      const message = `efficiency ${efficiency_share} at load ${load_share} draws no more than the point before it`;
      const fix = 'check this efficiency and the one before it';
      found.push({ code, path: `${path}.efficiency_share`, message, fix });
    }
    before = { load_share, input_kW };
  }
  return found;
}

const rounded = (value: number): number => Number(value.toPrecision(3));

/** The report tells arrays and loads apart by name. */
function twice(named: readonly { readonly name: string }[], list: string): Found[] {
  return named.flatMap(({ name }, i): Found[] => {
    const first = named.findIndex((other) => other.name === name);
    if (first === i) return [];
    const message = `"${name}" is the name of ${list}[${first}] already`;
    return [{ code: 'duplicate-name', path: `${list}[${i}].name`, message, fix: 'give each its own name' }];
  });
}

/** Days can't be drawn without a seed, and there is no default one: the same file must give the same year. */
function seedless(load: Exclude<PlainLoad, { kind: 'series' }>, path: string): Found[] {
  if (load.daily_variation_share === 0 || load.variation_seed !== undefined) return [];
  const message = `days vary by ${load.daily_variation_share}, but no seed says how they are drawn`;
  const fix = 'add variation_seed with any whole number; loads with the same seed vary together';
  return [{ code: 'missing-seed', path: `${path}.daily_variation_share`, message, fix }];
}

/** No window may be empty, and no minute may lie in two windows: it would be counted twice. */
function windows(load: ApplianceLoad | TemperatureLoad | SurplusLoad, path: string): Found[] {
  const found: Found[] = [];
  const spans = spansOf(load.windows);
  for (const [i, span] of spans.entries()) {
    const at = `${path}.windows[${i}]`;
    if (load.windows[i]!.slice(0, 5) === load.windows[i]!.slice(6)) {
      const message = `"${load.windows[i]}" ends where it begins`;
      found.push({ code: 'empty-window', path: at, message, fix: 'write "00:00-24:00" for the whole day' });
      continue;
    }
    const other = spans.findIndex((s, k) => k < i && doOverlap(s, span, hasDayAfterDay(load)));
    if (other >= 0) {
      const message = `"${load.windows[i]}" overlaps "${load.windows[other]}"`;
      found.push({ code: 'overlap', path: at, message, fix: 'join them, or list a second appliance' });
    }
  }
  return found;
}

type Span = ReturnType<typeof parseWindow>;

/** A study asks for them with each design. */
const spansOf = ofObject((windows: readonly string[]): readonly Span[] => windows.map(parseWindow));

/** On the same day, or the end of one past midnight with the other on the next day. */
function doOverlap(a: Span, b: Span, dayAfterDay: boolean): boolean {
  const shifts = dayAfterDay ? [-DAY_min, 0, DAY_min] : [0];
  return shifts.some((d) => overlap_min(a.start_min, a.end_min, b.start_min + d, b.end_min + d) > 0);
}

function hasDayAfterDay(load: ApplianceLoad | TemperatureLoad | SurplusLoad): boolean {
  const week = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
  return week.some((day, i) => load.days.includes(day) && load.days.includes(week[(i + 1) % 7]!));
}

function yearless({ format, year }: SeriesTime, series: string): Found[] {
  if (format === undefined || year !== undefined || hasYear(format)) return [];
  const message = `stamps of the form "${format}" have no year`;
  const path = `${series}.time.format`;
  return [{ code: 'no-year', path, message, fix: 'say which year they are of: set time.year' }];
}

const shapeless = (path: string): Found => ({
  code: 'empty-shape',
  path,
  message: 'all 24 weights are zero, so the energy has no hour to go to',
  fix: 'give at least one hour a weight above zero',
});

/** What the plant can't do because a part of it has no counterpart: allowed, but worth saying. */
export function idleParts({ charger, generator, shore }: Scenario): Assumption[] {
  const say = (path: string, why: string): Assumption => ({ path, value: null, why, kind: 'model' });
  if (generator && !charger)
    return [say('generator', "the generator carries loads but can't charge the bank: no charger is given")];
  if (charger && !generator && !shore)
    return [say('charger', 'the charger stands idle: no generator and no shore power is given')];
  return [];
}

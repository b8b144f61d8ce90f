import type { Issue } from '../../basis/errors.ts';
import { type Assumption, modelled } from '../../basis/notices.ts';
import { rounded } from '../../basis/rounding.ts';
import type { GeneratorSpec, Scenario } from '../schema/schema.ts';
import { fuelPoints, idleFuel_L_per_h } from './fuel-points.ts';
import { windows } from './loads.ts';
import { broken, emptyWindow, isEmptyWindow, notAfter, pairs } from './rule.ts';
import { twice, yearless } from './site.ts';

/** Generator, charger, socket and other sources. */
export function* sourceRules(scenario: Scenario): Generator<Issue> {
  if (scenario.generator) {
    yield* stateOfCharge(scenario.generator, scenario.bank.floor_soc);
    yield* starts(scenario.generator);
    yield* mayRun(scenario.generator, scenario.run.step_min);
    yield* fuel(scenario.generator);
    yield* heatOfFuel(scenario.generator);
  }
  const others = scenario.other_sources ?? [];
  yield* twice(others, 'other_sources');
  for (const [i, other] of others.entries())
    if (other.kind === 'series') yield* yearless(other.time, `other_sources[${i}]`);
  yield* circuits(scenario);
  yield* shoreCarries(scenario);
  if (scenario.shore) yield* windows(scenario.shore, 'shore');
  if (scenario.alternator) yield* windows(scenario.alternator, 'alternator');
}

function* stateOfCharge({ start_soc, stop_soc }: GeneratorSpec, floor: number): Generator<Issue> {
  if (start_soc !== undefined && start_soc >= stop_soc)
    yield broken('generator.start_soc')`starts at ${start_soc}, which is not below stop_soc ${stop_soc} | let
      it start at a lower soc than it stops at`;
  if (start_soc !== undefined && start_soc < floor)
    yield broken('generator.start_soc')`${start_soc} is below the bank's floor of ${floor}: the bank never
      gets there, so it would never start | start at ${floor} or more`;
  if (stop_soc <= floor)
    yield broken('generator.stop_soc')`${stop_soc} is not above the bank's floor of ${floor} | stop above
      ${floor}`;
}

/** What starts it must be said as far as its strategy asks for it, and it must run longer than it warms up. */
function* starts({ starts: { kind }, start_soc, warm_up_min, min_run_h }: GeneratorSpec): Generator<Issue> {
  if (start_soc === undefined && kind !== 'on_shortfall') {
    const which = kind === 'at_soc' ? 'at which it starts' : 'that the bank shall keep through the night';
    yield broken('generator.start_soc', 'missing-key')`missing, and starts is of kind ${kind} | add the state
      of charge ${which}`;
  }
  if (warm_up_min > 0 && warm_up_min >= 60 * min_run_h)
    yield broken('generator.warm_up_min')`${warm_up_min} min is not less than min_run_h ${min_run_h}: it might
      stop before it carries anything | give a shorter time, or let min_run_h be above
      ${rounded(warm_up_min / 60)}`;
}

/** Windows that begin where they end would bar it all day, and it is run in whole steps. */
function* mayRun(
  { quiet_windows, max_run_h_per_day: most_h }: GeneratorSpec,
  step_min: number,
): Generator<Issue> {
  for (const [i, window] of quiet_windows.entries())
    if (isEmptyWindow(window)) yield emptyWindow(`generator.quiet_windows[${i}]`, window);
  if (most_h < step_min / 60)
    yield broken('generator.max_run_h_per_day')`${most_h} h is less than a step of ${step_min} min: it would
      never run | give a longer time, or a shorter run.step_min`;
}

/** More load burns more, and the line through the lowest points must not give fuel back at idle. One finding. */
function* fuel({ fuel: spec }: GeneratorSpec): Generator<Issue> {
  if (!('points' in spec)) {
    const path = 'generator.fuel.half_load_L_per_h';
    const { full_load_L_per_h: full, half_load_L_per_h: half } = spec;
    if (half >= full)
      yield broken(path)`half load burns ${half} L/h, which is not less than the ${full} L/h of full load |
        check both figures against the data sheet`;
    else if (2 * half < full)
      yield broken(path)`${half} L/h is less than half of the ${full} L/h at full load: the line through both
        would give fuel back at idle | give ${full / 2} L/h or more; check that both are litres an hour`;
    return;
  }
  const points = fuelPoints(spec);
  const at = 'generator.fuel.points';
  for (const [i, before, { load_share, L_per_h }] of pairs(points)) {
    if (load_share <= before.load_share)
      return yield notAfter(`${at}[${i}].load_share`, `load ${load_share}`, `${before.load_share}`, 'load');
    if (L_per_h <= before.L_per_h)
      return yield broken(`${at}[${i}].L_per_h`)`${L_per_h} L/h at load ${load_share} is not more than
        ${before.L_per_h} L/h at ${before.load_share} | check both figures against the data sheet`;
  }
  const idle = idleFuel_L_per_h(points);
  // Rounding of a line that goes through nothing at idle.
  if (idle < -1e-12)
    yield broken(`${at}[0].L_per_h`)`the line through the points at ${points[0]!.load_share} and
      ${points[1]!.load_share} would give fuel back at idle: ${rounded(idle)} L/h | check both points; all are
      litres an hour, not litres a kWh`;
}

/**
 * A litre of diesel gives some 10 kWh of heat and heavy oil 11 (handbook figures, recalled), of which no engine makes
 * half current: whatever the fuel, less than half of a tenth is no litre.
 */
const LEAST_L_per_kWh = 0.05;

function* heatOfFuel({ fuel: spec, rating_kW }: GeneratorSpec): Generator<Issue> {
  const { load_share, L_per_h } = fuelPoints(spec).at(-1)!;
  const L_per_kWh = L_per_h / (load_share * rating_kW);
  if (L_per_kWh >= LEAST_L_per_kWh) return;
  const path = 'points' in spec ? `points[${spec.points.length - 1}].L_per_h` : 'full_load_L_per_h';
  yield broken(`generator.fuel.${path}`, 'out-of-range', {
    expected: `at least ${rounded(LEAST_L_per_kWh * load_share * rating_kW)} L/h`,
  })`${L_per_h} L/h for ${rounded(load_share * rating_kW)} kW is more than any fuel gives | check the figure,
    litres an hour, and generator.rating_kW`;
}

/** A charger that draws more on one circuit than on another must be told which circuits there are. */
function* circuits({ charger, shore, generator }: Scenario): Generator<Issue> {
  const list = charger?.input_at_voltage;
  if (list === undefined) return;
  const path = 'charger.input_at_voltage';
  for (const [i, before, { voltage_V }] of pairs(list))
    if (voltage_V <= before.voltage_V)
      yield notAfter(`${path}[${i}].voltage_V`, `${voltage_V} V`, `${before.voltage_V} V`, 'voltage');
  if (generator !== undefined && generator.voltage_V === undefined)
    yield broken('generator', 'missing')`the charger draws by voltage, but the file does not say what the
      generator gives | add generator.voltage_V`;
  for (const [source, volts] of Object.entries({ shore: shore?.voltage_V, generator: generator?.voltage_V }))
    if (volts !== undefined && volts < 0.95 * list[0]!.voltage_V)
      yield broken(`${source}.voltage_V`)`${volts} V is less than any voltage of ${path}: nothing would be
        charged | check it, or list what the charger draws at this voltage`;
}

/** A rule of what the socket carries must be playable: see `ShoreRule`. */
function* shoreCarries({ shore, bank: { floor_soc: floor } }: Scenario): Generator<Issue> {
  const rule = shore?.carries;
  if (rule?.kind === 'after_sun' && shore?.connection !== 'parallel')
    yield broken('shore.carries.kind')`behind a transfer switch the loads hang on the socket alone: the sun
      can carry none of them | set shore.connection: parallel, or kind: all or after_bank`;
  if (rule?.kind !== 'after_bank') return;
  const { at_soc, until_soc } = rule;
  if (at_soc >= until_soc)
    yield broken('shore.carries.at_soc')`takes over at ${at_soc}, which is not below until_soc ${until_soc} |
      let the socket take over at a lower soc than it hands back at`;
  if (at_soc < floor)
    yield broken('shore.carries.at_soc')`${at_soc} is below the bank's floor of ${floor}: the bank never gets
      there | take over at ${floor} or more`;
}

/** What the plant can't do because a part of it has no counterpart: allowed, but worth saying. */
export function idleParts({ charger, generator, shore }: Scenario): Assumption[] {
  if (generator && !charger)
    return [
      modelled(
        'generator',
        "the generator carries loads but can't charge the bank: no charger is given",
        null,
        'verdict_most',
      ),
    ];
  if (charger && !generator && !shore)
    return [modelled('charger', 'the charger stands idle: no generator and no shore power is given')];
  return [];
}

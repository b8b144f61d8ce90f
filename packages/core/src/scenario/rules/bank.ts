import type { Issue } from '../../basis/errors.ts';
import { rounded } from '../../basis/rounding.ts';
import type { BankSpec } from '../schema/schema.ts';
import { fitKinetic } from './kinetic-fit.ts';

type Found = Omit<Issue, 'place'>;
type Model = NonNullable<BankSpec['model']>;
type Resistive = Extract<Model, { kind: 'resistive' }>;
type Kinetic = Extract<Model, { kind: 'kinetic' }>;

const contradiction = (path: string, message: string, fix: string): Found => ({
  code: 'contradiction',
  path,
  message,
  fix,
});

/** What the model of a bank needs and what it does not read, older modules, and amps in the cold. */
export function bankModelIssues(bank: BankSpec): Found[] {
  const { model } = bank;
  return [
    ...efficiency(bank),
    ...(model?.kind === 'resistive' ? resistive(bank, model) : []),
    ...(model?.kind === 'kinetic' ? kinetic(bank, model) : []),
    ...older(bank),
    ...chargeAmps(bank),
  ];
}

function efficiency({ model, round_trip_efficiency_share }: BankSpec): Found[] {
  const path = 'bank.round_trip_efficiency_share';
  if (model?.kind === 'resistive') {
    if (round_trip_efficiency_share === undefined) return [];
    const message = 'a resistive bank works its losses out from resistance_mOhm and current';
    return [contradiction(path, message, 'leave it out, or leave bank.model out')];
  }
  if (round_trip_efficiency_share !== undefined) return [];
  return [
    {
      code: 'missing-key',
      path,
      message:
        model === undefined
          ? 'missing, and no bank.model says how else the bank loses energy'
          : `missing, and a bank of kind ${model.kind} needs it`,
      expected: 'a number from 0.3 to 1',
      fix: 'add "round_trip_efficiency_share: …" to bank; a bank of model { kind: resistive, … } does without',
    },
  ];
}

/** Voltage at half charge over the nominal one, beyond which one of the two is taken for a mistake. Invented. */
const LIKELY_VOLTAGE = { least: 0.75, most: 1.35 } as const;

function resistive({ module }: BankSpec, model: Resistive): Found[] {
  const at = 'bank.model.open_circuit';
  const { open_circuit: points, cells_series, resistance_mOhm } = model;
  const last = points.length - 1;
  for (const [i, { soc, voltage_V }] of points.entries()) {
    const before = points[i - 1];
    if (before === undefined) {
      if (soc === 0) continue;
      return [contradiction(`${at}[0].soc`, `begins at ${soc}`, 'begin with the empty module: soc 0')];
    }
    if (soc <= before.soc) {
      const message = `${soc} does not come after ${before.soc}`;
      return [contradiction(`${at}[${i}].soc`, message, 'list each state of charge once, lowest first')];
    }
    if (voltage_V < before.voltage_V) {
      const message = `${voltage_V} V at ${soc} is less than ${before.voltage_V} V at ${before.soc}`;
      return [contradiction(`${at}[${i}].voltage_V`, message, 'check both: the voltage rises with charge')];
    }
  }
  if (points[last]!.soc !== 1) {
    const message = `ends at ${points[last]!.soc}`;
    return [contradiction(`${at}[${last}].soc`, message, 'end with the full module: soc 1')];
  }
  const above = points.findIndex(({ soc }) => soc >= 0.5);
  const [low, high] = [points[above - 1]!, points[above]!];
  const half_V =
    cells_series *
    (low.voltage_V + ((0.5 - low.soc) / (high.soc - low.soc)) * (high.voltage_V - low.voltage_V));
  const share = half_V / module.nominal_voltage_V;
  if (share < LIKELY_VOLTAGE.least || share > LIKELY_VOLTAGE.most) {
    const message = `${rounded(half_V, 4)} V at half charge do not fit a module of ${module.nominal_voltage_V} V`;
    const cells = Math.round(module.nominal_voltage_V / (half_V / cells_series));
    const fix =
      cells > 1 && cells !== cells_series
        ? `if the points are of one cell, add cells_series: ${cells}`
        : 'give the voltages of a module, or of a cell with cells_series';
    return [contradiction(at, message, fix)];
  }
  const lowest_V = cells_series * points[0]!.voltage_V;
  const drop_V = (module.max_discharge_A * resistance_mOhm) / 1000;
  if (drop_V < lowest_V / 2) return [];
  const message = `${module.max_discharge_A} A lose ${rounded(drop_V)} V of the ${rounded(lowest_V, 4)} V of an empty module: half or more`;
  return [
    contradiction(
      'bank.model.resistance_mOhm',
      message,
      'give the resistance of one module in thousandths of an ohm, such as 15',
    ),
  ];
}

function kinetic({ module }: BankSpec, model: Kinetic): Found[] {
  const { capacity_20h_Ah, capacity_10h_Ah, capacity_5h_Ah } = model;
  const fit = fitKinetic(capacity_20h_Ah, capacity_10h_Ah, capacity_5h_Ah);
  if (typeof fit === 'string') {
    const message = `no kinetic battery gives ${capacity_20h_Ah} Ah in 20 h, ${capacity_10h_Ah} in 10 and ${capacity_5h_Ah} in 5: ${fit}`;
    return [
      contradiction('bank.model', message, 'check the three against the data sheet, at one end voltage'),
    ];
  }
  const rated = module.capacity_Ah;
  const isOneOf = [capacity_20h_Ah, capacity_10h_Ah, capacity_5h_Ah].some(
    (capacity) => Math.abs(capacity - rated) <= 1e-9 * rated,
  );
  if (isOneOf) return [];
  const message = `${rated} Ah is none of the three capacities of bank.model`;
  return [
    contradiction(
      'bank.module.capacity_Ah',
      message,
      'give the one of the three that the module is sold by, most often that at 20 or 10 h',
    ),
  ];
}

function older({ older: groups = [], model }: BankSpec): Found[] {
  return groups.flatMap(({ resistance_factor }, i): Found[] => {
    const path = `bank.older[${i}].resistance_factor`;
    if (model?.kind === 'resistive') {
      if (resistance_factor !== undefined) return [];
      return [
        {
          code: 'missing-key',
          path,
          message: 'missing: the modules of a resistive bank share its current by their resistance',
          expected: 'a number from 1 to 100',
          fix: 'add "resistance_factor: …": resistance over that of a new module, such as 1.3',
        },
      ];
    }
    if (resistance_factor === undefined) return [];
    const message = 'only a resistive bank reads it: in others, modules share the current by their capacity';
    return [contradiction(path, message, 'leave it out, or give bank.model { kind: resistive, … }')];
  });
}

function chargeAmps({ max_charge_A_at_temperature: points = [], module }: BankSpec): Found[] {
  return points.flatMap(({ temperature_C, max_charge_A }, i): Found[] => {
    const at = `bank.max_charge_A_at_temperature[${i}]`;
    const before = points[i - 1];
    if (before !== undefined && temperature_C <= before.temperature_C) {
      const message = `${temperature_C} °C does not come after ${before.temperature_C} °C`;
      return [contradiction(`${at}.temperature_C`, message, 'list each temperature once, coldest first')];
    }
    if (max_charge_A <= module.max_charge_A) return [];
    const message = `${max_charge_A} A is more than module.max_charge_A ${module.max_charge_A}`;
    return [contradiction(`${at}.max_charge_A`, message, 'give what one module takes at this temperature')];
  });
}

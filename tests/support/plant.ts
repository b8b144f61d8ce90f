import type { AllInOne, Bank, Charger, OtherSource, Plant, Shedding, Shore, Tracked } from '@longnight/core';
import { type BankLife, buildBank } from '@longnight/core/bank';
import { buildGenerator, buildInverter } from '@longnight/core/machines';
import type { BankSpec, GeneratorSpec, InverterSpec, WiringSpec } from '@longnight/core/scenario';

/** A generator that may always run, unless a test says otherwise. */
type Unneeded = 'quiet_windows' | 'max_run_h_per_day' | 'starts' | 'warm_up_min';
export type BareGenerator = Omit<GeneratorSpec, Unneeded> & Partial<Pick<GeneratorSpec, Unneeded>>;

/** An array on a tracker that takes any voltage, unless a test says otherwise. */
export type BareTracked = Omit<Tracked, 'string' | 'input' | 'works'> &
  Partial<Pick<Tracked, 'string' | 'input' | 'works'>>;

const ANY_VOLTAGE = {
  string: null,
  input: { max_V: null, min_V: null, max_A: null, max_operating_A: null },
  works: { from_C: Number.NEGATIVE_INFINITY, to_C: Number.POSITIVE_INFINITY },
} as const;

/** Parts of an invented plant, each overridable; losses are off unless a test turns them on. */
export interface Parts {
  readonly size_kWp?: number;
  readonly arrays?: readonly BareTracked[];
  readonly modules_parallel?: number;
  readonly voltage_V?: number;
  readonly capacity_Ah?: number;
  readonly max_charge_A?: number;
  readonly max_discharge_A?: number;
  readonly round_trip?: number;
  readonly floor_soc?: number;
  readonly bank_life?: BankLife | null;
  readonly wiring?: WiringSpec | null;
  readonly peak_discharge_A?: number;
  readonly taper_start_soc?: number;
  readonly taper_end_share?: number;
  readonly self_discharge_share_per_month?: number;
  readonly min_charge_temperature_C?: number;
  readonly capacity_at_temperature?: Bank['capacity_at_temperature'];
  readonly heater?: Bank['heater'];
  readonly model?: BankSpec['model'] | undefined;
  readonly older?: BankSpec['older'];
  readonly charge_A_at_temperature?: BankSpec['max_charge_A_at_temperature'];
  readonly rating_kW?: number;
  readonly idle_W?: number;
  readonly loss_linear?: number;
  readonly loss_quadratic?: number;
  readonly units?: number;
  readonly legs?: number;
  readonly sleep?: InverterSpec['sleep'];
  readonly cut_off?: InverterSpec['cut_off'] | undefined;
  readonly derating?: InverterSpec['derating'] | undefined;
  readonly charger?: Charger | null;
  readonly all_in_one?: AllInOne | null;
  readonly generator?: BareGenerator | null;
  readonly shore?: (Omit<Shore, 'carries'> & Partial<Pick<Shore, 'carries'>>) | null;
  readonly alternator_kW?: number;
  readonly shedding?: readonly Shedding[];
  readonly others?: readonly OtherSource[];
  readonly initial_soc?: number | null;
}

/** One array behind a tracker that never limits. */
export const openTracker = (size_kWp: number, efficiency = 1): Tracked => ({
  name: 'array',
  size_kWp,
  max_input_kW: 1e6,
  max_output_kW: 1e6,
  max_charge_A: 1e6,
  efficiency,
  ...ANY_VOLTAGE,
});

export function plantWith(parts: Parts): Plant {
  return {
    arrays: (parts.arrays ?? [openTracker(parts.size_kWp ?? 0)]).map((array) => ({
      ...ANY_VOLTAGE,
      ...array,
    })),
    others: parts.others ?? [],
    bank: {
      ...buildBank({
        chemistry: 'lfp',
        modules_parallel: parts.modules_parallel ?? 1,
        module: {
          nominal_voltage_V: parts.voltage_V ?? 50,
          capacity_Ah: parts.capacity_Ah ?? 100,
          max_charge_A: parts.max_charge_A ?? 100,
          max_discharge_A: parts.max_discharge_A ?? 100,
          peak_discharge_A: parts.peak_discharge_A,
        },
        older: parts.older,
        model: parts.model,
        round_trip_efficiency_share: parts.model?.kind === 'resistive' ? undefined : (parts.round_trip ?? 1),
        max_charge_A_at_temperature: parts.charge_A_at_temperature,
        floor_soc: parts.floor_soc ?? 0,
        taper_start_soc: parts.taper_start_soc ?? 1,
        taper_end_share: parts.taper_end_share ?? 0.05,
        self_discharge_share_per_month: parts.self_discharge_share_per_month ?? 0,
        min_charge_temperature_C: parts.min_charge_temperature_C ?? -50,
        temperature: { kind: 'indoors', temperature_C: 20 },
        end_of_life_share: 0.8,
      }),
      capacity_at_temperature: parts.capacity_at_temperature ?? [],
      heater: parts.heater ?? null,
    },
    bank_life: parts.bank_life ?? null,
    wiring: parts.wiring ?? null,
    inverter: buildInverter({
      units: parts.units ?? 1,
      legs: parts.legs ?? 1,
      sleep: parts.sleep,
      cut_off: parts.cut_off,
      derating: parts.derating,
      rating_kW: parts.rating_kW ?? 100,
      surge_kW: 2 * (parts.rating_kW ?? 100),
      idle_W: parts.idle_W ?? 0,
      efficiency: { loss_linear: parts.loss_linear ?? 0, loss_quadratic: parts.loss_quadratic ?? 0 },
    }),
    charger: parts.charger ?? null,
    all_in_one: parts.all_in_one ?? null,
    generator: parts.generator
      ? buildGenerator({
          quiet_windows: [],
          max_run_h_per_day: 24,
          starts: { kind: 'at_soc' },
          warm_up_min: 0,
          ...parts.generator,
        })
      : null,
    shore: parts.shore
      ? { carries: { kind: parts.shore.parallel ? 'after_sun' : 'all' }, ...parts.shore }
      : null,
    alternator_kW: parts.alternator_kW ?? 0,
    shedding: parts.shedding ?? [],
    // A known beginning, unless a test lets the year close.
    initial_soc: parts.initial_soc === undefined ? 1 : parts.initial_soc,
  };
}

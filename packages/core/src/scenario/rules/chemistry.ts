import type { Assumption } from '../../basis/notices.ts';
import type { BankSpec } from '../schema/schema.ts';

/** What a bank of a chemistry does where the scenario does not say it. */
const CHEMISTRY: Readonly<
  Record<
    BankSpec['chemistry'],
    Readonly<
      Record<'taper_start_soc' | 'min_charge_temperature_C', { readonly value: number; readonly why: string }>
    >
  >
> = {
  lfp: {
    taper_start_soc: {
      value: 0.95,
      why: 'charge current of lithium iron phosphate falls from here to full; common practice, no source',
    },
    min_charge_temperature_C: {
      value: 0,
      why: 'lithium iron phosphate is not charged below freezing; common practice, no source',
    },
  },
  lead_acid: {
    taper_start_soc: {
      value: 0.8,
      why: 'bulk charging of lead-acid ends near here and the current falls to full; common practice, no source',
    },
    min_charge_temperature_C: {
      value: -20,
      why: 'lead-acid takes charge in frost while its acid is liquid, which of a discharged one it is not; common practice, no source',
    },
  },
};

/** State of charge from which the charge current falls. */
export const taperStart_soc = (bank: BankSpec): number =>
  bank.taper_start_soc ?? CHEMISTRY[bank.chemistry].taper_start_soc.value;

/** Coldest bank that may be charged, °C. */
export const minChargeTemperature_C = (bank: BankSpec): number =>
  bank.min_charge_temperature_C ?? CHEMISTRY[bank.chemistry].min_charge_temperature_C.value;

/** The defaults that a bank rests on and that its chemistry chose. */
export const chemistryAssumptions = (bank: BankSpec): readonly Assumption[] =>
  (['taper_start_soc', 'min_charge_temperature_C'] as const).flatMap((key): Assumption[] =>
    bank[key] === undefined
      ? [{ path: `bank.${key}`, ...CHEMISTRY[bank.chemistry][key], kind: 'default', moves: 'verdict' }]
      : [],
  );

import { type Assumption, modelled } from '../../basis/notices.ts';
import { rounded } from '../../basis/rounding.ts';
import type { BankSpec } from '../schema/schema.ts';
import { fitKinetic } from './kinetic-fit.ts';

const WHATEVER_MODEL =
  'within a year capacity does not fall with age, and with cold only where capacity_at_temperature says so';

/** What the model of a bank leaves out. */
export const bankAssumption = (bank: BankSpec): Assumption =>
  modelled('model.bank', [...words(bank), ...shared(bank)].join('; '));

function words({ model, module }: BankSpec): string[] {
  switch (model?.kind) {
    case undefined:
    case 'fixed_efficiency':
      return ['voltage stays at the nominal value', 'efficiency does not vary with current', WHATEVER_MODEL];
    case 'resistive':
      return [
        'state of charge is the share of the energy stored at open-circuit voltage',
        'within a step the open-circuit voltage is that of its start, and the resistance is the same at any charge and temperature',
        'trackers and chargers count their amps at the nominal voltage',
        WHATEVER_MODEL,
      ];
    case 'kinetic': {
      const fit = fitKinetic(model.capacity_20h_Ah, model.capacity_10h_Ah, model.capacity_5h_Ah);
      const found =
        typeof fit === 'string'
          ? []
          : [
              `fitted to the three capacities, a module holds ${rounded(fit.most)} Ah drawn on ever so slowly, of which ${rounded(100 * fit.available_share)} % are ready at once and the rest comes free at ${rounded(fit.rate_per_h)} an hour`,
            ];
      return [
        ...found,
        `state of charge, floor_soc among it, is a share of that and not of the rated ${module.capacity_Ah} Ah`,
        'voltage stays at the nominal value',
        'the fit is of constant currents of 5 to 20 hours and is used beyond them',
        'it only nears full: rules that wait for a state of charge take it as full once it takes no more than taper_end_share of its amps',
        'the bank has rested before the first step, and before each start of the sunless hours',
        WHATEVER_MODEL,
      ];
    }
  }
}

function* shared({ older, model, max_charge_A_at_temperature }: BankSpec): Generator<string> {
  if (older !== undefined) {
    const by = model?.kind === 'resistive' ? 'resistance' : 'capacity';
    yield `new and older modules share the current by their ${by} and are at one state of charge`;
    yield 'the first module at its amps limits the whole bank';
  }
  if (max_charge_A_at_temperature !== undefined)
    yield 'where the amps of max_charge_A_at_temperature meet the taper, the lower of both means of the step holds';
}

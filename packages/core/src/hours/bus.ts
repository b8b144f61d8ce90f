import type { Flows } from './flows.ts';
import type { StepParts } from './parts.ts';

/** The DC bus: sun first, then the engine, then what the charger can spare, then the bank; surplus the same way. */
export function shareBus({ charger_efficiency }: StepParts, flows: Flows): void {
  const need = flows.dc_need_kWh;
  const tracked = flows.tracked_kWh;
  const engineMost = flows.engine_most_kWh;
  const chargeMost = flows.charge_most_kWh;
  const shortOfSun = need > tracked ? need - tracked : 0;
  const engineToBus = Math.min(shortOfSun, engineMost);
  const shortOfEngine = shortOfSun - engineToBus;
  const chargerToBus = Math.min(shortOfEngine, flows.charger_most_kWh);
  const discharged = shortOfEngine - chargerToBus;
  const surplus = tracked > need ? tracked - need : 0;
  const sunToBank = Math.min(surplus, chargeMost);
  let engineToBank = 0;
  let chargerToBank = 0;
  if (discharged === 0) {
    engineToBank = Math.min(engineMost - engineToBus, chargeMost - sunToBank);
    const spare = flows.may_charge
      ? flows.charger_most_kWh
      : Math.min(flows.charger_most_kWh, flows.ac_spare_kWh * charger_efficiency);
    chargerToBank = Math.max(0, Math.min(spare - chargerToBus, chargeMost - sunToBank - engineToBank));
  }
  const chargerOut = chargerToBus + chargerToBank;
  const chargerIn = chargerOut > 0 ? chargerOut / charger_efficiency : 0;
  flows.engine_kWh = engineToBus + engineToBank;
  flows.charged_kWh = sunToBank + engineToBank + chargerToBank;
  flows.discharged_kWh = discharged;
  flows.charger_out_kWh = chargerOut;
  flows.charger_in_kWh = chargerIn;
  flows.ac_to_charger_kWh = Math.min(flows.ac_spare_kWh, chargerIn);
  flows.ac_spare_kWh -= flows.ac_to_charger_kWh;
  flows.surplus_kWh = surplus;
  flows.unused_kWh = surplus - sunToBank;
}

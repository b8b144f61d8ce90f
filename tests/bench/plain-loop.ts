/**
 * The yardstick: the same plant played by one hand-inlined loop over typed arrays, with no structure at all: one
 * array, one bank, one inverter with knots, one generator behind a transfer switch. It writes the nine columns that a
 * spreadsheet would have and no causes. The bench checks that it agrees with the real loop before it times either.
 */
import type { Plant, PreparedYear } from '@longnight/core';

export interface PlainColumns {
  readonly served: Float64Array;
  readonly unmet: Float64Array;
  readonly used: Float64Array;
  readonly curtailed: Float64Array;
  readonly charge: Float64Array;
  readonly discharge: Float64Array;
  readonly soc: Float64Array;
  readonly generator: Float64Array;
  readonly losses: Float64Array;
}

export const plainColumns = (steps: number): PlainColumns => ({
  served: new Float64Array(steps),
  unmet: new Float64Array(steps),
  used: new Float64Array(steps),
  curtailed: new Float64Array(steps),
  charge: new Float64Array(steps),
  discharge: new Float64Array(steps),
  soc: new Float64Array(steps),
  generator: new Float64Array(steps),
  losses: new Float64Array(steps),
});

export function plainYear(year: PreparedYear, plant: Plant, out: PlainColumns): void {
  const steps = year.clock.steps;
  const suns = year.arrays.map((array) => array.dc_kW_per_kWp);
  const arrays = plant.arrays;
  const many = arrays.length;
  const load = year.loads.total_kW;
  const temperature = year.bank_temperature_C;
  const bank = plant.bank;
  const capacity = bank.capacity_kWh;
  const floor = bank.floor_kWh;
  const into = bank.charge_efficiency;
  const outOf = bank.discharge_efficiency;
  const mostCharge = bank.max_charge_kW;
  const mostDischarge = bank.max_discharge_kW;
  const self = bank.self_discharge_per_h;
  const coldest = bank.min_charge_temperature_C;
  const taper = 1 - bank.taper_start_soc;
  const tail = bank.taper_end_share;
  const a = (into * mostCharge) / capacity;
  const b = (1 - tail) / taper;
  const decay = Math.exp(-a * b);
  const acs = plant.inverter.curve.output;
  const dcs = plant.inverter.curve.input;
  const last = acs.length - 1;
  const rating = plant.inverter.rating_kW;
  const standing = plant.inverter.curve.idle;
  const engine = plant.generator;
  const enginePower = engine === null ? 0 : engine.rating_kW;
  const engineLeast = engine === null ? 0 : engine.min_load_kW;
  const engineStart = engine === null ? -1 : (engine.start_soc ?? -1);
  const engineStop = engine === null ? -1 : engine.stop_soc;
  const engineRun = engine === null ? 0 : engine.min_run_h;
  const chargerMost = plant.charger === null ? 0 : plant.charger.max_output_kW;
  const chargerEfficiency = plant.charger === null ? 1 : plant.charger.efficiency;
  let stock = plant.initial_soc! * capacity;
  let on = false;
  let ran = 0;
  for (let i = 0; i < steps; i++) {
    const wanted = load[i]!;
    let offered = 0;
    let made = 0;
    let through = 0;
    for (let t = 0; t < many; t++) {
      const tracker = arrays[t]!;
      const panel = suns[t]![i]! * tracker.size_kWp;
      offered += panel;
      const taken = Math.min(panel, tracker.max_input_kW);
      let passed = taken * tracker.efficiency;
      if (passed > tracker.max_output_kW) passed = tracker.max_output_kW;
      made += passed;
      through += passed / tracker.efficiency;
    }
    const selfLoss = (stock - floor) * self;
    stock -= selfLoss;
    const fromStock = (stock - floor) * outOf;
    const canGive = Math.min(fromStock, mostDischarge);
    let canTake = 0;
    if (temperature[i]! >= coldest) {
      const empty = 1 - stock / capacity;
      const room = (capacity - stock) / into;
      if (empty - a >= taper || taper === 0) {
        canTake = Math.min(mostCharge, room);
      } else {
        const before = empty > taper ? (empty - taper) / a : 0;
        const from = Math.min(empty, taper);
        const fall = before === 0 ? decay : Math.exp(-a * b * (1 - before));
        let left = (from + tail / b) * fall - tail / b;
        if (left < 0) left = 0;
        canTake = ((empty - left) * capacity) / into;
        if (canTake > room) canTake = room;
        if (canTake > mostCharge) canTake = mostCharge;
      }
    }
    let ac = Math.min(wanted, rating);
    let k = 1;
    while (k < last && acs[k]! < ac) k++;
    let need = dcs[k - 1]! + ((dcs[k]! - dcs[k - 1]!) * (ac - acs[k - 1]!)) / (acs[k]! - acs[k - 1]!);
    const most = made + canGive;
    if (need > most) {
      need = most;
      if (most <= standing) ac = 0;
      else {
        k = 1;
        while (k < last && dcs[k]! < most) k++;
        ac = acs[k - 1]! + ((acs[k]! - acs[k - 1]!) * (most - dcs[k - 1]!)) / (dcs[k]! - dcs[k - 1]!);
      }
    }
    let byEngine = 0;
    let spare = 0;
    if (engine !== null) {
      const soc = stock / capacity;
      const carries = Math.min(wanted, enginePower);
      const chargeable = chargerMost > 0 && canTake > 1e-12;
      let run: boolean = on
        ? ran < engineRun - 1e-9 || (chargeable && soc < engineStop - 1e-9)
        : chargeable && soc <= engineStart;
      if (!run && wanted - ac > 1e-12 && carries > ac + 1e-12) run = true;
      if (run && carries < ac - 1e-12) run = false;
      ran = run ? (on ? ran : 0) + 1 : 0;
      on = run;
      if (run) {
        byEngine = carries;
        ac = 0;
        spare = (enginePower - carries) * chargerEfficiency;
        if (spare > chargerMost) spare = chargerMost;
        need = Math.min(standing, most + spare);
      }
    }
    const short = need > made ? need - made : 0;
    const toBus = Math.min(short, spare);
    const given = short - toBus;
    const surplus = made > need ? made - need : 0;
    const fromSun = Math.min(surplus, canTake);
    let fromCharger = 0;
    if (given === 0) {
      fromCharger = Math.min(spare - toBus, canTake - fromSun);
    }
    const put = fromSun + fromCharger;
    const chargerIn = (toBus + fromCharger) / chargerEfficiency;
    let generated = byEngine + chargerIn;
    if (on && generated < engineLeast) generated = engineLeast;
    const passed = made - (surplus - fromSun);
    const used = made > 0 ? (passed / made) * through : 0;
    const before = stock;
    stock += put * into - given / outOf;
    if (stock > capacity) stock = capacity;
    if (stock < floor) stock = floor;
    out.served[i] = byEngine + ac;
    out.unmet[i] = wanted - byEngine - ac;
    out.used[i] = used;
    out.curtailed[i] = offered - used;
    out.charge[i] = put;
    out.discharge[i] = given;
    out.soc[i] = stock / capacity;
    out.generator[i] = generated;
    out.losses[i] = used + generated - byEngine - ac - (stock - before) + selfLoss;
  }
}

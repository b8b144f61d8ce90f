import type { Bank, BankModel } from './bank.ts';
import { type KineticStep, kineticStep } from './bank-kinetic.ts';
import { chargeCurrent_A, dischargeCurrent_A, type OpenCircuit, openCircuit_V } from './bank-resistive.ts';
import { type ChargeTerms, chargeRoom_kWh, chargeTerms } from './bank-taper.ts';

/**
 * Banks that are not of fixed efficiency, in one step. Numbers go in and out through the fields of `BankStep`: handed to
 * a function that is not inlined, or back from it, each would be boxed on the heap.
 */

/** The current step of such a bank. Fields are written in the order in which they stand here. */
export interface BankStep {
  /** Ready in a kinetic bank when the step begins; the memory of the bank beside its stock. */
  available_kWh: number;
  /** Set by the caller: stock when the step began, and once self-discharge has had its part. */
  before_kWh: number;
  stock_kWh: number;
  /** Set by the caller: stock that can't be drawn, and the share of the charge amps that the modules take. */
  drawable_floor_kWh: number;
  charge_amps_share: number;
  /** Ready once self-discharge has had its part. */
  ready_kWh: number;
  voltage_V: number;
  /** Set by `boundDischarge`, at the terminals: the most the bank gives; at all its amps; but for what is bound. */
  discharge_most_kWh: number;
  full_current_kWh: number;
  unbound_kWh: number;
  /** The same as the last if the cold kept nothing back. */
  in_store_kWh: number;
  /** Set by `boundCharge`, at the terminals: the most the bank takes, and what its amps would let in. */
  charge_most_kWh: number;
  charge_current_kWh: number;
  /** The same of a kinetic bank if its amps were not limited by the cold. */
  room_kWh: number;
  /** Set by the caller, at the terminals: one of them is 0. */
  charged_kWh: number;
  discharged_kWh: number;
  /** Set by `moveBank`: what it holds and has lost at the end. */
  end_kWh: number;
  loss_kWh: number;
}

interface CommonParts {
  readonly step_h: number;
  readonly capacity_kWh: number;
  readonly floor_kWh: number;
}

interface ResistiveParts extends CommonParts {
  readonly kind: 'resistive';
  readonly open_circuit: OpenCircuit;
  readonly per_capacity: number;
  /** Of the whole bank. */
  readonly resistance_ohm: number;
  readonly charge_A: number;
  readonly discharge_A: number;
  readonly coulombic_efficiency: number;
  /** As in `ChargeTerms`; the slope of the taper over the empty share. */
  readonly taper_share: number;
  readonly tail: number;
  readonly slope: number;
}

interface KineticParts extends CommonParts {
  readonly kind: 'kinetic';
  readonly charge_efficiency: number;
  readonly discharge_efficiency: number;
  readonly charge_current_kWh: number;
  readonly discharge_current_kWh: number;
  readonly charging: ChargeTerms;
  readonly wells: KineticStep;
  /** At the tail current, at which chargers take a bank as full. */
  readonly tail_kWh: number;
}

/** Such a bank in steps of one length. */
export type ModelParts = ResistiveParts | KineticParts;

/** @returns null for a bank of fixed efficiency, which needs none of this */
export function modelParts(bank: Bank, step_h: number): ModelParts | null {
  const { model, capacity_kWh, floor_kWh } = bank;
  const common = { step_h, capacity_kWh, floor_kWh };
  const charging = chargeTerms(bank, step_h);
  switch (model.kind) {
    case 'fixed_efficiency':
      return null;
    case 'resistive':
      return {
        kind: 'resistive',
        ...common,
        open_circuit: model.open_circuit,
        per_capacity: 1 / capacity_kWh,
        resistance_ohm: model.module_resistance_ohm / bank.current_modules,
        charge_A: bank.current_modules * bank.module_max_charge_A,
        discharge_A: bank.current_modules * bank.module_max_discharge_A,
        coulombic_efficiency: model.coulombic_efficiency,
        taper_share: charging.taper_share,
        tail: charging.tail,
        slope: charging.tail > 0 ? bank.taper_end_share / charging.tail : 0,
      };
    case 'kinetic':
      return {
        kind: 'kinetic',
        ...common,
        charge_efficiency: bank.charge_efficiency,
        discharge_efficiency: bank.discharge_efficiency,
        charge_current_kWh: bank.max_charge_kW * step_h,
        discharge_current_kWh: bank.max_discharge_kW * step_h,
        charging,
        wells: kineticStep(model, step_h),
        tail_kWh: bank.taper_end_share * bank.max_charge_kW * step_h,
      };
  }
}

/** A bank that has rested with this stock: its wells are level. */
export const restedStep = (model: BankModel, stock_kWh: number): BankStep => ({
  available_kWh: model.kind === 'kinetic' ? model.available_share * stock_kWh : stock_kWh,
  before_kWh: stock_kWh,
  stock_kWh,
  drawable_floor_kWh: 0,
  charge_amps_share: 1,
  ready_kWh: 0,
  voltage_V: 0,
  discharge_most_kWh: 0,
  full_current_kWh: 0,
  unbound_kWh: 0,
  in_store_kWh: 0,
  charge_most_kWh: 0,
  charge_current_kWh: 0,
  room_kWh: 0,
  charged_kWh: 0,
  discharged_kWh: 0,
  end_kWh: stock_kWh,
  loss_kWh: 0,
});

/**
 * The most the bank gives in a step, and what it would give without one or the other limit.
 *
 * Resistive: the voltage is that of the stock at the start of the step; current I leaves I (V - I R) at the terminals
 * and takes I V from the store. Kinetic: what is bound comes free too slowly for the rest (see `kineticStep`).
 */
export function boundDischarge(parts: ModelParts, step: BankStep): void {
  const above = Math.max(0, step.stock_kWh - step.drawable_floor_kWh);
  const aboveFloor = Math.max(0, step.stock_kWh - parts.floor_kWh);
  if (parts.kind === 'resistive') {
    const { step_h, resistance_ohm: R, discharge_A } = parts;
    const V = openCircuit_V(parts.open_circuit, step.stock_kWh * parts.per_capacity);
    const per_A = (V * step_h) / 1000;
    const drop = (R * step_h) / 1000;
    const drawn_A = Math.min(discharge_A, above / per_A);
    const store_A = Math.min(discharge_A, aboveFloor / per_A);
    step.voltage_V = V;
    step.discharge_most_kWh = drawn_A * (per_A - drawn_A * drop);
    step.full_current_kWh = discharge_A * (per_A - discharge_A * drop);
    step.unbound_kWh = step.discharge_most_kWh;
    step.in_store_kWh = store_A * (per_A - store_A * drop);
  } else {
    const { wells, discharge_efficiency, discharge_current_kWh } = parts;
    step.ready_kWh =
      step.before_kWh > 0 ? step.available_kWh * (step.stock_kWh / step.before_kWh) : step.available_kWh;
    const ready = (step.ready_kWh * wells.keeps + step.stock_kWh * wells.gains) / wells.per_drawn;
    step.full_current_kWh = discharge_current_kWh;
    step.unbound_kWh = Math.min(above * discharge_efficiency, discharge_current_kWh);
    step.in_store_kWh = Math.min(aboveFloor * discharge_efficiency, discharge_current_kWh);
    step.discharge_most_kWh = Math.max(0, Math.min(step.unbound_kWh, ready * discharge_efficiency));
  }
}

/**
 * The most the bank takes in a step; after `boundDischarge`. The current tapers close to full, as in `chargeRoom_kWh`.
 * A taper that begins within the step is charged at its mean current.
 */
export function boundCharge(parts: ModelParts, step: BankStep): void {
  if (parts.kind === 'resistive') {
    const { step_h, capacity_kWh, resistance_ohm: R, taper_share, tail } = parts;
    const per_A = (step.voltage_V * step_h) / 1000;
    const drop = (R * step_h) / 1000;
    const stored_per_A = per_A * parts.coulombic_efficiency;
    const fill_share = (parts.charge_A * stored_per_A) / capacity_kWh;
    const empty = 1 - step.stock_kWh * parts.per_capacity;
    let into_A = parts.charge_A;
    if (parts.slope > 0 && empty < taper_share + fill_share) {
      const before = empty > taper_share ? (empty - taper_share) / fill_share : 0;
      const decay = Math.exp(parts.slope * fill_share * (before - 1));
      const left = (Math.min(empty, taper_share) + tail) * decay - tail;
      into_A = ((empty - Math.max(left, 0)) * capacity_kWh) / stored_per_A;
    }
    const amps = parts.charge_A * step.charge_amps_share;
    const room_A = Math.max(0, capacity_kWh - step.stock_kWh) / stored_per_A;
    const most_A = Math.max(0, Math.min(into_A, amps, room_A));
    step.charge_most_kWh = most_A * (per_A + most_A * drop);
    step.charge_current_kWh = amps * (per_A + amps * drop);
  } else {
    const { wells, capacity_kWh, charge_efficiency } = parts;
    const full = wells.available_share * capacity_kWh;
    const room =
      (full - step.ready_kWh * wells.keeps - step.stock_kWh * wells.gains) /
      wells.per_drawn /
      charge_efficiency;
    step.charge_current_kWh = parts.charge_current_kWh * step.charge_amps_share;
    step.room_kWh = Math.max(0, Math.min(chargeRoom_kWh(parts.charging, step.stock_kWh), room));
    step.charge_most_kWh = Math.min(step.room_kWh, step.charge_current_kWh);
  }
}

/** What the bank holds and has lost at the end of a step; self-discharge is not in it. */
export function moveBank(parts: ModelParts, step: BankStep): void {
  const { charged_kWh, discharged_kWh, stock_kWh } = step;
  let stored = 0;
  let drawn = 0;
  if (parts.kind === 'resistive') {
    const { step_h, resistance_ohm: R } = parts;
    const per_A = (step.voltage_V * step_h) / 1000;
    const per_kWh = 1000 / step_h;
    if (charged_kWh > 0) {
      stored = chargeCurrent_A(step.voltage_V, R, charged_kWh * per_kWh) * per_A * parts.coulombic_efficiency;
    }
    if (discharged_kWh > 0) drawn = dischargeCurrent_A(step.voltage_V, R, discharged_kWh * per_kWh) * per_A;
  } else {
    stored = charged_kWh * parts.charge_efficiency;
    drawn = discharged_kWh / parts.discharge_efficiency;
  }
  let end = stock_kWh + stored - drawn;
  // Rounding alone can carry the stock past either end by some 1e-15 of the capacity.
  if (end > parts.capacity_kWh) end = parts.capacity_kWh;
  if (end < parts.floor_kWh) end = parts.floor_kWh;
  step.end_kWh = end;
  step.loss_kWh = charged_kWh - stored + (drawn - discharged_kWh);
  if (parts.kind === 'kinetic') {
    const { keeps, gains, per_drawn, available_share } = parts.wells;
    const ready = step.ready_kWh * keeps + stock_kWh * gains - (drawn - stored) * per_drawn;
    // The same of both wells.
    const most = Math.min(end, available_share * parts.capacity_kWh);
    const least = Math.max(0, end - (1 - available_share) * parts.capacity_kWh);
    step.available_kWh = Math.min(most, Math.max(least, ready));
  }
}

import { partsForStep } from '../../hours/parts.ts';
import { boundDischarge, type ModelParts, moveBank, restedStep } from '../../plant/bank-step.ts';
import { coldYear } from '../../plant/cold.ts';
import type { Plant } from '../../plant/plant.ts';
import type { PreparedYear } from '../../year.ts';
import { lowestStock_kWh, sunlessDraw_kWh } from './draw.ts';

/** What a step asks of a bank in the dark, and what it can't draw; one entry a step. */
interface Night {
  readonly parts: ModelParts;
  readonly keep: number;
  readonly draw_kWh: Float64Array;
  readonly drawable_floor_kWh: Float64Array;
}

/**
 * `sunlessHours` for a bank that is not of fixed efficiency: what it loses depends on its state, so that no running sum
 * tells where it ends, and every start is played. Its wells are level at the start. Nothing is played for a bank that
 * lasts twice the year from its first step: it lasts a year from any of them, a later start never being emptier.
 *
 * Costs steps × steps carried.
 */
export function sunlessHoursByStep(
  year: PreparedYear,
  plant: Plant,
): { hours: Float64Array; capped: boolean } | null {
  const { steps, step_h } = year.clock;
  const { bank } = plant;
  if (bank.model.kind === 'fixed_efficiency') return null;
  const step = partsForStep(plant, step_h, []);
  const parts = step.bank_model!;
  const { heat_kWh, drawable_floor_kWh } = coldYear(bank, year.bank_temperature_C, step_h);
  const lowest_kWh = lowestStock_kWh(year, plant);
  const heat = (i: number): number => heat_kWh?.[i] ?? 0;
  const night: Night = {
    parts,
    keep: 1 - step.self_discharge,
    // What the amps allow differs from step to step, as the voltage does.
    draw_kWh: sunlessDraw_kWh(year, plant, Number.POSITIVE_INFINITY).map((kWh, i) => kWh + heat(i)),
    // Heaters that run hold the bank warm; without them the cold keeps some of the stock back.
    drawable_floor_kWh: Float64Array.from({ length: steps }, (_, i) =>
      Math.max(lowest_kWh, heat(i) > 0 ? step.heated_floor_kWh : (drawable_floor_kWh?.[i] ?? bank.floor_kWh)),
    ),
  };
  const hours = new Float64Array(steps);
  if (stepsCarried(plant, night, 0, 2 * steps) >= 2 * steps) {
    return { hours: hours.fill(steps * step_h), capped: true };
  }
  let capped = false;
  for (let i = 0; i < steps; i++) {
    const carried = stepsCarried(plant, night, i, steps);
    if (carried >= steps) capped = true;
    hours[i] = carried * step_h;
  }
  return { hours, capped };
}

/** Steps that a full bank carries from step `from` on, at most `most`; the last one in the share that it was carried. */
function stepsCarried({ bank }: Plant, night: Night, from: number, most: number): number {
  const { parts, keep, draw_kWh, drawable_floor_kWh } = night;
  const year = draw_kWh.length;
  const step = restedStep(bank.model, bank.capacity_kWh);
  for (let n = 0; n < most; n++) {
    const i = (from + n) % year;
    step.before_kWh = step.end_kWh;
    step.stock_kWh = parts.floor_kWh + (step.end_kWh - parts.floor_kWh) * keep;
    step.drawable_floor_kWh = drawable_floor_kWh[i]!;
    boundDischarge(parts, step);
    const draw = Math.min(draw_kWh[i]!, step.full_current_kWh);
    const short = draw - step.discharge_most_kWh;
    // What the cold keeps back can end it in a step that draws nothing.
    if (short > 1e-12 * parts.capacity_kWh || step.stock_kWh < step.drawable_floor_kWh * (1 - 1e-12)) {
      return n + (draw > 0 ? Math.max(0, Math.min(1, step.discharge_most_kWh / draw)) : 0);
    }
    step.discharged_kWh = Math.min(draw, step.discharge_most_kWh);
    moveBank(parts, step);
  }
  return most;
}

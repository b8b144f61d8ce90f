/** Seeded years for tests: invented sun and load, dull outages and cold weeks included. */

/** A stream of numbers in [0, 1): mulberry32, public domain; for test data only, never for the product. */
export function stream(seed: number): () => number {
  let state = (seed * 0x9e3779b9) >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Invented columns: sun per kWp and array, load, bank temperature, each drawn anew in every step. Whole days only. */
export function randomYear(draw: () => number, steps: number, arrays: number, step_min = 60) {
  const step_h = step_min / 60;
  const dc_kW_per_kWp = Array.from({ length: arrays }, () => new Float64Array(steps));
  const load_kW = new Float64Array(steps);
  const bank_temperature_C = new Float64Array(steps);
  const base = 0.1 + draw();
  const evening = draw() * 3;
  const depth = 0.3 + 0.6 * draw();
  let clearness = 0.5;
  for (let i = 0; i < steps; i++) {
    const hour = (i * step_h) % 24;
    const season = Math.cos((2 * Math.PI * i * step_h) / 8760);
    if (i % (24 / step_h) === 0)
      clearness = Math.min(1, Math.max(0.02, 0.7 * clearness + 0.45 * (draw() - 0.15)));
    const half_day = 6 - 4 * depth * season;
    for (let a = 0; a < arrays; a++) {
      const off = Math.abs(hour + step_h / 2 - 12 - (a - (arrays - 1) / 2) * 3) / half_day;
      dc_kW_per_kWp[a]![i] =
        off < 1 ? clearness * (1 - depth * 0.6 * season) * Math.cos((off * Math.PI) / 2) * 0.8 : 0;
    }
    load_kW[i] = base * (0.5 + draw()) + (hour >= 17 && hour < 22 ? evening * draw() : 0);
    bank_temperature_C[i] = 8 - 12 * season + 4 * (draw() - 0.5);
  }
  return { dc_kW_per_kWp, load_kW, bank_temperature_C };
}

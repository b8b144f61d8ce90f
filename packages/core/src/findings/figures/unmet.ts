/** A step counts as unmet above this: a millionth of a watt-hour, far above rounding. */
const UNMET_kWh = 1e-9;

/** True if what a step leaves unmet is more than rounding. */
export const isUnmet = (unmet_kWh: number): boolean => unmet_kWh > UNMET_kWh;

/** The same as it stands in formulas. */
export const UNMET_STEPS = `steps with unmet_kWh > ${UNMET_kWh}`;

/** Volts and amps of panels and strings in cold and heat. */

export {
  type ColdestFrom,
  type HottestFrom,
  type StringCheck,
  type StringConflict,
  stringFindings,
} from '../findings/static/strings.ts';
export {
  openVoltage_V,
  type PanelString,
  type TrackerInput,
  workingVoltage_V,
} from '../plant/panel-string.ts';

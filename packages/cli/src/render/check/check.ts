import type { Report, StaticLimits } from '@longnight/core';
import { amount, counted, days, fixed, kW, kWh, price } from '../document/figures.ts';
import type { Paint } from '../document/paint.ts';
import { plain, wrapped } from '../document/plain-text.ts';
import { billLines, type Money, notPriced } from '../report/bill.ts';
import { conductorSentences, surgeSentences } from '../report/conductor.ts';
import { dangerSentence, dangersTitle } from '../report/dangers.ts';
import { limitWords } from '../report/limit-words.ts';
import { staticFigures } from '../report/static-figures.ts';
import { NO_PANEL_DATA, stringSentences, stringsTitle } from '../report/strings.ts';

const WIDTH = 80;

interface CheckContext {
  readonly siteName: string;
  readonly scenarioName: string;
  /** Other files that the scenario names and that were read too. */
  readonly filesRead: number;
  readonly mean_load_kWh_day: number;
  /** Highest mean over one step. */
  readonly peak_load_kW: number;
  readonly step_min: number;
  /** What the peaks of the loads meet, in sentences. */
  readonly peak: readonly string[];
  /** Null if the scenario has no `money` section. */
  readonly money: Money | null;
  readonly surge: Report['surge'];
  readonly strings: Report['strings'];
  /** Arrays without data of their panels. */
  readonly unknownPanels: readonly string[];
  readonly cautions: readonly string[];
  readonly dangers: Report['dangers'];
}

/** What a plant can do before an hour is played. */
export function checkText(limits: StaticLimits, context: CheckContext, paint: Paint): string {
  const lines: string[] = [];
  const say = (text: string, indent = 0): void => {
    lines.push(...wrapped(plain(text), WIDTH - indent).map((line) => ' '.repeat(indent) + line));
  };
  const heading = (text: string): void => void lines.push('', paint.heading(text));
  const files = context.filesRead === 0 ? '' : ` and ${counted(context.filesRead, 'file')} it names`;
  lines.push(...wrapped(plain(context.siteName), WIDTH).map(paint.heading));
  const { dangers } = context;
  if (dangers.length > 0) {
    lines.push(paint.bad(dangersTitle(dangers)));
    for (const danger of dangers) say(dangerSentence(danger), 2);
    say(`${context.scenarioName}${files}: read without error.`);
  } else say(`${context.scenarioName}${files}: no error found.`);

  heading('Bank');
  say(`${kWh(limits.usable_kWh)} usable of ${kWh(limits.capacity_kWh)}`, 2);
  const nominal = context.mean_load_kWh_day > 0 ? limits.usable_kWh / context.mean_load_kWh_day : null;
  heading('Loads');
  say(
    `${kWh(context.mean_load_kWh_day)} on a mean day, ${kW(context.peak_load_kW)} in the highest step of ` +
      `${context.step_min} min; the usable bank is ${days(nominal)} of it`,
    2,
  );
  for (const { title, figure, none } of staticFigures(limits)) {
    heading(`${title}: ${figure.figure_kW === null ? none : kW(figure.figure_kW)}`);
    figure.limits.forEach((limit, k) => {
      say(`${k === 0 ? 'set by' : 'then'} ${limitWords(limit)}: ${kW(limit.limit_kW)}`, 2);
    });
    if (figure === limits.ac_output && limits.ac_output.after_inverter_loss_kW < limits.ac_output.figure_kW!)
      say(
        `leaves ${kW(limits.ac_output.after_inverter_loss_kW)} for AC loads after the inverter's own losses`,
        2,
      );
  }
  heading('Inverter efficiency');
  say(efficiencies(limits), 2);
  heading('Peak load against AC output');
  for (const sentence of context.peak) say(sentence, 2);
  heading('All at once, and the worst start');
  for (const sentence of surgeSentences(context.surge)) say(sentence, 2);
  const cable = limits.bank_conductor;
  heading(
    `Cable between bank and ${cable.units === 1 ? 'inverter' : `each of ${cable.units} inverters`}: ${amount(cable.continuous_A)} A, ${amount(cable.needed_A)} A with 125 %`,
  );
  for (const sentence of conductorSentences(cable)) say(sentence, 2);
  for (const strings of context.strings) {
    heading(plain(stringsTitle(strings)));
    for (const sentence of stringSentences(strings)) say(sentence, 2);
  }
  if (context.unknownPanels.length > 0) {
    heading(`Strings of ${plain(context.unknownPanels.join(', '))}`);
    say(NO_PANEL_DATA, 2);
  }
  if (context.money !== null) {
    const { bill, capital, currency, unpriced, per_usable_kWh, per_output_kW } = context.money;
    heading(`Bill of materials, ${plain(currency)}`);
    lines.push(...billLines(bill, capital, WIDTH - 2).map((line) => `  ${line}`));
    if (capital === null) say(notPriced(unpriced), 2);
    else
      say(
        `${price(per_usable_kWh)} per kWh of usable bank, ${price(per_output_kW)} per kW of continuous AC output`,
        2,
      );
  }
  heading('Cautions');
  for (const caution of context.cautions) {
    const [first = '', ...rest] = wrapped(plain(caution), WIDTH - 4);
    lines.push(`  - ${first}`, ...rest.map((line) => `    ${line}`));
  }
  return `${lines.join('\n')}\n`;
}

/** To compare with a data sheet. */
const efficiencies = ({ inverter_efficiency: { european_share, cec_share } }: StaticLimits): string =>
  `${fixed(100 * european_share, 1)} % European, ${fixed(100 * cec_share, 1)} % CEC, standing loss included: weighted over ` +
  'the loads of grid inverters, to compare with a data sheet. These loads are served at what the curve says.';

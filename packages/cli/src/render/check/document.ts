import type { Report } from '@longnight/core';
import { type Document, present, type Section, textsOf } from '../document/document.ts';
import { amount, counted, days, fixed, kW, kWh, price } from '../document/figures.ts';
import { billTable, type Money, notPriced } from '../report/bill.ts';
import { conductorSentences, surgeSentences } from '../report/conductor.ts';
import { dangersSection } from '../report/dangers.ts';
import { limitWords } from '../report/limit-words.ts';
import { peakSentences } from '../report/peak.ts';
import { staticFigures } from '../report/static-figures.ts';
import { NO_PANEL_DATA, stringSentences, stringsTitle } from '../report/strings.ts';

interface CheckShown {
  readonly report: Report;
  readonly scenarioName: string;
  /** Other files that the scenario names and that were read too. */
  readonly filesRead: number;
  /** Null if the scenario has no `money` section. */
  readonly money: Money | null;
  /** Arrays without data of their panels. */
  readonly unknownPanels: readonly string[];
}

/** What `longnight check` says: what a plant can do before an hour is played. */
export function checkDocument({
  report,
  scenarioName,
  filesRead,
  money,
  unknownPanels,
}: CheckShown): Document {
  const { limits, load, surge, strings, dangers, run } = report;
  const files = filesRead === 0 ? '' : ` and ${counted(filesRead, 'file')} it names`;
  const nominal = load.mean_kWh_day > 0 ? limits.usable_kWh / load.mean_kWh_day : null;
  const cable = limits.bank_conductor;
  return {
    title: report.site.name,
    dangers: dangersSection(dangers),
    about: [`${scenarioName}${files}: ${dangers.length === 0 ? 'no error found' : 'read without error'}.`],
    sections: present([
      said('bank', 'Bank', [`${kWh(limits.usable_kWh)} usable of ${kWh(limits.capacity_kWh)}`]),
      said('loads', 'Loads', [
        `${kWh(load.mean_kWh_day)} on a mean day, ${kW(load.peak_kW)} in the highest step of ${run.step_min} min; ` +
          `the usable bank is ${days(nominal)} of it`,
      ]),
      ...limitSections(report),
      said('efficiency', 'Inverter efficiency', [efficiencies(report)]),
      said('peak', 'Peak load against AC output', peakSentences(report)),
      said('surge', 'All at once, and the worst start', surgeSentences(surge)),
      said(
        'cable',
        `Cable between bank and ${cable.units === 1 ? 'inverter' : `each of ${cable.units} inverters`}: ` +
          `${amount(cable.continuous_A)} A, ${amount(cable.needed_A)} A with 125 %`,
        conductorSentences(cable),
      ),
      ...strings.map((check, k) => said(`strings-${k}`, stringsTitle(check), stringSentences(check))),
      unknownPanels.length > 0 && said('panels', `Strings of ${unknownPanels.join(', ')}`, [NO_PANEL_DATA]),
      money && billSection(money),
      { id: 'cautions', title: 'Cautions', blocks: [{ kind: 'list', items: report.cautions }] },
    ]),
    foot: '',
  };
}

const said = (id: string, title: string, sentences: readonly string[]): Section => ({
  id,
  title,
  blocks: textsOf(sentences),
});

const limitSections = ({ limits }: Report): Section[] =>
  staticFigures(limits).map(({ title, figure, none }, k) => {
    const { figure_kW, after_inverter_loss_kW } = limits.ac_output;
    const loses = figure === limits.ac_output && after_inverter_loss_kW < figure_kW!;
    return said(`limit-${k}`, `${title}: ${figure.figure_kW === null ? none : kW(figure.figure_kW)}`, [
      ...figure.limits.map(
        (limit, n) => `${n === 0 ? 'set by' : 'then'} ${limitWords(limit)}: ${kW(limit.limit_kW)}`,
      ),
      ...(loses ? [`leaves ${kW(after_inverter_loss_kW)} for AC loads after the inverter's own losses`] : []),
    ]);
  });

/** To compare with a data sheet. */
const efficiencies = ({ limits: { inverter_efficiency: of } }: Report): string =>
  `${fixed(100 * of.european_share, 1)} % European, ${fixed(100 * of.cec_share, 1)} % CEC, idle draw included: weighted over ` +
  'the loads of grid inverters, to compare with a data sheet. These loads are served at what the curve says.';

function billSection({ bill, capital, currency, unpriced, per_usable_kWh, per_output_kW }: Money): Section {
  const sum =
    capital === null
      ? notPriced(unpriced)
      : `${price(per_usable_kWh)} per kWh of usable bank, ${price(per_output_kW)} per kW of continuous AC output`;
  const [id, name] = ['bill', 'Bill of materials'];
  const blocks = [billTable(name, currency, bill, capital), ...textsOf([sum])];
  return { id, title: `${name}, ${currency}`, blocks };
}

import type { Ledger, MonthRow, Report } from '@longnight/core';
import { dayOf } from '@longnight/core/findings';
import { FILES, type Section } from '../document/document.ts';
import { clockTime, counted, hours, kWh, MONTHS, socPercent } from '../document/figures.ts';
import { listed } from '../document/words.ts';
import { monthStacks, monthTable } from '../drawing/months.ts';
import { drawing } from '../drawing/page-svg.ts';
import { yearGrid } from '../drawing/year-grid.ts';
import { yearMap, yearMapWords } from '../drawing/year-map.ts';
import { daysTable } from '../week/days.ts';

/** The sections that look at the whole year: at a glance, and month by month. */

export function yearSection(report: Report, ledger: Ledger): Section {
  const grid = yearGrid(ledger);
  const days = Array.from({ length: ledger.year.clock.days }, (_, day) => dayOf(ledger, day));
  const map = {
    id: 'map',
    title: `State of charge in every hour of ${report.run.year}`,
    description: `${yearMapWords(grid)} ${glance(report)}`,
    caption: `A cell is an hour of a day, shaded by the lowest state of charge in it: the paler, the emptier.${grid.soc.some(Number.isNaN) ? ' The gap is an hour that the clock skips.' : ''}`,
  };
  return {
    id: 'year',
    title: 'The year at a glance',
    on: ['page'],
    sentence: glance(report),
    blocks: [
      drawing(map, (room) => yearMap(grid, room)),
      {
        ...daysTable(days, { start: days[0]!.date, generator: report.generator !== null }),
        caption: `The ${counted(days.length, 'day')} as figures`,
        folded: true,
      },
    ],
  };
}

function glance({ unmet, bank }: Report): string {
  const low = `${socPercent(bank.lowest_soc)} %, at ${clockTime(bank.lowest_soc_time)}`;
  if (unmet.hours === 0) return `No hour of the year goes unmet; the bank is lowest with ${low}.`;
  const dark = unmet.by_month_kWh.flatMap((energy, m) => (energy > 0 ? [MONTHS[m]!] : []));
  const outages = counted(unmet.outages.length, 'outage');
  return (
    `Load goes unmet in ${outages}, ${hours(unmet.hours)} in all, in ${dark.length === 12 ? 'every month' : listed(dark)}; ` +
    `the bank first reaches its lowest, ${low}, and stands at its floor for ${hours(bank.hours_at_floor)}.`
  );
}

export function monthsSection(report: Report): Section {
  const said = (row: MonthRow): string =>
    `${MONTHS[row.month - 1]}: ${kWh(row.wanted_kWh)} wanted, ${kWh(row.unmet_kWh)} unmet, ${kWh(row.sun_used_kWh)} sun used, ${kWh(row.curtailed_kWh)} curtailed` +
    `${report.generator === null ? '' : `, ${kWh(row.generator_kWh)} from the generator`}.`;
  const chart = {
    id: 'stacks',
    title: `What is wanted and what comes in, month by month, ${report.run.year}`,
    description: report.by_month.map(said).join(' '),
    caption: `Of what comes in over the year ${kWh(report.losses.total_kWh)} are lost on the way to the loads; what a month does not serve or lose, the bank keeps for the next.`,
  };
  return {
    id: 'months',
    title: 'Month by month',
    on: FILES,
    sentence: monthsWords(report),
    blocks: [drawing(chart, (room) => monthStacks(report, room)), monthTable(report)],
  };
}

function monthsWords({ by_month, load, array, generator, unmet }: Report): string {
  const offered = array.available_by_month_kWh;
  const short = by_month
    .filter((_, m) => offered[m]! < load.wanted_by_month_kWh[m]!)
    .map(({ month }) => MONTHS[month - 1]!);
  const less = 'The array offers less than the loads want in';
  const more = 'The array offers more than the loads want in';
  const sun = (): string => {
    if (load.wanted_kWh === 0) return 'No load is wanted in any month';
    if (short.length === 0) return `${more} every month`;
    if (short.length === 12) return `${less} every month`;
    return short.length > 6
      ? `${more} ${listed(MONTHS.filter((name) => !short.includes(name)))} only`
      : `${less} ${listed(short)} and more in every other month`;
  };
  const most = (values: readonly number[]): number => values.indexOf(Math.max(...values));
  const dark = most(unmet.by_month_kWh);
  const worst =
    unmet.energy_kWh > 0
      ? `most goes unmet in ${MONTHS[dark]} (${kWh(unmet.by_month_kWh[dark]!)})`
      : 'nothing goes unmet';
  const made = by_month.map((row) => row.generator_kWh);
  const engine =
    generator === null
      ? ''
      : generator.energy_kWh === 0
        ? '; the generator never runs'
        : `; the generator gives most in ${MONTHS[most(made)]} (${kWh(made[most(made)]!)})`;
  return `${sun()}; ${worst}${engine}.`;
}

import * as z from 'zod';
import { assumed, between, byMonth, key, kind, optional, positive } from './key.ts';
import { life_years, name, price } from './terms.ts';
import { columnIn, csv } from './weather.ts';

const MOST = 'Most that its controller lets through';

const source = {
  name,
  price: price(),
  life_years: life_years(),
  bus: optional(
    z.enum(['dc', 'ac']),
  )`On the DC side, as trackers are (dc), or behind the inverter (ac), which it
    follows: with the inverter down and neither generator nor socket there it gives nothing | dc`,
  efficiency_share: assumed(
    between(0.3, 1),
    1,
  )`Share of its power that reaches the plant through its rectifier
    and controller | its power is measured where it reaches the plant`,
  diversion_W: optional(positive(1e6))`What its diversion load takes, at its own terminals; held against its
    highest power by check, not played | no diversion load is told, and the cautions ask for one`,
};

const constantSource = z.strictObject({
  kind: kind('constant')`The same power at all hours, or twelve by month`,
  ...source,
  power_W: key(
    byMonth(between(0, 1e6)),
  )`Power that it offers day and night; twelve numbers are months, January
    first`,
  max_power_W: optional(positive(1e6))`${MOST} | all of it`,
});

export const seriesSource = z.strictObject({
  kind: kind('series')`Measured or worked out elsewhere: rows of a CSV file`,
  ...source,
  ...csv,
  power: key(columnIn(['W', 'kW', 'Wh', 'kWh'], 'Of power, or of energy of the row'))`Column of the power that
    it offers, or of energy of the row`,
  max_power_W: key(positive(1e6))`${MOST}`,
});

export const otherSource = z.discriminatedUnion('kind', [constantSource, seriesSource]);

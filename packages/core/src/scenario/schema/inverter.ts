import * as z from 'zod';
import {
  amps,
  between,
  key,
  kind,
  leftOut,
  list,
  ofRunHours,
  optional,
  positive,
  rating_kW,
  share,
  volts,
  whole,
} from './key.ts';
import { CHARGE_CURRENT, life_years, part, price } from './terms.ts';

const efficiencyPoint = z.strictObject({
  load_share: key(positive(1))`Output, share of the rating`,
  efficiency_share: key(between(0.1, 1))`Output over input`,
});
const efficiency = z.union([
  z.strictObject({
    points: key(
      list(efficiencyPoint, 1, 50),
    )`Measured points with the idle draw included, load ascending; this, or the two losses`,
  }),
  z.strictObject({
    loss_linear: key(share())`Loss in proportion to the output, share of the rating; with loss_quadratic in
      place of points`,
    loss_quadratic: key(share())`Loss in proportion to the square of the output, share of the rating`,
  }),
]);

const surroundings = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: kind('indoors')`In a room`,
    temperature_C: key(between(-60, 80))`Of the room`,
  }),
  z.strictObject({
    kind: kind('outdoors')`As warm as the air and more`,
    above_air_K: leftOut(between(0, 40), 0)`How much warmer than the air | in the shade, as warm as the air`,
  }),
]);
const deratingPoint = z.strictObject({
  temperature_C: key(between(-60, 100))`Temperature about the inverter`,
  share: key(share())`Share of the rating that is left`,
});
const derating = z.strictObject({
  temperature: key(surroundings)`Where the inverter stands`,
  points: key(list(deratingPoint, 1, 50))`Share of the rating that is left at a temperature, coldest first;
    straight between the points`,
});

const sleep = z.strictObject({
  below_W: key(positive(10_000))`It sleeps while all that may be on in a step draws less; what draws less then
    gets nothing`,
  search_W: key(between(0, 10_000))`Mean draw of a sleeping unit that looks for a load with short pulses; not
    above idle_W`,
});

const cutOff = z.strictObject({
  cut_off_soc: key(share())`State of charge at which it cuts off: it takes nothing more from the bank, sun or
    engine, draws nothing itself, and stays off; not below the bank's floor, down to which loads on the DC side
    go on`,
  reconnect_soc: key(share())`State of charge at which it comes back, above cut_off_soc`,
});

export const inverter = z.strictObject({
  part,
  price: price('one unit'),
  life_years: life_years(),
  units: leftOut(whole(1, 24), 1)`Units stacked on one bank; rating, surge, idle draw, price and what is built
    in are of one | one inverter`,
  legs: leftOut(whole(1, 3), 1)`One phase, two of a split phase, or three; the units are spread over them, and
    each leg gives its share of the rating | one phase: all loads are on the same leg`,
  output_voltage_V: optional(volts())`From leg to neutral | a load that says its voltage asks for it`,
  rating_kW: key(rating_kW())`Continuous AC power`,
  surge_kW: key(rating_kW())`AC power for moments`,
  idle_W: key(between(0, 10_000))`Drawn from the bank all the time it is on`,
  efficiency: key(efficiency)`Measured points, or a loss curve`,
  max_total_charge_A: optional(positive(10_000))`All-in-one: most that trackers and charger of one unit put
    into the bank together, at the bank's nominal voltage`,
  max_total_tracker_kW: optional(positive(10_000))`All-in-one: most that all trackers of one unit take from
    their arrays together`,
  max_total_tracker_A: optional(positive(10_000))`All-in-one: most that all trackers of one unit put out
    together, at the bank's nominal voltage`,
  sleep: optional(sleep)`What it does while little is on | it never sleeps`,
  cut_off: optional(cutOff)`Where it cuts off to spare the bank, and comes back; by voltage in the device, by
    state of charge here | it gives what the bank gives, down to its floor, and whatever the sun gives there`,
  derating: optional(derating)`What heat takes of its rating | nothing`,
});

const circuit = z.strictObject({
  voltage_V: key(volts())`Voltage of the circuit`,
  max_input_W: key(positive(1e6))`Most that it draws at this voltage or more`,
});
export const charger = z.strictObject({
  part,
  price: price(),
  life_years: life_years(),
  max_charge_A: key(amps())`${CHARGE_CURRENT}`,
  efficiency_share: ofRunHours(
    between(0.3, 1),
    0.92,
  )`Output over input | AC to DC; common practice, no source`,
  input_at_voltage: optional(
    list(circuit, 1, 20),
  )`Most that it draws on a circuit of a voltage, lowest first; the voltage of socket or generator picks | its
    amps alone limit it`,
  built_in: optional(z.boolean())`Part of an all-in-one inverter, under its limits; each unit has one, and
    these figures are of one | one stands in a case of its own`,
});

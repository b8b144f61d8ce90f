import * as z from 'zod';
import { assumed, CHARGE_CURRENT, key, kind, life_years, optional, part, positive, price } from './terms.ts';

const efficiency = z.union([
  z.strictObject({
    points: key(
      z
        .array(
          z.strictObject({
            load_share: key(z.number().positive().max(1), 'Output, share of the rating'),
            efficiency_share: key(z.number().min(0.1).max(1), 'Output over input'),
          }),
        )
        .min(1),
      'Measured points with the idle draw included, load ascending; this, or the two losses',
    ),
  }),
  z.strictObject({
    loss_linear: key(
      z.number().min(0).max(1),
      'Loss in proportion to the output, share of the rating; with loss_quadratic in place of points',
    ),
    loss_quadratic: key(
      z.number().min(0).max(1),
      'Loss in proportion to the square of the output, share of the rating',
    ),
  }),
]);

const derating = z.strictObject({
  temperature: key(
    z.discriminatedUnion('kind', [
      z.strictObject({
        kind: kind('indoors', 'In a room'),
        temperature_C: key(z.number().min(-60).max(80), 'Of the room'),
      }),
      z.strictObject({
        kind: kind('outdoors', 'As warm as the air and more'),
        above_air_K: assumed(
          z.number().min(0).max(40),
          'How much warmer than the air',
          0,
          'in the shade, as warm as the air',
        ),
      }),
    ]),
    'Where the inverter stands',
  ),
  points: key(
    z
      .array(
        z.strictObject({
          temperature_C: key(z.number().min(-60).max(100), 'Temperature about the inverter'),
          share: key(z.number().min(0).max(1), 'Share of the rating that is left'),
        }),
      )
      .min(1),
    'Share of the rating that is left at a temperature, coldest first; straight between the points',
  ),
});

export const inverter = z.strictObject({
  part,
  price: price('one unit'),
  life_years: life_years(),
  units: assumed(
    z.int().min(1).max(24),
    'Units stacked on one bank; rating, surge, idle draw, price and what is built in are of one',
    1,
    'one inverter',
  ),
  legs: assumed(
    z.int().min(1).max(3),
    'One phase, two of a split phase, or three; the units are spread over them, and each leg gives its share of the rating',
    1,
    'one phase: all loads are on the same leg',
  ),
  output_voltage_V: optional(
    positive().max(1000),
    'From leg to neutral',
    'a load that says its voltage asks for it',
  ),
  rating_kW: key(positive(), 'Continuous AC power'),
  surge_kW: key(positive(), 'AC power for moments'),
  standing_W: key(z.number().min(0).max(10_000), 'Drawn from the bank all the time it is on'),
  efficiency: key(efficiency, 'Measured points, or a loss curve'),
  max_total_charge_A: optional(
    positive().max(10_000),
    "All-in-one: most that trackers and charger of one unit put into the bank together, at the bank's nominal voltage",
  ),
  max_total_tracker_kW: optional(
    positive().max(10_000),
    'All-in-one: most that all trackers of one unit take from their arrays together',
  ),
  max_total_tracker_A: optional(
    positive().max(10_000),
    "All-in-one: most that all trackers of one unit put out together, at the bank's nominal voltage",
  ),
  sleep: optional(
    z.strictObject({
      below_W: key(
        positive().max(10_000),
        'It sleeps while all that may be on in a step draws less; what draws less then gets nothing',
      ),
      search_W: key(
        z.number().min(0).max(10_000),
        'Mean draw of a sleeping unit that looks for a load with short pulses; not above standing_W',
      ),
    }),
    'What it does while little is on',
    'it never sleeps',
  ),
  derating: optional(derating, 'What heat takes of its rating', 'nothing'),
});

export const charger = optional(
  z.strictObject({
    part,
    price: price(),
    life_years: life_years(),
    max_charge_A: key(positive(), CHARGE_CURRENT),
    efficiency_share: assumed(
      z.number().min(0.3).max(1),
      'Output over input',
      0.92,
      'AC to DC; common practice, no source',
    ),
    input_at_voltage: optional(
      z
        .array(
          z.strictObject({
            voltage_V: key(positive().max(1000), 'Voltage of the circuit'),
            max_input_W: key(positive().max(1e6), 'Most that it draws at this voltage or more'),
          }),
        )
        .min(1),
      'Most that it draws on a circuit of a voltage, lowest first; the voltage of socket or generator picks',
      'its amps alone limit it',
    ),
    built_in: optional(
      z.boolean(),
      'Part of an all-in-one inverter, under its limits; each unit has one, and these figures are of one',
      'one stands in a case of its own',
    ),
  }),
  'AC charger, from generator or shore power into the bank',
  'a generator carries loads and can not reach the bank',
);

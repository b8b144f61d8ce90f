import { expectArgument } from '../../basis/arguments.ts';
import type { Plant } from '../../plant/plant.ts';

/** What a bank asks for by what it is made of. */
const OF_CHEMISTRY: Readonly<Record<Plant['bank']['chemistry'], readonly string[]>> = {
  lead_acid: [
    'Lead-acid batteries give off hydrogen when charged: ventilate where they stand, and keep flames and sparks away. They hold sulphuric acid: wear goggles and gloves, keep water at hand, and a tray under them.',
    'A discharged lead-acid battery can freeze, crack and leak where a full one does not: keep it charged in the cold. Set charge voltages by its temperature, as its maker says.',
  ],
  lfp: [
    'Do not charge lithium modules below the temperature their maker allows, whatever this model assumed: charging below freezing plates lithium in the cells and can short them.',
    'The electronics of lithium modules (BMS) may disconnect the bank at any moment: empty, full, cold, hot or at too many amps. Tracker, charger or engine lose their load then, and the voltage may jump: use only what stands that, or is told in time, and do not rely on the disconnect as the only protection.',
  ],
};

/** The usual cautions, for the parts that the plant has. Figures of a report may lead someone to wire something. */
export function cautions(plant: Plant): readonly string[] {
  expectArgument('cautions', 'plant', plant, 'plant');
  const list = [
    'These figures are a model of one year. They choose no cable, fuse or breaker: local codes and a licensed electrician decide those.',
    'Batteries hold fault currents of thousands of amps, and they cannot be switched off. Fuse at the bank, insulate tools, check polarity before connecting.',
    'Before the first start: breakers open, polarity measured at each terminal, lugs at their torque. A bank put straight onto an inverter charges its capacitors with a spark that can weld contacts: pre-charge them through a resistor, or as the maker says. Then bank, inverter, array, loads, in the order that their makers give.',
    ...OF_CHEMISTRY[plant.bank.chemistry],
    'DC arcs do not go out by themselves as AC arcs may. Use DC-rated switches and breakers; panels are live in daylight.',
  ];
  if (plant.arrays.length > 0) {
    list.push(
      'Panels in series give a DC voltage that kills, in any daylight and with every switch open. Who opens or closes a string needs the training and the tools; the highest voltage that a building may have is a matter of local code.',
    );
  }
  if (plant.arrays.some(({ ac }) => ac === true)) {
    list.push(
      'An array on the AC side must be held back when the bank is full, or it drives voltage and frequency up and overcharges the bank. Use only inverters whose makers allow them together, in the sizes they allow, and try it with a full bank.',
    );
  }
  if (plant.others.length > 0) {
    list.unshift(
      'A stream or wind turbine that nobody loads runs away and raises its voltage until something breaks: with the bank full, the controller down or a wire off, a diversion load or a brake must take all its power, at all times and without the plant. A diversion load gets hot: mount and fuse it for that.',
    );
  }
  const { generator, shore, arrays, inverter, alternator_kW } = plant;
  if (generator !== null || shore !== null || arrays.some(({ ac }) => ac === true)) {
    list.push(
      'Two sources may meet on the same wires only in what is made for it: a transfer switch, or an inverter that takes the other in. Fed any other way they destroy each other, and wires that are switched off stay live.',
    );
  }
  if (generator !== null || shore !== null || alternator_kW > 0 || inverter.legs > 1) {
    list.push(
      'Earthing, the bond between neutral and earth, and residual-current protection belong together, and differ between inverter, generator and socket, in a vehicle and with split phase: with no bond, or two at once, a protective device may not trip on a fault, or trips without one, and metal cases can be live. Local code and a licensed electrician decide where the one bond is and what switches it.',
    );
  }
  if (generator !== null) {
    list.push(
      'Engine exhaust holds carbon monoxide: run generators outdoors, away from doors and windows, with a CO alarm indoors; let them cool before refuelling.',
    );
  }
  list.push(
    'Where health depends on supply (medical devices, heat in winter), keep a second, independent source: no model replaces it.',
  );
  return list;
}

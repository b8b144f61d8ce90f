import type { Plant } from '../plant/plant.ts';

/** The usual cautions, for the parts that the plant has. Figures of a report may lead someone to wire something. */
export function cautions(plant: Plant): readonly string[] {
  const list = [
    'These figures are a model of one year. They choose no cable, fuse or breaker: local codes and a licensed electrician decide those.',
    'Batteries hold fault currents of thousands of amps, and they cannot be switched off. Fuse at the bank, insulate tools, check polarity before connecting.',
    'Before the first start: breakers open, polarity measured at each terminal, lugs at their torque. A bank put straight onto an inverter charges its capacitors with a spark that can weld contacts: pre-charge them through a resistor, or as the maker says. Then bank, inverter, array, loads, in the order that their makers give.',
    'Lead-acid batteries give off hydrogen when charged: ventilate where they stand, and keep flames and sparks away.',
    'DC arcs do not go out by themselves as AC arcs may. Use DC-rated switches and breakers; panels are live in daylight.',
    'Do not charge lithium modules below the temperature their maker allows, whatever this model assumed.',
  ];
  if (plant.arrays.some(({ string }) => string !== null)) {
    list.push(
      'Panels in series give a DC voltage that kills, in any daylight and with every switch open. Who opens or closes a string needs the training and the tools; the highest voltage that a building may have is a matter of local code.',
    );
  }
  if (plant.arrays.some(({ ac }) => ac === true)) {
    list.push(
      'An array on the AC side must be held back when the bank is full, or it drives voltage and frequency up and overcharges the bank. Use only inverters whose makers allow them together, in the sizes they allow, and try it with a full bank.',
    );
  }
  const { generator, shore, arrays } = plant;
  if (generator !== null || shore !== null || arrays.some(({ ac }) => ac === true)) {
    list.push(
      'Two sources may meet on the same wires only in what is made for it: a transfer switch, or an inverter that takes the other in. Fed any other way they destroy each other, and wires that are switched off stay live.',
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

import type { Plant } from '../plant/plant.ts';

/** The usual cautions, for the parts that the plant has. Figures of a report may lead someone to wire something. */
export function cautions(plant: Plant): readonly string[] {
  const list = [
    'These figures are a model of one year. They choose no cable, fuse or breaker: local codes and a licensed electrician decide those.',
    'Batteries hold fault currents of thousands of amps, and they cannot be switched off. Fuse at the bank, insulate tools, check polarity before connecting.',
    'DC arcs do not go out by themselves as AC arcs may. Use DC-rated switches and breakers; panels are live in daylight.',
    'Do not charge lithium modules below the temperature their maker allows, whatever this model assumed.',
  ];
  if (plant.generator !== null) {
    list.push(
      'Engine exhaust holds carbon monoxide: run generators outdoors, away from doors and windows, with a CO alarm indoors; let them cool before refuelling.',
    );
  }
  list.push(
    'Where health depends on supply (medical devices, heat in winter), keep a second, independent source: no model replaces it.',
  );
  return list;
}

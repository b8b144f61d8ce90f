/**
 * What a plant remembers at a local midnight: all that decides its next hours beside sun and loads. What it counts
 * within a day (hours that a generator ran today, surplus that a load may still take) begins anew then.
 */
export interface PlantState {
  /** In the bank. */ readonly stock_kWh: number;
  /** Ready at the terminals of a kinetic bank; 0 for others, which remember their stock alone. */
  readonly available_kWh: number;
  /** True while it runs. */ readonly generator_on: boolean;
  /** Hours since the generator started, counted as far as its shortest run and its warm-up ask; 0 while it stands. */
  readonly ran_h: number;
  /** In the tank; 0 without one. */ readonly fuel_L: number;
  /** Bit k is set while the tier in place k is shed. */ readonly shed: number;
  /** True while the inverter has cut off. */ readonly inverter_off: boolean;
  /** True while the socket carries loads when it is there. */ readonly shore_on: boolean;
  /** What each flexible load still asks for in its window. */ readonly flexible_kWh: readonly number[];
}

/** How the played year began. */
export interface Begun {
  /**
   * `closed`: with the state it ends with. `not_closed`: that was sought, and after many years in a row each still
   * ended otherwise than it began. `given`: with the state of charge or the state that was handed to it.
   */
  readonly kind: 'closed' | 'not_closed' | 'given';
  /** Years played in a row until the year closed, the kept one among them. */
  readonly rounds: number;
}

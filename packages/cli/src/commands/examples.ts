import type { Command } from 'commander';

/**
 * An example of each command, as one would type it where this project lies. A test runs every one of them.
 */
const EXAMPLES: Readonly<Record<string, string>> = {
  init: 'longnight init my-plant.yaml',
  check: 'longnight check data/demo/holds.yaml',
  run: 'longnight run data/demo/holds.yaml --out my-report --xlsx',
  week: 'longnight week data/demo/short-of-bank.yaml --days 5 --soc 0.8',
  compare: 'longnight compare data/demo/short-of-bank.yaml data/demo/holds.yaml',
  size:
    "longnight size data/demo/parts-sun-alone.yaml --require 'unmet.share<=0.001' \\\n" +
    "      --vary 'bank.modules_parallel=8:12:2'",
  sweep: "longnight sweep data/demo/holds.yaml --vary 'inverter.rating_kW=4,5,6'",
  gather: [1, 2]
    .map(
      (part) =>
        "longnight sweep data/demo/holds.yaml --vary 'inverter.rating_kW=4,5,6' \\\n" +
        `      --part ${part}/2 --out my-parts\n  `,
    )
    .join('')
    .concat('longnight gather my-parts --out my-sweep'),
  weather: 'longnight weather data/demo/holds.yaml',
  parts: 'longnight parts data/parts/modules.yaml',
  schema: 'longnight schema scenario',
  improve: 'longnight improve data/demo/short-of-bank.yaml',
  sway: "longnight sway data/demo/holds.yaml --move 'load=0.9:1.3'",
  explain: 'longnight explain unmet.share',
  completion: 'longnight completion bash',
};

/** Puts its example under the help of every command that has one. */
export function addExamples(program: Command): void {
  for (const command of program.commands) {
    const example = EXAMPLES[command.name()];
    if (example !== undefined) command.addHelpText('after', `\nExample:\n  ${example}`);
  }
}

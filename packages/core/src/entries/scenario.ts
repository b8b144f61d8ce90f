/** The scenario as a schema: its sections as types, its keys as data, JSON Schema of parts, and the error for one thing that is wrong. */

export { refusal, refused } from '../basis/errors.ts';
export { partsJsonSchema } from '../scenario/json-schema.ts';
export { type Key, type KeyRule, partsKeys, scenarioKeys } from '../scenario/keys.ts';
export { PART_KINDS, type PartKind } from '../scenario/parts/file.ts';
export * from '../scenario/schema/schema.ts';

import * as z from 'zod';
import { optional, text } from './key.ts';

export const project = z.strictObject({
  title: optional(
    text(),
  )`What the plant or the job is called; it stands over the report | the name of the site`,
  client: optional(text())`For whom the report is made`,
  author: optional(text())`Who answers for it`,
  reference: optional(text())`Number or sign of the job`,
  revision: optional(text())`Which issue of the report it is`,
});

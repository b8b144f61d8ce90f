import type { Report } from '@longnight/core';
import { counted } from '../document/figures.ts';

/** When the generator wants service, if one was done just before the year; nothing where no interval is stated. */
export function serviceSentence({
  services_due,
  first_service,
}: Pick<NonNullable<Report['generator']>, 'services_due' | 'first_service'>): string {
  if (services_due === null) return '';
  if (first_service === null) return ' No service falls due.';
  return services_due === 1
    ? ` A service falls due on ${first_service}.`
    : ` ${counted(services_due, 'service')} fall due, the first on ${first_service}.`;
}

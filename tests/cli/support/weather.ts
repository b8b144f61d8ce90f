/**
 * A year of hourly weather as CSV rows, 2025 in UTC as seen in Europe/Berlin at 50° N, 10° E: sun after the common
 * approximation of the declination, dimmed enough to stay below what reaches the ground, warm days and cold nights.
 * Only its form matters: tests take rows out of it or break them.
 */
export function weatherRows(): string[] {
  const first_ms = Date.UTC(2024, 11, 31, 23);
  const rows: string[] = [];
  for (let hour = 0; hour < 8760; hour++) {
    const at = new Date(first_ms + hour * 3_600_000);
    const season = Math.cos((2 * Math.PI * (hour / 24 + 10)) / 365);
    const declination = -0.409 * season;
    const hourAngle = ((at.getUTCHours() + 0.5 + 10 / 15 - 12) / 12) * Math.PI;
    const height =
      Math.sin(0.873) * Math.sin(declination) + Math.cos(0.873) * Math.cos(declination) * Math.cos(hourAngle);
    const ghi_W_m2 = Math.round(Math.max(0, 700 * (height - 0.1)));
    const air_temperature_C = (9 - 10 * season - 4 * Math.cos(hourAngle + Math.PI)).toFixed(1);
    rows.push(`${at.toISOString().slice(0, 16)}Z,${ghi_W_m2},${air_temperature_C}`);
  }
  return rows;
}

export const weatherCsv = (rows: readonly string[]): string => `time,ghi,t_air\n${rows.join('\n')}\n`;

/** One field of a table as RFC 4180 has it; nothing where nothing is known. */
export const csvField = (value: string | number | boolean | null): string => {
  if (value === null) return '';
  // A spreadsheet takes text that begins like this for a formula.
  const text = typeof value === 'string' ? value.replace(/^(?=[=+\-@\t\r])/, "'") : String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
};

export const hundredths = (value: number): number => Math.round(value * 100) / 100;

/** A person's name, or the process that wrote it. */
export const personIn = (who: string): string => who.replace(/^user:/, '');

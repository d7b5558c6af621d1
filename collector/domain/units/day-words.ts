const weekdays = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'] as const;
const months = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September', 'October', 'November', 'December'] as const;

/** Days in words, the same on every machine. */
export const weekdayName = ({ dayOfWeek }: Temporal.PlainDate): string => weekdays[dayOfWeek - 1] ?? '';

/** `3 December` */
export const dayMonthName = ({ day, month }: Temporal.PlainDate): string => `${day} ${months[month - 1] ?? ''}`;

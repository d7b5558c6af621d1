/** Who signs in to the demo; shown on its sign-in page and in the terminal, because it guards nothing. */
export const demoUser = { name: 'owner', password: 'olives' } as const;

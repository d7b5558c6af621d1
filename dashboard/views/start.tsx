export const StartView = () => <main>start</main>;
